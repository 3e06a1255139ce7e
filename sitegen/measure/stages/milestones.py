"""Growth stages: the first day seen, how many plants reached each, the day by which half had, and days between stages.

In: milestone rows. Out: one `MilestoneFacts` for each stage that the log names; figures of the days between. A stage
lies between the last look without it and the look that saw it. Plants that had not reached it when they were last looked
at stay in the count, apart from those lost before; one that nobody looked at is in none. Between stages only plants
count that were told apart at both; one that had not gone on at its last look still waits.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.figure import Figure, Remark, Several, Value, counted_remark, remark
from sitegen.core.facts.tree import Arrival, CountStep, MilestoneFacts
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import MilestoneRow, Run
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import first_day
from sitegen.measure.stages.looks import (
    arrivals_of,
    by_day,
    in_order,
    intervals_of_arrivals,
    intervals_of_steps,
    is_not_yet,
    sowing_day,
    steps_of,
    told_apart,
)
from sitegen.measure.stages.survival import Observation, kaplan_meier_median, median_interval
from sitegen.measure.stages.turnbull import Interval, observations_at, turnbull_median

FEWEST_FOR_AN_INTERVAL = 6  # below, an interval of the median covers less than it says


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


def _lost(arrivals: Sequence[Arrival]) -> Remark | None:
    return counted_remark("plants_lost_before", sum(a.state == "lost" for a in arrivals))


def _unknown(arrivals: Sequence[Arrival]) -> Remark | None:
    return counted_remark("plants_not_looked_at", sum(a.state == "unknown" for a in arrivals))


def _share_of_arrivals(path: str, arrivals: Sequence[Arrival], rows: Sequence[Source]) -> Figure:
    """Of all plants but those that nobody looked at."""
    known = [arrival for arrival in arrivals if arrival.state != "unknown"]
    reached = sum(arrival.state == "reached" for arrival in known)
    share = share_of(reached, len(known))
    return figure(f"{path}.share", share, wilson_interval, rows, _lost(arrivals), _unknown(arrivals))


def _share_of_steps(path: str, steps: Sequence[CountStep]) -> Figure:
    definite = [step for step in steps if step.of is not None]
    if not definite:
        return figure(
            f"{path}.share", None, wilson_interval, (s.source for s in steps), remark("not_counted")
        )
    last, whole = definite[-1], max(step.of or 0 for step in definite)
    share, apart = share_of(last.count, whole), remark("not_kept_by_plant")
    return figure(f"{path}.share", share, wilson_interval, (last.source,), apart)


def _median(
    path: str, intervals: Sequence[Interval], rows: Sequence[Source], *others: Remark | None, about: bool
) -> tuple[Figure, Figure]:
    """The median and its interval."""
    found = turnbull_median(intervals)
    value = Day(*found, about=about) if found else None
    missing = None if value else remark("not_reached")
    median = figure(f"{path}.median", value, turnbull_median, rows, missing, *others)
    return median, _interval(path, intervals, rows)


def _interval(path: str, intervals: Sequence[Interval], rows: Sequence[Source]) -> Figure:
    """The interval of the median, where the day of enough plants is known to the day."""
    name = f"{path}.interval"
    arrived = [interval for interval in intervals if interval.last is not None]
    if not arrived:
        return figure(name, None, median_interval, rows, remark("not_reached"))
    if len(arrived) < FEWEST_FOR_AN_INTERVAL:
        return figure(name, None, median_interval, rows, remark("too_few_for_interval"))
    if not all(interval.exact for interval in arrived):
        return figure(name, None, median_interval, rows, remark("not_looked_at_daily"))
    low, high = median_interval(observations_at(intervals, "last"))
    if low is None:
        return figure(name, None, median_interval, rows, remark("not_reached"))
    value = Quantity(low, high, Dimension.DAYS, step=1)
    return figure(name, value, median_interval, rows, None if high else remark("too_few_for_upper_limit"))


def _behind(known: int, waiting: int) -> Remark:
    if not waiting:
        return remark("from_plants", n=known)
    return remark("from_plants_some_waiting", n=known, waiting=waiting)


def _resown(run: Run, arrivals: Sequence[Arrival]) -> Remark | None:
    late = tuple(a.plant for a in arrivals if sowing_day(run, a.plant) > 0)
    return remark("counted_from_own_sowing", plants=late) if late else None


def _median_of_arrivals(
    run: Run, path: str, arrivals: Sequence[Arrival], rows: Sequence[Source]
) -> tuple[Figure, Figure]:
    """The median and its interval."""
    known = sum(a.state != "unknown" for a in arrivals)
    return _median(
        path,
        intervals_of_arrivals(run, arrivals),
        rows,
        _behind(known, sum(a.state == "not yet" for a in arrivals)),
        _lost(arrivals),
        _unknown(arrivals),
        _resown(run, arrivals),
        about=any(day.about for a in arrivals for day in (a.day, a.after) if day),
    )


def _median_of_steps(path: str, steps: Sequence[CountStep], rows: Sequence[Source]) -> tuple[Figure, Figure]:
    """The median and its interval, from counts."""
    if not any(step.of for step in steps):
        return (
            figure(f"{path}.median", None, turnbull_median, rows, remark("not_counted")),
            figure(f"{path}.interval", None, median_interval, rows, remark("not_counted")),
        )
    intervals = intervals_of_steps(steps)
    last = [step for step in steps if step.of is not None][-1]
    waiting = max(0, (last.of or 0) - last.count)
    gone = sum(interval.last is None for interval in intervals) - waiting
    return _median(
        path,
        intervals,
        rows,
        _behind(len(intervals), waiting),
        counted_remark("plants_not_counted_again", max(0, gone)),
        about=any(step.day.about for step in steps),
    )


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
        share=_share_of_arrivals(path, arrivals, sources) if apart else _share_of_steps(path, steps),
        median=median,
        arrivals=arrivals,
        steps=steps,
        not_yet=tuple(row.day for row in rows if is_not_yet(row)),
        interval=interval,
        since_before=days_since_stage_before(run, before, name, arrivals),
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


def _bounds(run: Run, arrival: Arrival) -> tuple[int, int | None]:
    """The first and the last day on which a plant can have reached a stage."""
    first = sowing_day(run, arrival.plant) if arrival.known_after is None else arrival.known_after
    return first, arrival.day.last if arrival.day else None


def _shortest(run: Run, pair: Pair) -> Observation:
    """The time between two stages of a plant, the first at its last day and the second at its first."""
    since = pair[0].day.last if pair[0].day else 0
    first, last = _bounds(run, pair[1])
    if last is None:
        return Observation(max(0, first - 1 - since), reached=False)
    return Observation(max(0, first - since), reached=True)


def _longest(run: Run, pair: Pair) -> Observation:
    """The time between two stages of a plant, the first at its first day and the second at its last."""
    since, _ = _bounds(run, pair[0])
    first, last = _bounds(run, pair[1])
    if last is None:
        return Observation(max(0, first - 1 - since), reached=False)
    return Observation(max(0, last - since), reached=True)


def _span(first: int, last: int, *, about: bool) -> Quantity:
    return Quantity(first, last, Dimension.DAYS, about=about, step=1)


def _value(run: Run, pairs: Sequence[Pair]) -> Value:
    """The median; two plants that both went on are shown one by one."""
    shortest = [_shortest(run, pair) for pair in pairs]
    longest = [_longest(run, pair) for pair in pairs]
    about = any(day.about for pair in pairs for a in pair for day in (a.day, a.after) if day)
    if len(pairs) == FEWEST_FOR_A_MEAN - 1 and all(each.reached for each in longest):
        spans = zip(shortest, longest, strict=True)
        return Several(tuple(_span(low.day, high.day, about=about) for low, high in spans))
    low, high = kaplan_meier_median(shortest), kaplan_meier_median(longest)
    return None if low is None or high is None else _span(min(low, high), high, about=about)


def days_since_stage_before(
    run: Run, before: MilestoneFacts | None, name: str, arrivals: Sequence[Arrival]
) -> Figure:
    """Days from the stage before, over the plants that had reached it and were looked at for this one."""
    path = f"milestones.{name}.since_before"
    if before is None:
        return figure(path, None, kaplan_meier_median, (), remark("no_stage_before"))
    by_plant = {arrival.plant: arrival for arrival in before.arrivals if arrival.day}
    mine = [(by_plant[a.plant], a) for a in arrivals if a.plant in by_plant]
    pairs = [pair for pair in mine if pair[1].day or pair[1].after]
    if mine and not pairs:
        return figure(path, None, kaplan_meier_median, (), counted_remark("plants_not_looked_at", len(mine)))
    if not pairs:
        return figure(path, None, kaplan_meier_median, (), remark("not_kept_by_plant"))
    value = _value(run, pairs)
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
