"""How fast plants grew.

In: readings as plain numbers or quantities. Out: rates and the day of the plateau. Never averages groups over
days on which some of their plants were not measured.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sitegen.core.day import Day
from sitegen.core.quantity import Quantity

__all__ = [
    "absolute_growth_rate",
    "group_relative_growth_rate",
    "plateau_day",
    "relative_growth_rate",
]

LOOKS_AFTER = 2  # readings that must follow before a stand-still is called one


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
