"""Growth stages: the first day seen, how many plants reached each, the day by which half had, and days between stages.

In: milestone rows. Out: one `MilestoneFacts` for each stage that the log names; figures of the days from one to the
next. A stage recorded as not there yet lies between two visits; plants that never reached it stay in the count.
Between stages only plants count that were told apart at both; one that had not gone on when it was last looked at
still counts as waiting.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from sitegen.core.facts.figure import Figure, Remark, Several, Value, counted_remark, remark
from sitegen.core.facts.tree import Arrival, CountStep, MilestoneFacts
from sitegen.core.findings.finding import Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import MilestoneRow, Run
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import first_day
from sitegen.measure.stages.survival import (
    Observation,
    arrivals_of,
    by_day,
    in_order,
    is_not_yet,
    kaplan_meier_median,
    median_interval,
    observations_of_arrivals,
    observations_of_steps,
    sowing_day,
    steps_of,
    told_apart,
)


def reached_by(milestone: MilestoneFacts) -> Day | None:
    """The day that a stage counts as begun for the whole stand: half the plants, else the first one."""
    half = milestone.median.value
    if isinstance(half, Day):
        return Day(half.last, half.last, half.about)
    first = milestone.first.value
    return first if isinstance(first, Day) else None


def _first(path: str, rows: Sequence[MilestoneRow]) -> Figure:
    seen = [row for row in rows if not is_not_yet(row)]
    day = first_day(row.day for row in seen)
    sources = [row.source for row in seen if row.day == day]
    earlier = [r.day for r in rows if is_not_yet(r) and (day is None or by_day(r.day) < by_day(day))]
    latest = max(earlier, key=by_day, default=None)
    before = remark("not_yet_on", day=latest) if latest else None
    return figure(f"{path}.first", day, first_day, sources or [row.source for row in rows], before)


def _share_of_arrivals(run: Run, path: str, arrivals: Sequence[Arrival], rows: Sequence[Source]) -> Figure:
    reached = [arrival for arrival in arrivals if arrival.day]
    roster = Roster.of(run.setup, run.rows)
    lost = [a for a in arrivals if a.day is None and roster.lost_on(a.plant)]
    gone = counted_remark("plants_lost_before", len(lost))
    return figure(f"{path}.share", share_of(len(reached), len(arrivals)), wilson_interval, rows, gone)


def _share_of_steps(path: str, steps: Sequence[CountStep]) -> Figure:
    definite = [step for step in steps if step.of is not None]
    if not definite:
        return figure(
            f"{path}.share", None, wilson_interval, (s.source for s in steps), remark("not_counted")
        )
    last, whole = definite[-1], max(step.of or 0 for step in definite)
    share, apart = share_of(last.count, whole), remark("not_kept_by_plant")
    return figure(f"{path}.share", share, wilson_interval, (last.source,), apart)


def _median(early: Sequence[Observation], late: Sequence[Observation], *, about: bool) -> Day | None:
    """From the estimate with the earliest days possible to the one with the days seen."""
    seen, possible = kaplan_meier_median(late), kaplan_meier_median(early)
    if seen is None:
        return None
    return Day(seen if possible is None else min(seen, possible), seen, about)


def _interval(
    path: str, early: Sequence[Observation], late: Sequence[Observation], rows: Sequence[Source]
) -> Figure:
    """From the lower limit with the earliest days possible to the upper one with the days seen."""
    low, _ = median_interval(early)
    seen, high = median_interval(late)
    name = f"{path}.interval"
    if low is None or seen is None:
        return figure(name, None, median_interval, rows, remark("not_reached"))
    value = Quantity(min(low, seen), high, Dimension.DAYS, step=1)
    return figure(name, value, median_interval, rows, None if high else remark("too_few_for_upper_limit"))


def _behind(observations: Sequence[Observation]) -> Remark:
    waiting = sum(not observation.reached for observation in observations)
    if not waiting:
        return remark("from_plants", n=len(observations))
    return remark("from_plants_some_waiting", n=len(observations), waiting=waiting)


def _resown(run: Run, arrivals: Sequence[Arrival]) -> Remark | None:
    late = tuple(a.plant for a in arrivals if sowing_day(run, a.plant) > 0)
    return remark("counted_from_own_sowing", plants=late) if late else None


def _median_of_arrivals(
    run: Run, path: str, arrivals: Sequence[Arrival], rows: Sequence[Source]
) -> tuple[Figure, Figure]:
    """The median and its interval."""
    late = observations_of_arrivals(run, arrivals, earliest=False)
    early = observations_of_arrivals(run, arrivals, earliest=True)
    value = _median(early, late, about=any(a.day.about for a in arrivals if a.day))
    remarks = (None if value else remark("not_reached"), _behind(late), _resown(run, arrivals))
    median = figure(f"{path}.median", value, kaplan_meier_median, rows, *remarks)
    return median, _interval(path, early, late, rows)


def _median_of_steps(path: str, steps: Sequence[CountStep], rows: Sequence[Source]) -> tuple[Figure, Figure]:
    """The median and its interval, from counts."""
    if not any(step.of for step in steps):
        return (
            figure(f"{path}.median", None, kaplan_meier_median, rows, remark("not_counted")),
            figure(f"{path}.interval", None, median_interval, rows, remark("not_counted")),
        )
    late, early = observations_of_steps(steps, earliest=False), observations_of_steps(steps, earliest=True)
    value = _median(early, late, about=any(step.day.about for step in steps))
    remarks = (None if value else remark("not_reached"), _behind(late))
    median = figure(f"{path}.median", value, kaplan_meier_median, rows, *remarks)
    return median, _interval(path, early, late, rows)


def _facts(
    run: Run, name: str, rows: Sequence[MilestoneRow], before: MilestoneFacts | None
) -> MilestoneFacts:
    path = f"milestones.{name}"
    listed = milestones_of(run.setup.crop.kind).get(name)
    apart = told_apart(rows)
    arrivals = arrivals_of(run, rows) if apart else ()
    steps = () if apart else steps_of(run, rows)
    sources = [row.source for row in rows]
    median, interval = (
        _median_of_arrivals(run, path, arrivals, sources) if apart else _median_of_steps(path, steps, sources)
    )
    return MilestoneFacts(
        name=name,
        bbch=listed.bbch if listed else "",
        first=_first(path, rows),
        share=_share_of_arrivals(run, path, arrivals, sources) if apart else _share_of_steps(path, steps),
        median=median,
        arrivals=arrivals,
        steps=steps,
        not_yet=tuple(row.day for row in rows if is_not_yet(row)),
        interval=interval,
        since_before=days_between(before, name, arrivals),
    )


def milestones_facts(run: Run) -> tuple[MilestoneFacts, ...]:
    """The stages that the log names, in the order of growth."""
    known = milestones_of(run.setup.crop.kind)
    logged = dict.fromkeys(row.name for row in in_order(run.rows.milestones))
    order = [name for name in known if name in logged] + [name for name in logged if name not in known]
    found: list[MilestoneFacts] = []
    for name in order:
        rows = in_order([row for row in run.rows.milestones if row.name == name])
        found.append(_facts(run, name, rows, found[-1] if found else None))
    return tuple(found)


FEWEST_FOR_A_MEAN = 3  # fewer values are shown one by one
Pair = tuple[Arrival, Arrival]


def _earliest(arrival: Arrival, day: Day) -> int:
    return arrival.after.first if arrival.after else day.first


def _ends(pair: Pair) -> tuple[int, int] | None:
    """The shortest and the longest time between two stages of a plant; None where the second never came."""
    before, after = pair
    if before.day is None or after.day is None:
        return None
    shortest = _earliest(after, after.day) - before.day.last
    longest = after.day.last - _earliest(before, before.day)
    return max(0, shortest), max(0, longest)


def _waited(pair: Pair) -> int:
    before, after = pair
    since = before.day.last if before.day else 0
    return max(0, after.last_look.last - since) if after.last_look else 0


def _observations(pairs: Sequence[Pair], end: Literal[0, 1]) -> list[Observation]:
    """One observation for each plant, with the shortest or the longest time."""
    return [
        Observation(ends[end], reached=True)
        if (ends := _ends(pair))
        else Observation(_waited(pair), reached=False)
        for pair in pairs
    ]


def _span(low: int, high: int) -> Quantity:
    return Quantity(min(low, high), high, Dimension.DAYS, step=1)


def _value(pairs: Sequence[Pair]) -> Value:
    known = [ends for pair in pairs if (ends := _ends(pair))]
    if 1 < len(known) == len(pairs) < FEWEST_FOR_A_MEAN:
        return Several(tuple(_span(*ends) for ends in known))
    low = kaplan_meier_median(_observations(pairs, 0))
    high = kaplan_meier_median(_observations(pairs, 1))
    return None if low is None or high is None else _span(low, high)


def days_between(before: MilestoneFacts | None, name: str, arrivals: Sequence[Arrival]) -> Figure:
    """Days from the stage before, over the plants that had reached it."""
    path = f"milestones.{name}.since_before"
    if before is None:
        return figure(path, None, kaplan_meier_median, (), remark("no_stage_before"))
    by_plant = {arrival.plant: arrival for arrival in before.arrivals if arrival.day}
    pairs = [(by_plant[a.plant], a) for a in arrivals if a.plant in by_plant]
    if not pairs:
        return figure(path, None, kaplan_meier_median, (), remark("not_kept_by_plant"))
    value = _value(pairs)
    went = sum(after.day is not None for _, after in pairs)
    return figure(
        path,
        value,
        kaplan_meier_median,
        _rows(pairs),
        remark("since_stage", stage=before.label),
        None if value else remark("not_reached_by_half"),
        remark("plants_went_on", n=len(pairs), went=went),
    )


def _rows(pairs: Sequence[Pair]) -> list[Source]:
    return [arrival.source for pair in pairs for arrival in pair if arrival.source]
