"""Growth rates and plateaus.

In: readings as plain numbers or quantities. Out: rates and the day of the plateau, each inside one stretch without a
cut. Never averages groups over days on which some of their plants were not measured.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import (
    Figure,
    Label,
    Named,
    Per,
    Rate,
    Remark,
    Several,
    Value,
    remark,
)
from sitegen.core.facts.indices import SeriesRates
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.stretches import (
    Cuts,
    Series,
    longest_stretch,
    placed,
    until_moved,
)
from sitegen.measure.methods import Conditions, coarse, figure, formula
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN

LOOKS_AFTER = 2  # readings that must follow before a stand-still is called one


NOTHING_GREW: Conditions = {"both readings are alike": ("readings.day",)}


@formula(reads=("readings.day", "readings.value"), exact_if=NOTHING_GREW)
def absolute_growth_rate(first: float, last: float, days: float) -> float:
    """Growth a day.

    From the first reading of a plant to its last, inside the longest stretch of days without a prune, a pick, a loss
    or a new sowing of it. A reading on the day of one is in no stretch with others.

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

    Days that are known as a span give a range: from the largest to the smallest possible number of days. A reading
    "before" a day gives no rate.

    References
    ----------
    Hunt, R. (1982). Plant Growth Curves: The Functional Approach to Plant Growth Analysis. Edward Arnold, London.

    """
    return (last - first) / days


@formula(reads=("readings.day", "readings.value"), exact_if=NOTHING_GREW)
def relative_growth_rate(first: float, last: float, days: float) -> float:
    """Relative growth a day.

    Growth for what was there already, from the first reading of a plant to its last, inside the longest stretch of
    days without a prune, a pick, a loss or a new sowing of it.

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


