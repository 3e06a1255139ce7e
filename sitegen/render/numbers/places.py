"""Where the rows behind a figure stand, for a reader of the page: days of the log that it leads to, or the set-up.

In: the rows of a figure, all rows of its run. Out: HTML: `day 98, day 104 and the set-up`. A day of a spreadsheet leads
to the visit that is nearest.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import chain
from operator import attrgetter

from markupsafe import Markup, escape

from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Rows
from sitegen.core.site.addresses import day_anchor, link
from sitegen.core.values.day import Day
from sitegen.render.story.run_sentences import filled_markup

_FEW = 3  # days that are named one by one; of more the first and the last are

_Line = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Places:
    """The day of every row of a run by its place in the journal; a line may hold several rows."""

    days: Mapping[Source, Day]
    days_of_lines: Mapping[_Line, Day]
    visits: tuple[Day, ...]
    # Links by day and pages: hundreds of figures rest on the same days. The wording is that of the book.
    _links: dict[tuple[Day, str, str], Markup] = field(default_factory=dict, compare=False)

    @classmethod
    def of(cls, rows: Rows) -> Places:
        """The places of all rows; those that a set-up gives have no day."""
        tables = (
            rows.events,
            rows.readings,
            rows.picks,
            rows.tallies,
            rows.milestones,
            rows.routines,
            rows.photos,
        )
        logged = (row for row in rows.lights if row.entry is not None)
        days = {row.source: row.day for row in chain(rows.entries, logged, *tables)}
        lines = {(source.file, source.line): day for source, day in days.items()}
        return cls(days, lines, tuple(sorted({entry.day for entry in rows.entries})))

    def shown(self, found: Iterable[Source], record: str, page: str, wording: Wording) -> Markup:
        """The days that some rows are of, each leading to its visit on `record`; the set-up where others are."""
        at = {self.days.get(row) or self.days_of_lines.get((row.file, row.line)) for row in found}
        days = sorted((day for day in at if day is not None), key=attrgetter("order"))
        links = [
            self._link(day, record, page, wording)
            for day in (days if len(days) <= _FEW else (days[0], days[-1]))
        ]
        if len(days) > _FEW:
            message = tr("{number} days from {first} to {last}")
            links = [filled_markup(message, number=len(days), first=links[0], last=links[1])]
        parts = [*links, escape(tr("the set-up"))] if None in at else links
        return Markup(listed(parts))  # noqa: S704 - every part is escaped

    def _link(self, day: Day, record: str, page: str, wording: Wording) -> Markup:
        key = (day, record, page)
        if key not in self._links:
            self._links[key] = self._made_link(day, record, page, wording)
        return self._links[key]

    def _made_link(self, day: Day, record: str, page: str, wording: Wording) -> Markup:
        words = escape(wording.say(day))
        if not self.visits:
            return words
        target = link(f"{record}#{day_anchor(self._nearest(day))}", page)
        return Markup('<a href="{}">{}</a>').format(target, words)

    def _nearest(self, day: Day) -> Day:
        """The visit nearest to a day, the earlier of two."""
        at = bisect_left(self.visits, day.key[0], key=_first)
        around = self.visits[max(0, at - 1) : at + 1]
        near = min(around, key=lambda visit: abs(_first(visit) - day.key[0]))
        return self.visits[bisect_left(self.visits, _first(near), key=_first)]


def _first(day: Day) -> int:
    return day.key[0]
