"""Days and milestones out of order.

In: the context of a run. Out: findings about entries and rows of spreadsheets before the start, in the future, after
the end or out of order; about milestones out of the order of growth or taken back, and fruit without a flower. A span
of days that may be right is right. Side shoots and bolting have no place in the order.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Ending, Entry, MilestoneRow
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.judge.context import Context, on_day, quoted, the_day


class Dated(NamedTuple):
    """The day of an entry, or of a row of a spreadsheet (`entry` is None)."""

    day: Day
    source: Source
    entry: int | None


def recorded_days(context: Context) -> tuple[Dated, ...]:
    """Every day recorded; a row of a spreadsheet with several readings counts once."""
    rows = context.run.rows
    days = [Dated(entry.day, entry.source, entry.index) for entry in rows.entries]
    sheet_rows: dict[tuple[str, int, Day], Dated] = {}
    for reading in rows.readings:
        if reading.entry is None:
            key = (reading.source.file, reading.source.line, reading.day)
            sheet_rows.setdefault(key, Dated(reading.day, reading.source, None))
    return (*days, *sheet_rows.values())


def last_date(context: Context) -> date | None:
    """The last date that anything is recorded on; None where days have no dates."""
    days = [item.day.first for item in context.once(recorded_days)]
    return context.run.setup.start.date_of(max(days)) if days else None


def before_start(context: Context) -> Iterator[Finding]:
    """Nothing is recorded before day 0."""
    start = context.run.setup.start
    for item in context.once(recorded_days):
        if item.day.last >= 0:
            continue
        when = start.date_of(item.day.last)
        dated, begin = (f" ({when})", f", {start.date}") if when else ("", "")
        message = f"{the_day(item.day)}{dated} is before the start{begin}"
        mend = "check the day, or write an earlier `start`"
        yield Finding("before-start", item.source, message, mend, the_day(item.day), "day 0 or later")


def in_the_future(context: Context) -> Iterator[Finding]:
    """Nothing is recorded on a date after today, where days have dates."""
    for item in context.once(recorded_days):
        when = context.run.setup.start.date_of(item.day.first)
        if when is None or when <= context.today:
            continue
        message = f"{the_day(item.day)} is {when}, which is yet to come"
        mend = "check the day and `start`"
        yield Finding("in-the-future", item.source, message, mend, f"{when}", f"{context.today} or earlier")


def after_the_end(context: Context) -> Iterator[Finding]:
    """Nothing follows an end that cleared the plants; a second end has a finding of its own."""
    end = context.run.ended
    if end is None or end.kept is not False:
        return
    ends = {event.entry for event in context.run.rows.of(Ending)}
    for item in context.once(recorded_days):
        if item.day.first <= end.day.last or item.entry in ends:
            continue
        message = f"the plants were cleared {on_day(end.day)}; nothing can follow {on_day(item.day)}"
        mend = "check the day, or write `plants: kept` in `end`"
        expected = f"{the_day(end.day)} or earlier"
        yield Finding("after-the-end", item.source, message, mend, the_day(item.day), expected)


def after_end_kept(context: Context) -> Iterator[Finding]:
    """An end before later entries says what became of the plants."""
    end = context.run.ended
    if end is None or end.kept is not None:
        return
    ends = {event.entry for event in context.run.rows.of(Ending)}
    follow = (item for item in context.once(recorded_days) if item.day.first > end.day.last)
    later = next((item for item in follow if item.entry not in ends), None)
    if later is None:
        return
    message = (
        f"{the_day(later.day)} follows the end {on_day(end.day)}, which does not say that plants were kept"
    )
    mend = "write `plants: kept` in `end`"
    yield Finding("after-end-kept", end.source, message, mend, expected="plants: kept")


def two_ends(context: Context) -> Iterator[Finding]:
    """A run ends once."""
    ends = context.run.rows.of(Ending)
    for end in ends[1:]:
        message = f"the run ended {on_day(ends[0].day)}; it cannot end again {on_day(end.day)}"
        mend = "remove one of the two ends"
        yield Finding("two-ends", end.source, message, mend, the_day(end.day), "one `end`")


def out_of_order(context: Context) -> Iterator[Finding]:
    """Entries are written in the order of their days; the fewest entries that need to be moved are reported."""
    written = sorted(context.run.rows.entries, key=lambda entry: entry.source)
    kept = longest_in_order([_place(entry) for entry in written])
    for place, entry in enumerate(written):
        if place in kept:
            continue
        above, below = written[:place], written[place + 1 :]
        later = max((e for e in above if _place(e) > entry.day.last), key=_place, default=None)
        earlier = min((e for e in below if e.day.last < _place(entry)), key=_place, default=None)
        other, where, to = (later, "below", "above") if later else (earlier, "above", "below")
        if other is None:
            continue
        message = f"{the_day(entry.day)} is written {where} {the_day(other.day)}"
        mend = f"check the day, or move the entry {to} {the_day(other.day)}"
        yield Finding("out-of-order", entry.source, message, mend, the_day(entry.day))


def _place(entry: Entry) -> int:
    return entry.day.key[0]


def longest_in_order(days: Sequence[int]) -> frozenset[int]:
    """Indices of a longest subsequence of days that never falls; of two equally long, the one written earlier.

    Patience sorting from the end backwards (M. Fredman, Discrete Mathematics 11, 1975, 29-35; from memory).
    """
    tails: list[int] = []
    last_at: list[int] = []
    before: dict[int, int] = {}
    for place in range(len(days) - 1, -1, -1):
        slot = bisect_right(tails, -days[place])
        before[place] = last_at[slot - 1] if slot else -1
        tails[slot : slot + 1] = [-days[place]]
        last_at[slot : slot + 1] = [place]
    kept, place = [], last_at[-1] if last_at else -1
    while place >= 0:
        kept.append(place)
        place = before[place]
    return frozenset(kept)


ANY_TIME = frozenset({"side_shoots", "bolting"})
_FLOWER = "60"  # BBCH principal stage 6: flowering
_FRUIT_OF = {"fruiting": "fruit", "legume": "pod"}


class FirstRow(NamedTuple):
    """The first row that names a plant at a stage; it may have been one of those counted there on day `since`."""

    row: MilestoneRow
    since: int


def _first_rows(context: Context, plant: str) -> list[FirstRow]:
    """The first row of each stage that a plant has reached since it was last sown."""
    sown = max((s.day.first for s in context.sowings(plant)), default=None)
    first: dict[str, FirstRow] = {}
    counted: dict[str, int] = {}
    others: dict[str, set[str]] = {}
    for row in context.run.rows.milestones:
        which, name = row.which, row.name
        if not row.reached or which.nobody or (sown is not None and row.day.last < sown):
            continue
        named = others.setdefault(name, set())
        named.update(set(which.ids) - {plant})
        if plant in which.ids:
            since = min(row.day.first, counted.get(name, row.day.first))
            first.setdefault(name, FirstRow(row, since))
        elif not which.named and (which.count is None or which.count > len(named)):
            counted.setdefault(name, row.day.first)
    return list(first.values())


def milestone_order(context: Context) -> Iterator[Finding]:
    """No plant reaches a later stage on an earlier day; plants of the same two rows share a finding.

    A plant that is named after others were counted may have been one of them.
    """
    stages = milestones_of(context.run.setup.crop.kind)
    ordered = stages.keys() - ANY_TIME
    clashes: dict[tuple[MilestoneRow, MilestoneRow], list[str]] = {}
    for plant in context.run.setup.plant_ids:
        firsts = [first for first in _first_rows(context, plant) if first.row.name in ordered]
        for row, since in firsts:
            bbch = stages[row.name].bbch
            ahead = (r for r, _ in firsts if stages[r.name].bbch > bbch and r.day.last < since)
            if (other := next(ahead, None)) is not None:
                clashes.setdefault((row, other), []).append(plant)
    for (row, ahead_row), plants in clashes.items():
        they = "it" if len(plants) == 1 else "they"
        message = (
            f"{quoted(plants)} {stages[row.name].words} {on_day(row.day)}, "
            f"after {they} {stages[ahead_row.name].words} {on_day(ahead_row.day)}"
        )
        mend = f"check the days of `{row.name}` and `{ahead_row.name}`"
        found, expected = f"{row.name} {on_day(row.day)}", f"{row.name} before {ahead_row.name}"
        yield Finding("milestone-order", row.source, message, mend, found, expected)


def milestone_back(context: Context) -> Iterator[Finding]:
    """A stage once reached is not recorded as not reached later."""
    rows = context.run.rows.milestones
    stages = milestones_of(context.run.setup.crop.kind)
    for row in rows:
        if row.name not in stages or (row.reached and not row.which.nobody):
            continue
        taken_back = ((plants, r.day) for r in rows if (plants := _taken_back(context, row, r)))
        plants, reached_on = next(taken_back, ("", row.day))
        if plants:
            message = (
                f"{plants} {stages[row.name].words} {on_day(reached_on)}; "
                f"`{row.name}` cannot be taken back {on_day(row.day)}"
            )
            mend = f"check `{row.name}` on both days"
            yield Finding("milestone-back", row.source, message, mend, f"{row.name}: {row.which}")


def _taken_back(context: Context, row: MilestoneRow, reached: MilestoneRow) -> str:
    """The plants that have a stage by the row `reached` and lack it by a later row; empty where there are none."""
    which = reached.which
    if not reached.reached or which.nobody or reached.name != row.name or reached.day.last >= row.day.first:
        return ""
    if which.named:
        shared = [plant for plant in which.ids if not row.which.named or plant in row.which.ids]
        gone = {p for p in shared if (e := context.roster.lost_on(p)) and e.day.first <= row.day.last}
        gone |= set(context.resown(shared, reached.day, row.day))
        return quoted(plant for plant in shared if plant not in gone)
    if row.which.nobody and (which.count or 1) > fewer_by(context, reached, row):
        return "some plants" if which.count is None else f"{which} plants"
    return ""


def fewer_by(context: Context, earlier: MilestoneRow, later: MilestoneRow) -> int:
    """The number by which a count of plants may fall between two rows: plants lost or sown again in between."""
    lost = 0
    for event in context.run.rows.of(Deed.LOST):
        if earlier.day.first <= event.day.last and event.day.first <= later.day.last and event.which:
            lost += len(event.which.ids) or event.which.count or 1
    return lost + len(context.resown(context.run.setup.plant_ids, earlier.day, later.day))


def pick_before_milestone(context: Context) -> Iterator[Finding]:
    """The first fruit is not picked before a flower was recorded, in a log with milestones."""
    kind, rows = context.run.setup.crop.kind, context.run.rows
    fruit = _FRUIT_OF.get(kind)
    pick = next((pick for pick in rows.picks if pick.part in {"", fruit}), None)
    if fruit is None or pick is None or not rows.milestones:
        return
    flowering = {stage.name for stage in milestones_of(kind).values() if stage.bbch >= _FLOWER}
    flowered = (row for row in rows.milestones if row.reached and not row.which.nobody)
    if all(row.name not in flowering or row.day.first > pick.day.last for row in flowered):
        message = f"the first {fruit} was picked {on_day(pick.day)}, and no flower was recorded before it"
        mend = "write `first_flower` under `milestone` on the day it was seen, or check the day of the pick"
        found = f"picked {on_day(pick.day)}"
        yield Finding("pick-before-milestone", pick.source, message, mend, found, "a flower before")