@formula(reads=("readings.day", "readings.value"), exact_if=NOTHING_GREW)
def group_relative_growth_rate(first: Sequence[float], last: Sequence[float], days: float) -> float:
    """Relative growth of a group a day.

    Between the first and the last day on which all plants of the group were measured, inside the longest stretch of
    days without a cut of any. A plant that moved to another tub counts with its readings from before its move.

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


@formula(
    reads=("readings.day", "readings.value"),
    exact_if={
        "it follows the day": ("readings.day",),
        "it is the same day for all values that the readings allow": ("readings.value",),
    },
)
def plateau_day(readings: Sequence[tuple[Day, Quantity]]) -> Day | None:
    """Day from which a plant grew no more.

    The first reading after which no later one was higher by more than it could be told apart, inside the longest
    stretch of days without a prune, a pick, a loss or a new sowing. No day where the plant was higher after them.

    Parameters
    ----------
    readings
        Of one plant in one stretch, in the order of days [cm, or count].

    Returns
    -------
    Day or None
        The day; None while it still grew, or where fewer than two readings follow.

    Notes
    -----
    With the step s to which readings were written::

        first day t with   W(later) ≤ W(t) + s   for all later readings, of which there are at least two

    The rule of two readings is common practice and has no source. Where readings are ranges it is from the first day on
    which this may hold to the first one on which it does whatever they were, and about where one of them is.

    """
    rested = [
        number
        for number in range(len(readings) - LOOKS_AFTER)
        if not any(_may_exceed(each, readings[number][1]) for _, each in readings[number + 1 :])
    ]
    if not rested:
        return None
    may_rest = next(
        number
        for number in range(rested[0] + 1)
        if not any(_exceeds(each, readings[number][1]) for _, each in readings[number + 1 :])
    )
    first, last = readings[may_rest][0], readings[rested[0]][0]
    fuzzy = any(day.about or value.about or value.by_eye for day, value in readings)
    if may_rest == rested[0]:
        return replace(last, about=last.about or fuzzy)
    return Day(first.first, last.last, first.about or last.about or fuzzy)


def _exceeds(value: Quantity, other: Quantity) -> bool:
    """Whether a reading was certainly higher than another, by more than it could be told apart."""
    return other.high is not None and value.low > other.high + max(value.step, other.step)


def _may_exceed(value: Quantity, other: Quantity) -> bool:
    """Whether a reading may have been so much higher than another."""
    return value.high is None or value.high > other.low + max(value.step, other.step)


def _last_each_day(points: Iterable[PlotPoint]) -> Series:
    """One reading a day: the last one entered."""
    return tuple({point.day: point for point in points}.values())


def _of(points: Sequence[PlotPoint], plant: str) -> Series:
    return _last_each_day(placed(point for point in points if point.subject == plant))


def _over(
    rate: Callable[[float, float, float], float],
    first: PlotPoint,
    last: PlotPoint,
    dimension: Dimension,
    step: float = 0.0,
) -> Quantity:
    """A rate from one reading to another, over the smallest to the largest possible number of days."""
    return _hull(
        propagate(
            lambda after, before, days=days: rate(before, after, days),
            increasing=[last.value],
            decreasing=[first.value],
            dimension=dimension,
            step=step,
        )
        for days in _possible_days(first, last)
    )


def _possible_days(first: PlotPoint, last: PlotPoint) -> set[int]:
    """The smallest and the largest number of days from one reading to another."""
    span = last.day.span_since(first.day)
    return {span.first, span.last}


def _hull(values: Iterable[Quantity]) -> Quantity:
    """From the lowest to the highest of values that have both bounds."""
    found = tuple(values)
    highs = [value.high for value in found if value.high is not None]
    return replace(found[0], low=min(value.low for value in found), high=max(highs))


def _flagged(value: Quantity, *points: PlotPoint) -> Rate:
    """A rate a day; about where a day is."""
    return Rate(replace(value, about=value.about or any(point.day.about for point in points)), Per.DAY)


def _absolute(first: PlotPoint, last: PlotPoint) -> Rate:
    span = last.day.span_since(first.day)
    grown = absolute_growth_rate(first.value.middle, last.value.middle, span.last)
    step = coarse(max(first.value.step, last.value.step) / span.first, grown)
    return _flagged(_over(absolute_growth_rate, first, last, last.value.dimension, step), first, last)


def _relative(first: PlotPoint, last: PlotPoint) -> Rate:
    return _flagged(_over(relative_growth_rate, first, last, Dimension.COUNT), first, last)


def _measurable(series: Series) -> bool:
    """Whether there are two readings apart in time, each with both bounds."""
    ends = series[:1] + series[-1:]
    apart = len(series) > 1 and ends[1].day.span_since(ends[0].day).first > 0
    return apart and all(point.value.high is not None for point in ends)


def _grew_from_something(*points: PlotPoint) -> bool:
    return all(point.value.low > 0 for point in points)


def _stretch(points: Sequence[PlotPoint], cuts: Cuts, plant: str) -> tuple[Series, Remark | None]:
    """The readings that a plant's rates come from, and a remark where they are not all."""
    series = _of(points, plant)
    stretch = longest_stretch(series, cuts[plant])
    return stretch, None if stretch == series else remark("longest_stretch")


def _by_plant(
    points: Sequence[PlotPoint],
    cuts: Cuts,
    path: str,
    value_of: Callable[[Series], Value],
    formula: Callable[..., object],
) -> tuple[Named, ...]:
    """A figure for each plant that was measured twice."""
    found = []
    for plant in cuts:
        series, part = _stretch(points, cuts, plant)
        if _measurable(series) and (value := value_of(series)) is not None:
            ends = (series[0].source, series[-1].source)
            span = remark("from_day_to_day", first=series[0].day, last=series[-1].day)
            found.append(
                Named(plant, Label(plant), figure(f"{path}.{plant}", value, formula, ends, span, part))
            )
    return tuple(found)


def _plateaus(points: Sequence[PlotPoint], cuts: Cuts, path: str) -> tuple[Named, ...]:
    found = []
    for plant in cuts:
        series, part = _stretch(points, cuts, plant)
        day = plateau_day([(point.day, point.value) for point in series])
        if day is not None and not _higher_later(_of(points, plant), series, day):
            rows = [point.source for point in series if point.day.last >= day.first]
            found.append(Named(plant, Label(plant), figure(f"{path}.{plant}", day, plateau_day, rows, part)))
    return tuple(found)


