"""Growth stages: the first day seen, how many plants reached each, the day by which half had, and days between stages.

In: milestone rows. Out: one `MilestoneFacts` for each stage that the log names. A stage lies between the last look
without it and the look that saw it. Plants that had not reached it when they were last looked at stay in the count,
apart from those lost or picked before; one that nobody looked at is in none.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from sitegen.core.facts.figure import NO_FIGURE, Figure, Remark, Several, counted_remark, remark
from sitegen.core.facts.tree import Arrival, CountStep, MilestoneFacts
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import MilestoneRow, Run
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import first_day
from sitegen.measure.stages.between import ByPlant, bounds_in_order, days_since_stage_before
from sitegen.measure.stages.looks import (
    arrivals_of,
    by_day,
    ending_picks,
    in_order,
    intervals_of_arrivals,
    intervals_of_steps,
    intervals_of_the_run,
    is_not_yet,
    sowing_day,
    steps_of,
    told_apart,
)
from sitegen.measure.stages.turnbull import (
    Interval,
    days_of_each,
    median_interval,
    turnbull_median,
    turnbull_span,
)

FEWEST_FOR_AN_INTERVAL = 6  # with fewer plants no two of them hold the median in 95 % of samples


def reached_by(run: Run, milestone: MilestoneFacts) -> Day | None:
    """The day of the run on which a stage counts as begun for the whole stand: half the plants, else the first one."""
    half = milestone.median.value
    if any(sowing_day(run, arrival.plant) > 0 for arrival in milestone.arrivals):
        found = turnbull_span(intervals_of_the_run(run, milestone.arrivals))
        half = Day(*found, about=_about(milestone.arrivals)) if found else None
    if isinstance(half, Day):
        return Day(half.last, half.last, half.about)
    first = milestone.first.value
    return first if isinstance(first, Day) else None


def _about(arrivals: Sequence[Arrival]) -> bool:
    return any(day.about for a in arrivals for day in (a.day, a.after) if day)


def _first(path: str, rows: Sequence[MilestoneRow]) -> Figure:
    seen = [row for row in rows if not is_not_yet(row)]
    day = first_day(row.day for row in seen)
    sources = [row.source for row in seen if row.day == day]
    earlier = [r.day for r in rows if is_not_yet(r) and (day is None or by_day(r.day) < by_day(day))]
    latest = max(earlier, key=by_day, default=None)
    before = remark("not_yet_on", day=latest) if latest else None
    return figure(f"{path}.first", day, first_day, sources or [row.source for row in rows], before)


def not_there(arrivals: Sequence[Arrival]) -> tuple[Remark | None, ...]:
    """The plants that were picked or lost before a stage, and those that nobody looked at for it."""
    return (
        counted_remark("plants_picked_before", sum(a.state == "picked" for a in arrivals)),
        counted_remark("plants_lost_before", sum(a.state == "lost" for a in arrivals)),
        counted_remark("plants_not_looked_at", sum(a.state == "unknown" for a in arrivals)),
    )


def _share_of_arrivals(path: str, arrivals: Sequence[Arrival], rows: Sequence[Source]) -> Figure:
    """Of all plants but those that nobody checked."""
    known = [arrival for arrival in arrivals if arrival.state != "unknown"]
    reached = sum(arrival.state == "reached" for arrival in known)
    share = share_of(reached, len(known))
    return figure(f"{path}.share", share, wilson_interval, rows, *not_there(arrivals))


def _picked_meanwhile(run: Run, rows: Sequence[MilestoneRow]) -> Remark | None:
    """Of counted plants: how many were picked before the last look, after which they can reach the stage no more."""
    last = max((by_day(row.day) for row in rows), default=None)
    picks = [pick for pick in ending_picks(run, rows) if last is not None and by_day(pick.day) < last]
    return counted_remark(
        "plants_picked_meanwhile", len({plant for pick in picks for plant in pick.which.ids})
    )


def _share_of_steps(path: str, steps: Sequence[CountStep], picked: Remark | None) -> Figure:
    definite = [step for step in steps if step.of is not None]
    if not definite:
        return figure(
            f"{path}.share", None, wilson_interval, (s.source for s in steps), remark("not_counted")
        )
    last, whole = definite[-1], max(step.of or 0 for step in definite)
    share, apart = share_of(last.count, whole), remark("not_kept_by_plant")
    return figure(f"{path}.share", share, wilson_interval, (last.source,), apart, picked)


def median_figures(
    path: str, intervals: Sequence[Interval], rows: Sequence[Source], *others: Remark | None, about: bool
) -> dict[str, Figure]:
    """The median, its interval, and the days of each plant where they are too few for one."""
    found = turnbull_median(intervals)
    value = Day(*found, about=about) if found else None
    missing = None if value else remark("not_reached")
    return {
        "median": figure(f"{path}.median", value, turnbull_median, rows, missing, *others),
        "interval": _interval(f"{path}.interval", intervals, rows, about=about),
        "values": _values(f"{path}.values", intervals, rows, about=about),
    }


def _interval(name: str, intervals: Sequence[Interval], rows: Sequence[Source], *, about: bool) -> Figure:
    """The interval of the median with its coverage, which rounds down where it is a lower bound."""
    arrived = sum(interval.last is not None for interval in intervals)
    found = median_interval(intervals) if arrived >= FEWEST_FOR_AN_INTERVAL else None
    if found is None:
        why = remark("too_few_for_interval" if arrived else "not_reached")
        return figure(name, None, median_interval, rows, why)
    open_ = None if found.high is not None else remark("too_few_for_upper_limit")
    if not found.low and open_:
        return figure(name, None, median_interval, rows, open_)
    value = Quantity(found.low, found.high, Dimension.DAYS, about=about, step=1)
    percent = 100 * found.coverage
    said = (
        remark("interval_coverage", percent=percent)
        if found.exact
        else remark("interval_coverage_at_least", percent=math.floor(10 * percent) / 10)
    )
    return figure(name, value, median_interval, rows, said, open_)


def _values(name: str, intervals: Sequence[Interval], rows: Sequence[Source], *, about: bool) -> Figure:
    found = days_of_each(intervals)
    if not 0 < len(found) < FEWEST_FOR_AN_INTERVAL:
        return NO_FIGURE
    values = tuple(Quantity(i.first, i.last, Dimension.DAYS, about=about, step=1) for i in found)
    alike = len(set(values)) == 1
    return figure(
        name,
        values[0] if alike else Several(values),
        days_of_each,
        rows,
        remark("alike_of_plants", n=len(values)) if alike and len(values) > 1 else None,
    )


def _behind(known: int, waiting: int) -> Remark:
    if not waiting:
        return remark("from_plants", n=known)
    return remark("from_plants_some_waiting", n=known, waiting=waiting)


def _resown(run: Run, arrivals: Sequence[Arrival]) -> Remark | None:
    late = tuple(a.plant for a in arrivals if sowing_day(run, a.plant) > 0)
    return remark("counted_from_own_sowing", plants=late) if late else None


def median_of_arrivals(
    run: Run, path: str, arrivals: Sequence[Arrival], rows: Sequence[Source], *others: Remark | None
) -> dict[str, Figure]:
    """The median of plants told apart, its interval, and their days."""
    known = sum(a.state != "unknown" for a in arrivals)
    return median_figures(
        path,
        intervals_of_arrivals(run, arrivals),
        rows,
        _behind(known, sum(a.state == "not yet" for a in arrivals)),
        *not_there(arrivals),
        _resown(run, arrivals),
        *others,
        about=_about(arrivals),
    )


def _some_since_last_count(steps: Sequence[CountStep]) -> bool:
    """Whether some arrived after the last look that counted, and fewer than half of the plants before it."""
    last = max(number for number, step in enumerate(steps) if step.of is not None)
    whole = max(step.of or 0 for step in steps)
    return 2 * steps[last].count < whole and any(step.count > steps[last].count for step in steps[last + 1 :])


def _median_of_steps(
    path: str, steps: Sequence[CountStep], rows: Sequence[Source], picked: Remark | None
) -> dict[str, Figure]:
    """The same from counts."""
    if not any(step.of for step in steps) or _some_since_last_count(steps):
        return {
            "median": figure(f"{path}.median", None, turnbull_median, rows, remark("not_counted")),
            "interval": figure(f"{path}.interval", None, median_interval, rows, remark("not_counted")),
        }
    intervals = intervals_of_steps(steps)
    last = [step for step in steps if step.of is not None][-1]
    waiting = max(0, (last.of or 0) - last.count)
    gone = sum(interval.last is None for interval in intervals) - waiting
    return median_figures(
        path,
        intervals,
        rows,
        _behind(len(intervals), waiting),
        counted_remark("plants_not_counted_again", max(0, gone)),
        picked,
        about=any(step.day.about for step in steps),
    )


def _facts(
    run: Run,
    name: str,
    rows: Sequence[MilestoneRow],
    arrivals: Sequence[Arrival],
    before: MilestoneFacts | None,
    bounds: ByPlant,
) -> MilestoneFacts:
    known = milestones_of(run.setup.crop.kind).get(name)
    path, sources = f"milestones.{name}", [row.source for row in rows]
    apart = told_apart(rows)
    steps = () if apart else steps_of(run, rows)
    picked = None if apart else _picked_meanwhile(run, rows)
    return MilestoneFacts(
        name=name,
        bbch=known.bbch if known else "",
        first=_first(path, rows),
        share=_share_of_arrivals(path, arrivals, sources) if apart else _share_of_steps(path, steps, picked),
        **median_of_arrivals(run, path, arrivals, sources)
        if apart
        else _median_of_steps(path, steps, sources, picked),
        arrivals=tuple(arrivals),
        steps=steps,
        not_yet=tuple(row.day for row in rows if is_not_yet(row)),
        since_before=days_since_stage_before(before, name, arrivals, bounds),
    )


def rows_by_stage(run: Run) -> Mapping[str, tuple[MilestoneRow, ...]]:
    """The rows of each stage that the log names, in the order of growth; stages that no list knows come last."""
    known = milestones_of(run.setup.crop.kind)
    rows: dict[str, list[MilestoneRow]] = {}
    for row in in_order(run.rows.milestones):
        rows.setdefault(row.name, []).append(row)
    order = [name for name in known if name in rows] + [name for name in rows if name not in known]
    return {name: tuple(rows[name]) for name in order}


def milestones_facts(run: Run) -> tuple[MilestoneFacts, ...]:
    """The stages that the log names, in the order of growth."""
    stages = rows_by_stage(run)
    arrivals = {name: arrivals_of(run, rows) if told_apart(rows) else () for name, rows in stages.items()}
    bounds = bounds_in_order(run, arrivals)
    found: list[MilestoneFacts] = []
    for name, rows in stages.items():
        found.append(_facts(run, name, rows, arrivals[name], found[-1] if found else None, bounds))
    return tuple(found)
