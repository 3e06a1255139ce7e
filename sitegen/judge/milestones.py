"""Milestones in the order of growth, milestones taken back, and fruit without a flower.

In: the context of a run. Out: findings about milestones and picks. Side shoots and bolting have no place in the order.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, MilestoneRow
from sitegen.core.reference.milestones import milestones_of
from sitegen.judge.context import Context
from sitegen.judge.wording import on_day, quoted

_ANY_TIME = frozenset({"side_shoots", "bolting"})
_FLOWER = "60"  # BBCH principal stage 6: flowering
_FRUIT_OF = {"fruiting": "fruit", "legume": "pod"}


def _first_rows(context: Context, plant: str) -> list[MilestoneRow]:
    """The first row of each stage that a plant has reached since it was last sown."""
    sown = max((s.day.first for s in context.sowings(plant)), default=None)
    first: dict[str, MilestoneRow] = {}
    for row in context.run.rows.milestones:
        if row.reached and plant in row.which.ids and (sown is None or row.day.last >= sown):
            first.setdefault(row.name, row)
    return list(first.values())


def milestone_order(context: Context) -> Iterator[Finding]:
    """No plant reaches a later stage on an earlier day; plants of the same two rows share a finding."""
    stages = milestones_of(context.run.setup.crop.kind)
    ordered = stages.keys() - _ANY_TIME
    clashes: dict[tuple[MilestoneRow, MilestoneRow], list[str]] = {}
    for plant in context.run.setup.plant_ids:
        rows = [row for row in _first_rows(context, plant) if row.name in ordered]
        for row in rows:
            bbch, first_day = stages[row.name].bbch, row.day.first
            ahead = (r for r in rows if stages[r.name].bbch > bbch and r.day.last < first_day)
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
