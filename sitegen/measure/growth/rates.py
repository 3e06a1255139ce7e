"""Growth rates and plateaus.

In: readings as plain numbers or quantities. Out: rates and the day of the plateau. Never averages groups over
days on which some of their plants were not measured.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import Figure, Label, Named, Per, Rate, RemarkCode, Several, Value, remark
from sitegen.core.facts.indices import SeriesRates
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import coarse, figure, formula
from sitegen.measure.stages.milestones import FEWEST_FOR_A_MEAN

LOOKS_AFTER = 2  # readings that must follow before a stand-still is called one


@formula
def absolute_growth_rate(first: float, last: float, days: float) -> float:
    """Growth a day.

    From the first reading of a plant to its last.

    Parameters
    ----------
    first, last
        The two readings [cm, or count].
    days
        Between them, more than 0 [days].

    Returns
    -------
    float
        Growth [cm a day, or a day]; negative where the plant was smaller in the end.

    Notes
    -----
    ::

        AGR = (W₂ - W₁) / (t₂ - t₁)

    References
    ----------
    Hunt, R. (1982). Plant Growth Curves: The Functional Approach to Plant Growth Analysis. Edward Arnold, London.

    """
    return (last - first) / days


@formula
def relative_growth_rate(first: float, last: float, days: float) -> float:
    """Relative growth a day.

    Growth for what was there already, from the first reading of a plant to its last.

    Parameters
    ----------
    first, last
        The two readings, more than 0 [cm, or count].
    days
        Between them, more than 0 [days].

    Returns
    -------
    float
        Relative growth [a day]; it does not depend on the unit of the readings.

    Notes
    -----
    ::

        RGR = (ln W₂ - ln W₁) / (t₂ - t₁)

    At a steady rate a plant doubles in ln 2 / RGR days. A length grows more slowly than a weight does, so rates of
    the one are not to be compared with rates of the other.

    References
    ----------
    Hunt, R. (1982). Plant Growth Curves: The Functional Approach to Plant Growth Analysis. Edward Arnold, London.

    """
    return (math.log(last) - math.log(first)) / days


@formula
def group_relative_growth_rate(first: Sequence[float], last: Sequence[float], days: float) -> float:
    """Relative growth of a group a day.

    Between the first and the last day on which all plants of the group were measured.

    Parameters
    ----------
    first, last
        Readings of its plants on the two days, more than 0 [cm, or count].
    days
        Between them, more than 0 [days].

    Returns
    -------
    float
        Relative growth [a day].

    Notes
    -----
    The mean is taken of the logarithms; the logarithm of the mean would lean towards the largest plants::

        RGR = (mean(ln W₂) - mean(ln W₁)) / (t₂ - t₁)

    References
    ----------
    Hoffmann, W. A. and Poorter, H. (2002). Avoiding bias in calculations of relative growth rate. Annals of Botany
    90, 37-42.

    """
    return (_mean_log(last) - _mean_log(first)) / days


def _mean_log(values: Sequence[float]) -> float:
    return math.fsum(math.log(value) for value in values) / len(values)


@formula
def plateau_day(readings: Sequence[tuple[Day, Quantity]]) -> Day | None:
    """Day from which a plant grew no more.

    The first reading after which no later one was higher by more than it could be told apart.

    Parameters
    ----------
    readings
        Of one plant, in the order of days [cm, or count].

    Returns
    -------
    Day or None
        The day; None while it still grew, or where fewer than two readings follow.

    Notes
    -----
    With the step s to which readings were written::

        first day t with   W(later) ≤ W(t) + s   for all later readings, of which there are at least two

    The rule of two readings is common practice and has no source. A plant that was cut back has a plateau, too.

    """
    for position, (day, value) in enumerate(readings):
        later = [reading for _, reading in readings[position + 1 :]]
        if len(later) < LOOKS_AFTER:
            return None
        if all(each.middle <= value.middle + max(value.step, each.step) for each in later):
            return day
    return None


Series = tuple[PlotPoint, ...]


def _last_each_day(points: Iterable[PlotPoint]) -> Series:
    """One reading a day: the last one entered."""
    return tuple({point.day: point for point in points}.values())


def _of(points: Sequence[PlotPoint], plant: str) -> Series:
    return _last_each_day(point for point in points if point.subject == plant)


def _days(first: PlotPoint, last: PlotPoint) -> float:
    return last.day.middle - first.day.middle


def _about(*points: PlotPoint) -> bool:
    return any(point.day.about or not point.day.single for point in points)


def _flagged(value: Quantity, *points: PlotPoint) -> Rate:
    """A rate a day; about where a day is."""
    return Rate(replace(value, about=value.about or _about(*points)), Per.DAY)


def _absolute(first: PlotPoint, last: PlotPoint) -> Rate:
    days = _days(first, last)
    steps = max(first.value.step, last.value.step) / days
    value = propagate(
        lambda after, before: absolute_growth_rate(before, after, days),
        increasing=[last.value],
        decreasing=[first.value],
        dimension=last.value.dimension,
        step=coarse(steps, absolute_growth_rate(first.value.middle, last.value.middle, days)),
    )
    return _flagged(value, first, last)


def _relative(first: PlotPoint, last: PlotPoint) -> Rate:
    days = _days(first, last)
    value = propagate(
        lambda after, before: relative_growth_rate(before, after, days),
        increasing=[last.value],
        decreasing=[first.value],
        dimension=Dimension.COUNT,
    )
    return _flagged(value, first, last)


def _measurable(series: Series) -> bool:
    """Whether there are two readings apart in time, each with both bounds."""
    ends = series[:1] + series[-1:]
    return len(series) > 1 and _days(*ends) > 0 and all(point.value.high is not None for point in ends)


def _grew_from_something(*points: PlotPoint) -> bool:
    return all(point.value.low > 0 for point in points)


def _by_plant(
    points: Sequence[PlotPoint],
    run: Run,
    path: str,
    value_of: Callable[[Series], Value],
    formula: Callable[..., object],
) -> tuple[Named, ...]:
    """A figure for each plant that was measured twice."""
    found = []
    for plant in run.setup.plant_ids:
        series = _of(points, plant)
        if _measurable(series) and (value := value_of(series)) is not None:
            ends = (series[0].source, series[-1].source)
            span = remark("from_day_to_day", first=series[0].day, last=series[-1].day)
            found.append(Named(plant, Label(plant), figure(f"{path}.{plant}", value, formula, ends, span)))
    return tuple(found)


def _plateaus(points: Sequence[PlotPoint], run: Run, path: str) -> tuple[Named, ...]:
    found = []
    for plant in run.setup.plant_ids:
        series = _of(points, plant)
        day = plateau_day([(point.day, point.value) for point in series])
        if day is not None:
            rows = [point.source for point in series if point.day >= day]
            found.append(Named(plant, Label(plant), figure(f"{path}.{plant}", day, plateau_day, rows)))
    return tuple(found)


def _shared_days(members: Sequence[Series]) -> tuple[Day, Day] | None:
    """The first and the last day on which every member was measured."""
    days = set.intersection(*({point.day for point in series} for series in members)) if members else set()
    return (min(days), max(days)) if len(days) > 1 else None


def _on(series: Series, day: Day) -> PlotPoint:
    return next(point for point in series if point.day == day)


def _group_value(first: Series, last: Series) -> Value:
    days = _days(first[0], last[0])
    if len(first) < FEWEST_FOR_A_MEAN:
        return Several(tuple(_relative(*ends) for ends in zip(first, last, strict=True)))
    value = propagate(
        lambda *readings: group_relative_growth_rate(readings[len(last) :], readings[: len(last)], days),
        increasing=[point.value for point in last],
        decreasing=[point.value for point in first],
        dimension=Dimension.COUNT,
    )
    return _flagged(value, first[0], last[0])


def _group(points: Sequence[PlotPoint], plants: Sequence[str], name: str) -> Figure:
    members = [_of(points, plant) for plant in plants]
    shared = _shared_days(members)
    if shared is None:
        return figure(name, None, group_relative_growth_rate, (), remark("group_not_measured_together"))
    first, last = (tuple(_on(series, day) for series in members) for day in shared)
    rows = [point.source for point in (*first, *last)]
    if not _grew_from_something(*first, *last) or any(p.value.high is None for p in (*first, *last)):
        return figure(name, None, group_relative_growth_rate, rows, remark("reading_without_size"))
    return figure(
        name,
        _group_value(first, last),
        group_relative_growth_rate,
        rows,
        remark("group_size", n=len(plants)),
        remark("day_to_day", first=shared[0], last=shared[1]),
    )


def rates_of(points: Sequence[PlotPoint], run: Run, path: str) -> SeriesRates:
    """Rates of one kind of reading; groups only where anything was measured plant by plant."""
    known = [point for point in points if point.subject in run.setup.plant_ids]
    groups = run.setup.groups if known else ()
    return SeriesRates(
        absolute=_by_plant(
            known, run, f"{path}.absolute", lambda s: _absolute(s[0], s[-1]), absolute_growth_rate
        ),
        relative=_by_plant(
            known,
            run,
            f"{path}.relative",
            lambda s: _relative(s[0], s[-1]) if _grew_from_something(s[0], s[-1]) else None,
            relative_growth_rate,
        ),
        by_group=tuple(
            Named(group, Label(group), _group(known, plants, f"{path}.by_group.{group}"))
            for group, plants in groups
        ),
        plateau=_plateaus(known, run, f"{path}.plateau"),
    )


_AGAINST: dict[str, RemarkCode] = {
    "taller than": "taller_than_claim",
    "lower than": "lower_than_claim",
    "within": "within_claim",
}


@formula
def height_against(height: Quantity, claimed: Quantity) -> str:
    """Height against a claim.

    Parameters
    ----------
    height
        Of the tallest plant [cm].
    claimed
        What the packet says [cm].

    Returns
    -------
    str
        `taller than`, `lower than` or `within`.

    Notes
    -----
    With the height from h₁ to h₂ and the claim from c₁ to c₂::

        taller: h₁ > c₂      lower: h₂ < c₁      within: else

    """
    if claimed.high is not None and height.low > claimed.high:
        return "taller than"
    return "lower than" if height.high is not None and height.high < claimed.low else "within"


def height_against_packet(run: Run, tallest: Figure) -> Figure:
    """The height that the packet claims; a remark says how the tallest plant stands to it."""
    seed, name = run.setup.seed, "growth.rate.packet"
    claimed = seed.claims.height if seed else None
    if claimed is None:
        return figure(name, None, height_against, (), remark("packet_without_height"))
    rows = (*tallest.rows, run.setup.at("seed"))
    height = tallest.value
    if not isinstance(height, Quantity):
        return figure(name, claimed, height_against, rows, remark("heights_not_recorded"))
    return figure(name, claimed, height_against, rows, remark(_AGAINST[height_against(height, claimed)]))
