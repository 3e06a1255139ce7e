"""Numbers of plants compared with the plants that stand, and counts that fall.

In: the context of a run. Out: findings about `2 of 6`, milestone counts and running tallies.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.rows import Deed, MilestoneRow, Run, Tally, Which
from sitegen.core.values.day import Day
from sitegen.judge.context import Context
from sitegen.judge.milestones import fewer_by
from sitegen.judge.wording import amount, on_day

_OF_SEEDS = frozenset({Deed.SOW, Deed.SPROUTED})


class _Counted(NamedTuple):
    """A number of plants as written; `from_start` if it includes plants lost since."""

    which: Which
    day: Day
    source: Source
    tub: str = ""
    from_start: bool = False


def _counted(run: Run) -> Iterator[_Counted]:
    rows = run.rows
    for row in (*(event for event in rows.events if event.deed not in _OF_SEEDS), *rows.readings):
        if row.which:
            yield _Counted(row.which, row.day, row.source, row.tub)
    for pick in rows.picks:
        tub = pick.tubs[0] if len(pick.tubs) == 1 else ""
        yield _Counted(pick.which, pick.day, pick.source, tub)
    for photo in rows.photos:
        if photo.which:
            yield _Counted(photo.which, photo.day, photo.source)
    totals: tuple[MilestoneRow | Tally, ...] = (*rows.milestones, *rows.tallies)
    for total in totals:
        yield _Counted(total.which, total.day, total.source, from_start=True)


def count_of_plants(context: Context) -> Iterator[Finding]:
    """`2 of 6` fits the plants that stood on the day, the day's own losses counted or not."""
    for item in _counted(context.run):
        count, of = item.which.count, item.which.of
        if item.which.named or count is None:
            continue
        fits = _fitting(context, item)
        if (of is None or of in fits) and count <= max(fits):
            continue
        standing = context.standing(item.day.first)
        were = "was" if standing == 1 else "were"
        message = f"`{item.which}` plants {on_day(item.day)}, but {standing} {were} standing"
        mend = _mend(count, of, standing)
        yield Finding("count-of-plants", item.source, message, mend, str(item.which), f"{standing} standing")


def _fitting(context: Context, item: _Counted) -> frozenset[int]:
    """The totals that a count may refer to: the plants of the run or of the tub, before or after losses of the day."""
    days = range(item.day.first - 1, item.day.last + 1)
    fits = {context.standing(day) for day in days}
    if item.tub:
        roster = context.roster
        fits |= {sum(roster.tub_of(p, day) == item.tub for p in roster.standing(day)) for day in days}
    if item.from_start:
        fits |= set(range(min(fits), len(context.run.setup.plants) + 1))
    return frozenset(fits)


def _mend(count: int, of: int | None, standing: int) -> str:
    if count > standing:
        return "check both numbers"
    if of is not None and of < standing:
        return f"write `{count} of {standing}`, or write before it what was `lost`"
    return f"write `{count} of {standing}`"


def milestone_went_down(context: Context) -> Iterator[Finding]:
    """The number of plants at a milestone, counted from the start, falls only by plants lost or sown again."""
    most: dict[str, tuple[int, MilestoneRow]] = {}
    named: dict[str, set[str]] = {}
    for row in context.run.rows.milestones:
        if not row.reached or row.which.nobody:
            continue
        reached = named.setdefault(row.name, set())
        reached.update(row.which.ids)
        number = len(reached) if row.which.named else row.which.count
        if number is None:
            continue
        before = most.get(row.name)
        if before is None or number >= before[0]:
            most[row.name] = (number, row)
        elif not row.which.named and before[0] - number > fewer_by(context, before[1], row):
            message = (
                f"`{row.name}` counted {before[0]} {on_day(before[1].day)}; "
                f"it cannot be {number} {on_day(row.day)}"
            )
            mend = "write how many have reached it since the start"
            yield Finding("count-went-down", row.source, message, mend, f"{number}", f"{before[0]} or more")


def tally_went_down(context: Context) -> Iterator[Finding]:
    """A running tally never falls."""
    last: dict[tuple[str, ...], Tally] = {}
    for tally in context.run.rows.tallies:
        key = context.about(tally.which)
        before = last.get(key)
        last[key] = tally
        if before is None or tally.amount.high is None or tally.amount.high >= before.amount.low:
            continue
        found, least = amount(tally.amount), amount(before.amount)
        message = f"{least} had been picked {on_day(before.day)}; it cannot be {found} {on_day(tally.day)}"
        mend = "write everything picked since the start"
        yield Finding("count-went-down", tally.source, message, mend, found, f"{least} or more")
