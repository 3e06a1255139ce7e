"""When plants reached a stage: one by one where they were told apart, else as counts.

In: the milestone rows of one stage. Out: `Arrival`s, `CountStep`s and the `Observation`s behind the median. Never
dates a plant that had not reached the stage, and never says which plant where the log does not.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.tree import Arrival, CountStep
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import MilestoneRow, Run, Which
from sitegen.core.values.day import Day
from sitegen.measure.run.axis import last_day
from sitegen.measure.stages.survival import Observation


def in_order(rows: Sequence[MilestoneRow]) -> tuple[MilestoneRow, ...]:
    """Rows by day, then as entered."""
    return tuple(sorted(rows, key=lambda row: (*by_day(row.day), row.entry, row.source)))


def by_day(day: Day) -> tuple[int, int]:
    """The sort key of observations: "before 34" comes after day 27, for it was seen by day 33."""
    return day.last, day.first


def is_not_yet(row: MilestoneRow) -> bool:
    """Whether a row says that nobody it is about had reached the stage."""
    return not row.reached or row.which.nobody


def told_apart(rows: Sequence[MilestoneRow]) -> bool:
    """Whether every arrival is one of a named plant: no count runs ahead of the names."""
    named: set[str] = set()
    for row in in_order(rows):
        if is_not_yet(row):
            continue
        named |= set(row.which.ids)
        ahead = 1 if row.which.count is None else row.which.count
        if not row.which.named and ahead > len(named):
            return False
    return True


def _after(run: Run, rows: Sequence[MilestoneRow], plant: str, seen: Day | None) -> Day | None:
    """The last look that said not yet, before the stage was seen."""
    roster = Roster.of(run.setup, run.rows)
    days = [
        row.day
        for row in rows
        if is_not_yet(row)
        and (names(row.which, plant) or (not row.which.named and plant in roster.standing(row.day.first)))
        and row.day.first >= sowing_day(run, plant)
        and (seen is None or by_day(row.day) < by_day(seen))
    ]
    return max(days, key=by_day, default=None)


def _arrival(run: Run, rows: Sequence[MilestoneRow], plant: str) -> Arrival:
    own = sowing_day(run, plant)
    seen = [r for r in rows if not is_not_yet(r) and names(r.which, plant) and r.day.last >= own]
    if not seen:
        return Arrival(plant, None, _after(run, rows, plant, None), last_look(run, plant))
    first = in_order(seen)[0]
    return Arrival(plant, first.day, _after(run, rows, plant, first.day), last_look(run, plant), first.source)


def arrivals_of(run: Run, rows: Sequence[MilestoneRow]) -> tuple[Arrival, ...]:
    """One arrival for each plant of the experiment."""
    return tuple(_arrival(run, rows, plant) for plant in run.setup.plant_ids)


def steps_of(run: Run, rows: Sequence[MilestoneRow]) -> tuple[CountStep, ...]:
    """The cumulative count at each look; named plants count as many as they are."""
    roster = Roster.of(run.setup, run.rows)
    named: set[str] = set()
    count, steps = 0, []
    for row in in_order(rows):
        standing = roster.count(row.day.first)
        if row.which.named and is_not_yet(row) and len(row.which.ids) < standing:
            continue  # a look at some of the plants says nothing of the number that had arrived
        if not is_not_yet(row):
            named |= set(row.which.ids)
            stated = len(named) if row.which.named else (1 if row.which.count is None else row.which.count)
            count = max(count, stated)
        some = row.which.count is None and not row.which.named
        of = None if some else (row.which.of or max(standing, count))
        steps.append(CountStep(row.day, count, of, row.source))
    return tuple(steps)


def observations_of_arrivals(
    run: Run, arrivals: Sequence[Arrival], *, earliest: bool
) -> tuple[Observation, ...]:
    """One observation a plant, in days since its own sowing.

    Dated to the day seen; with `earliest`, to the look before where that one said not yet.
    """
    observations = []
    for arrival in arrivals:
        own = sowing_day(run, arrival.plant)
        if arrival.day is not None:
            day = arrival.day.last
            if earliest:
                day = arrival.after.first if arrival.after else arrival.day.first
            observations.append(Observation(max(0, day - own), reached=True))
        else:
            look = arrival.last_look.last if arrival.last_look else own
            observations.append(Observation(max(0, look - own), reached=False))
    return tuple(observations)


def observations_of_steps(steps: Sequence[CountStep], *, earliest: bool) -> tuple[Observation, ...]:
    """One observation for each of the plants counted, none of them named.

    Those that never arrived count as waiting until the last look; where fewer plants were left to count,
    those gone count as waiting until the look that missed them.
    """
    counted = [step for step in steps if step.of is not None]
    whole = max((step.of for step in counted if step.of is not None), default=0)
    observations: list[Observation] = []
    so_far, left = 0, whole
    looked: int | None = None  # the latest day that an earlier look cannot have been before
    for step in steps:
        day = step.day.last if not earliest else step.day.first if looked is None else looked
        observations += [Observation(day, reached=True)] * (step.count - so_far)
        room = whole - step.count - sum(not observation.reached for observation in observations)
        gone = max(0, min(left - (step.of or left), room))
        observations += [Observation(step.day.last, reached=False)] * gone
        so_far, left = max(so_far, step.count), min(left, step.of or left)
        looked = step.day.first if looked is None else max(looked, step.day.first)
    waiting = max(0, whole - len(observations))
    return (*observations, *[Observation(steps[-1].day.last, reached=False)] * waiting) if steps else ()


def names(which: Which | None, plant: str) -> bool:
    """Whether a record is about a plant by name (a group and `all` name each of theirs)."""
    return which is not None and plant in which.ids


def last_look(run: Run, plant: str) -> Day | None:
    """The last day on which something was recorded of a plant."""
    rows = run.rows
    roster = Roster.of(run.setup, rows)
    days = [reading.day for reading in rows.readings if plant in reading.plants]
    days += [event.day for event in rows.events if names(event.which, plant)]
    days += [pick.day for pick in rows.picks if names(pick.which, plant)]
    for row in rows.milestones:
        everyone = row.which.nobody and plant in roster.standing(row.day.first)
        if names(row.which, plant) or everyone:
            days.append(row.day)
    return last_day(days)


def sowing_day(run: Run, plant: str) -> int:
    """The day that a plant's own days run from: its last sowing, else day 0."""
    sown = Roster.of(run.setup, run.rows).sown_on(plant)
    return 0 if sown is None else sown.day.first
