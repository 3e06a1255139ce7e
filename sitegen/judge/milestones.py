"""Milestones in the order of growth, and not taken back.

In: a case. Out: findings about milestone rows, and about fruit without a flower. Side shoots and bolting come
when they come: they have no place in the order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, MilestoneRow
from sitegen.core.reference.milestones import Milestone, milestones_of
from sitegen.judge.case import Case
from sitegen.judge.words import on_day, quoted

_ANY_TIME = frozenset({"side_shoots", "bolting"})
_FLOWER = "60"  # BBCH principal stage 6: flowering
_FRUIT_OF = {"fruiting": "fruit", "legume": "pod"}


@dataclass(frozen=True, slots=True)
class _Seen:
    """A stage that a plant was first seen to have reached."""

    plant: str
    stage: Milestone
    row: MilestoneRow


def _first_seen(case: Case, plant: str) -> tuple[_Seen, ...]:
    """A plant's stages, each at its first row since it was last sown."""
    known = milestones_of(case.run.setup.crop.kind)
    sown = max((s.day.first for s in case.sowings(plant)), default=None)
    seen: dict[str, _Seen] = {}
    for row in case.run.rows.milestones:
        counts = row.reached and row.name in known and plant in row.which.ids
        if counts and (sown is None or row.day.last >= sown):
            seen.setdefault(row.name, _Seen(plant, known[row.name], row))
    return tuple(seen.values())


def milestone_order(case: Case) -> Iterator[Finding]:
    """No plant reaches a later stage on an earlier day; plants of the same two rows are said together."""
    clashes: dict[tuple[MilestoneRow, MilestoneRow], list[_Seen]] = {}
    stages: dict[MilestoneRow, Milestone] = {}
    for plant in case.run.setup.plant_ids:
        seen = [s for s in _first_seen(case, plant) if s.stage.name not in _ANY_TIME]
        for early in seen:
            ahead = [
                s for s in seen if s.stage.bbch > early.stage.bbch and s.row.day.last < early.row.day.first
            ]
            if ahead:
                stages[ahead[0].row] = ahead[0].stage
                clashes.setdefault((early.row, ahead[0].row), []).append(early)
    for (row, ahead_row), plants in clashes.items():
        yield _out_of_order(row, ahead_row, plants, stages[ahead_row])


def _out_of_order(row: MilestoneRow, ahead: MilestoneRow, seen: list[_Seen], stage: Milestone) -> Finding:
    names = quoted(s.plant for s in seen)
    before = (
        f"{on_day(row.day)}, after {'it' if len(seen) == 1 else 'they'} {stage.words} {on_day(ahead.day)}"
    )
    return Finding(
        "milestone-order",
        row.source,
        f"{names} {seen[0].stage.words} {before}",
        f"check the days of `{row.name}` and `{ahead.name}`",
        f"{row.name} {on_day(row.day)}",
        f"{row.name} before {ahead.name}",
    )


def milestone_back(case: Case) -> Iterator[Finding]:
    """A stage once reached is not recorded as not reached later."""
    rows = case.run.rows.milestones
    words = milestones_of(case.run.setup.crop.kind)
    for row in rows:
        if row.reached and not row.which.nobody:
            continue
        reached = next((r for r in rows if _takes_back(case, row, r)), None)
        if reached is None or row.name not in words:
            continue
        yield Finding(
            "milestone-back",
            row.source,
            f"{_whose(row, reached)} {words[row.name].words} {on_day(reached.day)}; "
            f"`{row.name}` cannot be taken back {on_day(row.day)}",
            f"check `{row.name}` on both days",
            f"{row.name}: {row.which}",
        )


def _whose(row: MilestoneRow, reached: MilestoneRow) -> str:
    shared = [plant for plant in reached.which.ids if not row.which.named or plant in row.which.ids]
    if shared:
        return quoted(shared)
    return "some plants" if reached.which.count is None else f"{reached.which} plants"


def _takes_back(case: Case, row: MilestoneRow, reached: MilestoneRow) -> bool:
    """Whether a row says of plants that they are not there yet, of which `reached` says that they are."""
    if not reached.reached or reached.which.nobody or reached.name != row.name:
        return False
    if reached.day.last >= row.day.first:
        return False
    if reached.which.named:
        about = row.which.ids if row.which.named else reached.which.ids
        shared = [plant for plant in about if plant in reached.which.ids]
        gone = {p for p in shared if (e := case.roster.lost_on(p)) and e.day.first <= row.day.last}
        gone |= set(case.resown(shared, reached.day, row.day))
        return len(gone) < len(shared)
    return row.which.nobody and (reached.which.count or 1) > fewer_by(case, reached, row)


def fewer_by(case: Case, earlier: MilestoneRow, later: MilestoneRow) -> int:
    """By how many a count of plants may fall between two rows: plants lost and sown anew in between."""
    lost = 0
    for event in case.run.rows.of(Deed.LOST):
        if earlier.day.first <= event.day.last and event.day.first <= later.day.last and event.which:
            lost += len(event.which.ids) or event.which.count or 1
    return lost + len(case.resown(case.run.setup.plant_ids, earlier.day, later.day))


def pick_before_milestone(case: Case) -> Iterator[Finding]:
    """Where milestones are kept, fruit is not picked before a flower was recorded; said once."""
    kind = case.run.setup.crop.kind
    fruit = _FRUIT_OF.get(kind)
    if fruit is None or not case.run.rows.milestones:
        return
    known = milestones_of(kind)
    flowers = [
        row.day.first
        for row in case.run.rows.milestones
        if row.reached and not row.which.nobody and row.name in known and known[row.name].bbch >= _FLOWER
    ]
    first_flower = min(flowers, default=None)
    for pick in case.run.rows.picks:
        if pick.part not in ("", fruit):
            continue
        if first_flower is None or pick.day.last < first_flower:
            yield Finding(
                "pick-before-milestone",
                pick.source,
                f"the first {fruit} was picked {on_day(pick.day)}, and no flower was recorded before it",
                "write `first_flower` under `milestone` on the day it was seen, or check the day of the pick",
                f"picked {on_day(pick.day)}",
                "a flower before",
            )
        return
