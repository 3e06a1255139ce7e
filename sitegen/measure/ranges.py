"""Readings side by side: the range they span, and the points to draw.

In: readings. Out: an interval from the lowest to the highest, `PlotPoint`s. Never averages over days
without a reading.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from sitegen.core.facts.figure import NOT_RECORDED, Remark, Share, counted_remark
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity, spanning
from sitegen.measure.harvest.parts import INSIDE, OF_PLANTS
from sitegen.measure.methods import formula


@formula(reads=("readings.value", "lights.hours", *OF_PLANTS), exact_if=INSIDE)
def reading_range(values: Sequence[Quantity]) -> Quantity | None:
    """Lowest to highest reading.

    The span of what was read, not of what was there between the readings.

    Parameters
    ----------
    values
        Readings of one kind.

    Returns
    -------
    Quantity or None
        From the lowest to the highest [as read]; None without a reading.

    Notes
    -----
    ::

        range = min(readings) to max(readings)

    """
    return spanning(values) if values else None


def range_remark(readings: int) -> Remark:
    """How many readings stand behind a range."""
    return counted_remark("readings", readings) or NOT_RECORDED


def points(readings: Iterable[tuple[Reading, str]]) -> tuple[PlotPoint, ...]:
    """Readings with their subjects, ready to be drawn."""
    return tuple(PlotPoint(r.day, subject, r.value, r.source, r.at, r.moment) for r, subject in readings)


FEWEST_FOR_A_MEAN = 3  # fewer values are shown one by one
Z_95 = 1.959963984540054  # 97.5 % point of the standard normal distribution


@formula(
    reads=(
        "events.amount",
        "picks.count",
        "picks.spoilt",
        "picks.earlier",
        "readings.value",
        "milestones.plants",
    ),
    exact_if={
        "a later count holds it": ("events.amount", "picks.earlier"),
        "it lies on one side of the band": ("readings.value",),
        "a count says how many": ("milestones.plants",),
    },
)
def wilson_interval(part: int, whole: int) -> tuple[float, float]:
    """Share with its 95 % interval.

    A count out of a total, with the range of true shares it would fit. The range stays between 0 and 1 and
    works for counts as small as a seed tray.

    Parameters
    ----------
    part
        How many did [count], 0 to `whole`.
    whole
        Out of how many [count], at least 1.

    Returns
    -------
    tuple[float, float]
        Lower and upper limit [share from 0 to 1]; exactly 0 below for none, exactly 1 above for all.

    Notes
    -----
    With p = part / whole, n = whole and z = 1.959964::

        (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)

    The 95 % are an average: over all true shares the interval includes the share in 95 to 96 % of samples, for a single
    one in more or fewer. It assumes that seeds or plants did or did not independently of each other; those sharing one
    tub may not.

    References
    ----------
    Wilson, E. B. (1927). Probable inference, the law of succession, and statistical inference. Journal of
    the American Statistical Association 22, 209-212.

    Newcombe, R. G. (1998). Two-sided confidence intervals for the single proportion. Statistics in Medicine
    17, 857-872 (method 3).

    Agresti, A. and Coull, B. A. (1998). Approximate is better than "exact" for interval estimation of binomial
    proportions. The American Statistician 52, 119-126 (mean coverage).

    """
    if whole < 1 or not 0 <= part <= whole:
        raise ValueError(f"no share: {part} of {whole}")
    p, z_squared = part / whole, Z_95 * Z_95
    centre = p + z_squared / (2 * whole)
    reach = Z_95 * math.sqrt(p * (1 - p) / whole + z_squared / (4 * whole * whole))
    scale = 1 + z_squared / whole
    # On paper these are 0 and 1; in floating point they would miss by the last digit.
    low = 0.0 if part == 0 else (centre - reach) / scale
    high = 1.0 if part == whole else (centre + reach) / scale
    return low, high


def share_of(part: int, whole: int) -> Share | None:
    """A share with its interval; None where the two counts cannot both be true."""
    if whole < 1 or not 0 <= part <= whole:
        return None
    return Share(part, whole, *wilson_interval(part, whole))
