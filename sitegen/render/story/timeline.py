"""The timeline: phases, and the visits of each.

In: facts. Out: `PhaseView` with `EntryView`s; an entry has sentences (what was done), marked
lines (what was measured, added, picked) and the author's own notes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from sitegen.core.facts.tree import Visit
from sitegen.core.language.catalogue import tr
from sitegen.core.records.rows import Deed, Photo
from sitegen.core.site.addresses import day_anchor
from sitegen.core.values.day import Day
from sitegen.render.story.entry_lines import Line, lines_of
from sitegen.render.story.entry_sentences import sentences_of
from sitegen.render.story.entry_wording import EntryWording
from sitegen.render.story.sentence import span_words

LONG_PAUSE = 7  # days without an entry that are worth saying; common practice, no source


@dataclass(frozen=True, slots=True)
class EntryView:
    """One visit as a page shows it; `entry` is its number in the log."""

    entry: int
    anchor: str
    day: Day
    days: str
    date: date | None
    sentences: tuple[str, ...]
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    photos: tuple[Photo, ...]
    pause: int


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A phase with its visits."""

    name: str
    kind: str
    words: str
    entries: tuple[EntryView, ...]


def _views(visits: Iterable[Visit], wording: EntryWording) -> list[tuple[str, EntryView]]:
    rows, seen = wording.facts.run.rows, dict[str, int]()
    found: list[tuple[str, EntryView]] = []
    before: Visit | None = None
    for visit in visits:
        entry = visit.entry
        pause = entry.day.first - before.entry.day.last if before else 0
        view = EntryView(
            entry=entry.index,
            anchor=_anchor(entry.day, seen),
            day=entry.day,
            days=wording.values.days(entry.day),
            date=visit.date,
            sentences=sentences_of(entry.index, wording),
            notes=tuple(e.what for e in rows.of(Deed.NOTE) if e.entry == entry.index),
            lines=lines_of(entry.index, wording),
            photos=tuple(photo for photo in rows.photos if photo.entry == entry.index),
            pause=pause - 1 if pause > LONG_PAUSE else 0,
        )
        found.append((visit.phase, view))
        before = visit
    return found


def _anchor(day: Day, seen: dict[str, int]) -> str:
    """The anchor of an entry: `day-26`, and `day-26-2` for the second of that day."""
    anchor = day_anchor(day)
    seen[anchor] = seen.get(anchor, 0) + 1
    return anchor if seen[anchor] == 1 else f"{anchor}-{seen[anchor]}"


def phases_of(wording: EntryWording) -> tuple[PhaseView, ...]:
    """The timeline of an experiment: its phases, each with its visits."""
    return tuple(
        _phase(name, [view for _, view in group])
        for name, group in groupby(_views(wording.facts.timeline.visits, wording), key=lambda pair: pair[0])
    )


def _phase(name: str, entries: Sequence[EntryView]) -> PhaseView:
    first, last = entries[0].day.first, entries[-1].day.last
    said = tr(name) if name else tr("afterwards")
    kind = (name or "afterwards").replace(" ", "-")
    return PhaseView(said, kind, span_words(first, last), tuple(entries))
