"""Statistics over plants, of one value a plant: how many, their mean, lowest to highest, and standard deviation.

In: a value of each plant that was kept apart from the others. Out: `Statistics`. Fewer than three are shown one by one.
Never takes a value that is true of several plants for values of each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import fmean, stdev

from sitegen.core.facts.figure import Figure, Remark, Several, Value, remark
from sitegen.core.facts.indices import Statistics
from sitegen.core.findings.source import Source
from sitegen.core.values.quantity import Quantity, counted, propagate
from sitegen.measure.harvest.parts import INSIDE, OF_PLANTS
from sitegen.measure.methods import coarse, figure, formula
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN, reading_range

FEW = remark("fewer_than_three_plants")


@formula(reads=())
def plants_in(number: int) -> Quantity:
    """Plants in a mean.

    Plants of a group, variety or tub that were measured by themselves, or all of them where they were weighed together.

    Parameters
    ----------
    number
        The plants [count].

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        n = number of plants

    """
    return counted(number)


@formula(reads=("readings.value", *OF_PLANTS), exact_if=INSIDE)
def mean_of_plants(values: Sequence[float]) -> float:
    """Mean over plants.

    Parameters
    ----------
    values
        One for each plant, at least three [as read].

    Returns
    -------
    float
        Mean [as read].

    Notes
    -----
    ::

        mean = Σ value / n

    """
    return fmean(values)


@formula(reads=("readings.value", *OF_PLANTS), exact_if=INSIDE)
def standard_deviation(values: Sequence[float]) -> float:
    """Standard deviation over plants.

    Of the plants that were measured, with n - 1 below the line: they stand for others grown alike.

    Parameters
    ----------
    values
        One for each plant, at least three [as read].

    Returns
    -------
    float
        Standard deviation [as read].

    Notes
    -----
    ::

        s = √( Σ (value - mean)² / (n - 1) )

    There is none where a value is a range: the deviation would be one, too.

    References
    ----------
    ISO 3534-1:2006, Statistics - Vocabulary and symbols, sample standard deviation (from memory).

    """
    return stdev(values)


def number_of_plants(name: str, number: int, rows: Sequence[Source], *said: Remark | None) -> Figure:
    """How many plants stand behind a mean."""
    return figure(f"{name}.number", plants_in(number), plants_in, rows, *said)


def mean_figure(
    name: str, values: Sequence[Quantity], rows: Sequence[Source], *said: Remark | None
) -> Figure:
    """The mean; none of fewer than three plants."""
    if len(values) < FEWEST_FOR_A_MEAN:
        return figure(f"{name}.mean", None, mean_of_plants, rows, FEW)
    step = coarse(max(value.step for value in values) / len(values), max(value.low for value in values))
    mean = propagate(
        lambda *each: mean_of_plants(each), increasing=values, dimension=values[0].dimension, step=step
    )
    return figure(f"{name}.mean", mean, mean_of_plants, rows, *said)


def range_figure(
    name: str, values: Sequence[Quantity], rows: Sequence[Source], *said: Remark | None
) -> Figure:
    """Lowest to highest; fewer than three values each by itself."""
    value: Value = reading_range(values)
    if len(values) < FEWEST_FOR_A_MEAN:
        value = Several(tuple(values)) if len(values) > 1 else values[0]
    return figure(f"{name}.range", value, reading_range, rows, *said)


def deviation_figure(
    name: str, values: Sequence[Quantity], rows: Sequence[Source], *said: Remark | None
) -> Figure:
    """The standard deviation of at least three plants, each with one number."""
    path = f"{name}.deviation"
    if len(values) < FEWEST_FOR_A_MEAN:
        return figure(path, None, standard_deviation, rows, FEW)
    if not all(value.single for value in values):
        return figure(path, None, standard_deviation, rows, remark("value_is_a_range"))
    spread = standard_deviation([value.low for value in values])
    about, by_eye = any(value.about for value in values), any(value.by_eye for value in values)
    step = coarse(max(value.step for value in values) / len(values), spread)
    value = replace(values[0], low=spread, high=spread, about=about, by_eye=by_eye, step=step)
    return figure(path, value, standard_deviation, rows, *said)


def statistics_of(
    name: str, values: Sequence[Quantity], rows: Sequence[Source], *said: Remark | None
) -> Statistics:
    """All four, of the values of at least one plant."""
    return Statistics(
        number_of_plants(name, len(values), rows, *said),
        mean_figure(name, values, rows, *said),
        range_figure(name, values, rows, *said),
        deviation_figure(name, values, rows, *said),
    )