def _higher_later(series: Series, stretch: Series, day: Day) -> bool:
    """Whether a plant may have been higher after the stretch than on a day of it."""
    values = [point.value for point in stretch if day.first <= point.day.first and point.day.last <= day.last]
    later = [point.value for point in series if point.day > stretch[-1].day]
    return any(_may_exceed(each, value) for each in later for value in values[-1:])


def _shared(members: Sequence[Series]) -> Series:
    """The readings of the first member on days on which every member was measured."""
    days = set.intersection(*({point.day for point in series} for series in members)) if members else set()
    return tuple(point for point in members[0] if point.day in days) if days else ()


def _on(series: Series, day: Day) -> PlotPoint:
    return next(point for point in series if point.day == day)


def _group_value(first: Series, last: Series) -> Value:
    if len(first) < FEWEST_FOR_A_MEAN:
        return Several(tuple(_relative(*ends) for ends in zip(first, last, strict=True)))
    value = _hull(
        propagate(
            lambda *readings, days=days: group_relative_growth_rate(
                readings[len(last) :], readings[: len(last)], days
            ),
            increasing=[point.value for point in last],
            decreasing=[point.value for point in first],
            dimension=Dimension.COUNT,
        )
        for days in _possible_days(first[0], last[0])
    )
    return _flagged(value, first[0], last[0])


def _group(points: Sequence[PlotPoint], plants: Sequence[str], run: Run, cuts: Cuts, name: str) -> Figure:
    own = {plant: _of(points, plant) for plant in plants}
    members = {plant: until_moved(series, run, plant) for plant, series in own.items()}
    gone = tuple(plant for plant in plants if own[plant] != members[plant])
    moved = remark("counted_until_moved", plants=gone) if gone else None
    shared = _shared(tuple(members.values()))
    stretch = longest_stretch(shared, [cut for plant in plants for cut in cuts[plant]])
    if len(stretch) < 2 or stretch[-1].day.span_since(stretch[0].day).first <= 0:
        why = "group_cut_between" if len(shared) > 1 else "group_not_measured_together"
        return figure(name, None, group_relative_growth_rate, (), remark(why), moved)
    days = stretch[0].day, stretch[-1].day
    first, last = (tuple(_on(series, day) for series in members.values()) for day in days)
    rows = [point.source for point in (*first, *last)]
    if not _grew_from_something(*first, *last) or any(p.value.high is None for p in (*first, *last)):
        return figure(name, None, group_relative_growth_rate, rows, remark("reading_without_size"), moved)
    return figure(
        name,
        _group_value(first, last),
        group_relative_growth_rate,
        rows,
        remark("group_size", n=len(plants)),
        remark("day_to_day", first=days[0], last=days[1]),
        None if stretch == shared else remark("longest_stretch"),
        moved,
    )


def rates_of(points: Sequence[PlotPoint], run: Run, cuts: Cuts, path: str) -> SeriesRates:
    """Rates of one kind of reading; groups only where anything was measured plant by plant."""
    known = [point for point in points if point.subject in run.setup.plant_ids]
    groups = run.setup.groups if known else ()
    return SeriesRates(
        absolute=_by_plant(
            known, cuts, f"{path}.absolute", lambda s: _absolute(s[0], s[-1]), absolute_growth_rate
        ),
        relative=_by_plant(
            known,
            cuts,
            f"{path}.relative",
            lambda s: _relative(s[0], s[-1]) if _grew_from_something(s[0], s[-1]) else None,
            relative_growth_rate,
        ),
        by_group=tuple(
            Named(group, Label(group), _group(known, plants, run, cuts, f"{path}.by_group.{group}"))
            for group, plants in groups
        ),
        plateau=_plateaus(known, cuts, f"{path}.plateau"),
    )
