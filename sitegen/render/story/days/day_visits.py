"""The visits of a run as its day axis tells them: one ready sentence a day, with the totals so far.

In: the visits of the record, and facts. Out: `DayVisit`s in the order of days. A visit is told in a few words: what went
wrong, what was picked, which stage was reached, what was done; readings only where there is nothing else. The record
holds the whole of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TypeVar

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.rows import Addition, Deed
from sitegen.core.site.addresses import day_anchor
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.render.story.days.entry_sentences import EntryWording
from sitegen.render.story.days.timeline import EntryView

_T = TypeVar("_T")

LENGTH = 130  # letters that a phone shows in four lines; measured at 360 px
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")


@dataclass(frozen=True, slots=True)
class DayVisit:
    """All entries of one day: `when` has its date, or the words of an uncertain day.

    `kind` is the mark of what happened, empty for an everyday visit; `first` the words that count most.
    """

    day: Day
    anchor: str
    date: str
    when: str
    kind: str
    deed: tuple[str, ...]
    so_far: str

    @property
    def number(self) -> int:
        """The day on which it stands."""
        return max(0, self.day.key[0])

    @property
    def words(self) -> str:
        """The day and what counts most of it."""
        return f"{self.when}: {self.deed[0]}" if self.deed else self.when

    @property
    def row(self) -> list[object]:
        """What a script says of the day: its number, date, deed and totals; the words of an uncertain day last."""
        said: list[object] = [self.number, self.date, " ".join(self.deed), self.so_far]
        return said if self.day.exact else [*said, self.when]


@dataclass(frozen=True, slots=True)
class _OfEntries:
    """What the rows of a run hold, by the number of the entry that they stand in: each day asks for its own.

    `news` are the entries in which seedlings or a stage were seen for the first time.
    """

    news: frozenset[int]
    lost: frozenset[int]
    counted: frozenset[int]
    weights: Mapping[int, Sequence[Quantity]]
    water: Mapping[int, Sequence[Quantity]]
    products: Mapping[int, Sequence[str]]

    @classmethod
    def of(cls, facts: Facts) -> _OfEntries:
        """Of the rows of one run."""
        rows = facts.run.rows
        up = [event.entry for event in rows.of(Deed.SPROUTED)]
        stages = {row.name: row.entry for row in reversed(rows.milestones) if row.reached}
        poured_at = {event.source: event.entry for event in rows.of(Deed.WATER, Deed.CHANGE)}
        fed = (event for event in rows.of(Deed.FEED) if isinstance(event, Addition) and event.product)
        return cls(
            news=frozenset([*up[:1], *stages.values()]),
            lost=frozenset(event.entry for event in rows.of(Deed.LOST)),
            counted=frozenset(tally.entry for tally in rows.tallies),
            weights=_grouped((pick.entry, pick.weight) for pick in rows.picks),
            water=_grouped(
                (poured_at[point.source], point.value)
                for point in facts.solution.added
                if point.source in poured_at
            ),
            products=_grouped((event.entry, event.product) for event in fed),
        )


def _grouped(pairs: Iterable[tuple[int, _T]]) -> dict[int, list[_T]]:
    found: dict[int, list[_T]] = {}
    for entry, value in pairs:
        found.setdefault(entry, []).append(value)
    return found


def _each(found: Mapping[int, Sequence[_T]], entries: Iterable[EntryView]) -> list[_T]:
    """What stands in some entries."""
    return [value for entry in entries for value in found.get(entry.entry, ())]


def day_visits(entries: Iterable[EntryView], wording: EntryWording) -> tuple[DayVisit, ...]:
    """The visits of a run, those of one day together."""
    ordered = sorted(entries, key=lambda entry: entry.day)
    rows = _OfEntries.of(wording.facts)
    return tuple(
        _visit(day, tuple(group), wording, rows) for day, group in groupby(ordered, key=lambda each: each.day)
    )


def nearest_visit(visits: Sequence[DayVisit], day: int) -> DayVisit | None:
    """The visit nearest to a day, the earlier of two; None in a run without any."""
    return min(visits, key=lambda visit: (abs(visit.number - day), visit.number), default=None)


def _visit(day: Day, entries: Sequence[EntryView], wording: EntryWording, rows: _OfEntries) -> DayVisit:
    when = entries[0].date
    return DayVisit(
        day=day,
        anchor=day_anchor(day),
        date=wording.values.calendar_day(when) if when and day.exact else "",
        when=opening(wording.say(day)),
        kind=_kind(entries, rows),
        deed=_shortened(list(dict.fromkeys(_deeds(entries, wording, rows)))),
        so_far=so_far(wording.facts, wording.values, day),
    )


def _kind(entries: Sequence[EntryView], rows: _OfEntries) -> str:
    """What counts most of a day; empty for an everyday visit."""
    marks = {line.mark for entry in entries for line in entry.lines}
    if "trouble" in marks or any(entry.entry in rows.lost for entry in entries):
        return "trouble"
    if "harvest" in marks:
        return "harvest"
    return "growth" if any(entry.entry in rows.news for entry in entries) else ""


def _shortened(said: Sequence[str]) -> tuple[str, ...]:
    """As many sentences as have room, and at least one."""
    kept: list[str] = []
    for text in said:
        if not kept or sum(map(len, kept)) + len(text) <= LENGTH:
            kept.append(text)
    return tuple(kept)


def _deeds(entries: Sequence[EntryView], wording: EntryWording, rows: _OfEntries) -> Iterator[str]:
    """The sentences of a day, those first that a viewer would miss most."""
    yield from _marked(entries, "trouble")
    yield from _picked(entries, wording, rows)
    yield from (_sentence(line.text) for entry in entries for line in entry.lines if line.reached)
    yield from (text for entry in entries for text in entry.sentences)
    yield from (_SENTENCE_END.split(note.strip())[0] for entry in entries for note in entry.notes)
    yield from _poured(entries, wording, rows)
    yield from _fed(entries, wording, rows)
    told = {"trouble", "harvest", "water", "feed"}
    yield from (
        _sentence(line.text)
        for entry in entries
        for line in entry.lines
        if line.mark not in told and not line.reached
    )


def _sentence(text: str) -> str:
    said = opening(text)
    return said if said.endswith((".", "!", "?")) else f"{said}."


def _marked(entries: Sequence[EntryView], mark: str) -> Iterator[str]:
    yield from (_sentence(line.text) for entry in entries for line in entry.lines if line.mark == mark)


def _picked(entries: Sequence[EntryView], wording: EntryWording, rows: _OfEntries) -> Iterator[str]:
    """The picks of a day in one amount, and what was counted so far."""
    weights = _each(rows.weights, entries)
    amount = total(weights, Dimension.MASS)
    if weights and _nothing_weighed(amount):
        yield tr("Picked, not weighed.")
    elif weights:
        yield tr("Picked: {amount}.", amount=_brief(amount, wording.values))
    elif any(entry.entry in rows.counted for entry in entries):
        yield from _marked(entries, "harvest")


def _poured(entries: Sequence[EntryView], wording: EntryWording, rows: _OfEntries) -> Iterator[str]:
    """The water of a day, all tubs together."""
    amounts = _each(rows.water, entries)
    if amounts:
        amount = total(amounts, Dimension.VOLUME)
        measured = amount.low > 0 or amount.high is not None
        yield tr("Water: {amount}.", amount=_brief(amount, wording.values)) if measured else tr("Watered.")


def _fed(entries: Sequence[EntryView], wording: EntryWording, rows: _OfEntries) -> Iterator[str]:
    names = dict.fromkeys(wording.product(product) for product in _each(rows.products, entries))
    if names:
        yield tr("Feed: {products}.", products=listed([*names]))


def so_far(facts: Facts, wording: Wording, day: Day) -> str:
    """What was picked and poured by the end of a day; nothing of what the run never recorded."""
    picked = _by(day, [(point.day, point.total) for point in facts.harvest.cumulative])
    poured = _sum_by(day, [(point.day, point.value) for point in facts.solution.added])
    fruit = _fruit(picked, wording) if facts.harvest.total.recorded else ""
    water = _brief(poured, wording) if poured and (poured.low > 0 or poured.high) else ""
    if fruit and water:
        return tr("So far: {picked}, {water} of water.", picked=fruit, water=water)
    if water:
        return tr("So far: {water} of water.", water=water)
    return tr("So far: {picked}.", picked=fruit) if fruit else ""


def _fruit(picked: Quantity | None, wording: Wording) -> str:
    if picked is None:
        return tr("nothing picked")
    if _nothing_weighed(picked):
        return tr("picked, not weighed")
    return tr("{amount} picked", amount=_brief(picked, wording))


def _nothing_weighed(amount: Quantity) -> bool:
    return amount.low == 0 and amount.high is None


def _brief(amount: Quantity, wording: Wording) -> str:
    """An amount with its flags, in the journal's own units alone."""
    return str(replace(wording.in_sentence(amount), also=""))


def _by(day: Day, totals: Sequence[tuple[Day, Quantity]]) -> Quantity | None:
    """The last running total by the end of a day; open above while it is uncertain whether more had come."""
    sure = [amount for when, amount in totals if when.last <= day.last]
    unsure = any(when.key[0] <= day.last < when.last for when, _ in totals)
    if sure:
        return replace(sure[-1], high=None) if unsure else sure[-1]
    return replace(total((), Dimension.MASS), high=None) if unsure else None


def _sum_by(day: Day, amounts: Sequence[tuple[Day, Quantity]]) -> Quantity | None:
    sure = [amount for when, amount in amounts if when.last <= day.last]
    unsure = any(when.key[0] <= day.last < when.last for when, _ in amounts)
    if not amounts:
        return None
    added = total(sure, Dimension.VOLUME)
    return replace(added, high=None) if unsure else added
