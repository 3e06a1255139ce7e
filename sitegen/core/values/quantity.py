"""A quantity as it was recorded: an interval with flags, never more exact than its record.

In: numbers in the canonical unit of a dimension (`core.values.units`). Out: `Quantity`, sums (`total`), and formulas
over intervals (`propagate`). Formulas take and give plain floats; flags are combined here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from sitegen.core.values.units import CANONICAL, PPM_SCALES, Dimension, units_of

FINER_BY = 10  # the most by which steps of one scale differ: 1 and 0.1, 1 and a quarter
WRITTEN_FINER_BY = 100  # the same, from whole units to hundredths: 3 oz and 2.25 oz
SIGNIFICANT_DIGITS = 12  # of stored facts, so that results are equal on all machines


@dataclass(frozen=True, slots=True)
class Quantity:
    """An interval `low` … `high` in the canonical unit of `dimension`.

    `high` is None where nothing bounds it; `open` counts the records written "at least", `unweighed` those
    whose size is unknown; `about` and `by_eye` are flags without an invented width; `step` is the
    resolution written (0: exact), which results are rounded to.
    """

    low: float
    high: float | None
    dimension: Dimension
    about: bool = False
    by_eye: bool = False
    open: int = 0
    unweighed: int = 0
    step: float = 0.0

    @property
    def unit(self) -> str:
        """The symbol of the canonical unit."""
        return CANONICAL[self.dimension].symbol

    @property
    def known(self) -> bool:
        """Whether anything is known of its size."""
        return self.low > 0 or self.high is not None or self.unweighed == 0

    @property
    def some(self) -> bool:
        """Whether all that is known is that there was some of it."""
        return self.low == 0 and self.high is None and self.open > 0 and self.unweighed > 0

    @property
    def single(self) -> bool:
        """Whether it is one number, with or without flags."""
        return self.high is not None and self.low == self.high

    @property
    def middle(self) -> float:
        """The point to draw: the middle, or the lower bound where there is no upper one."""
        return self.low if self.high is None else (self.low + self.high) / 2

    @property
    def exact(self) -> bool:
        """Whether it is one number without a flag."""
        return self.single and not (self.about or self.by_eye)

    def times(self, factor: float) -> Quantity:
        """The quantity times a factor, which is exact and not negative."""
        high = None if self.high is None else self.high * factor
        counts = (self.about, self.by_eye, self.open, self.unweighed)
        return Quantity(self.low * factor, high, self.dimension, *counts, self.step * factor)


def in_ppm(conductivity: Quantity, scale: int) -> Quantity:
    """A conductivity as a meter of a scale (ppm for each mS/cm) shows it."""
    return replace(conductivity.times(scale), dimension=PPM_SCALES[scale])


def exactly(value: float, dimension: Dimension, step: float = 0.0) -> Quantity:
    """One measured number."""
    return Quantity(value, value, dimension, step=step)


def counted(number: int) -> Quantity:
    """A count of things."""
    return Quantity(number, number, Dimension.COUNT, step=1)


def unknown(dimension: Dimension) -> Quantity:
    """The amount of something that happened and was not measured."""
    return Quantity(0.0, None, dimension, unweighed=1)


def some(dimension: Dimension) -> Quantity:
    """An amount of which was said only that there was some: not measured, and more than nothing."""
    return Quantity(0.0, None, dimension, open=1, unweighed=1)


def total(quantities: Iterable[Quantity], dimension: Dimension) -> Quantity:
    """The sum of quantities of one dimension.

    Lower bounds add up. Upper bounds add up where every part has one. Counts of open and unweighed parts add up. A
    flag of any part is one of the sum. The step is the coarsest, unless all parts were written on one scale: a sum of
    ounces and quarters of an ounce is in quarters. The sum of nothing is an exact 0.
    """
    parts = tuple(quantities)
    highs = [part.high for part in parts if part.high is not None]
    about, by_eye, open_, unweighed = False, False, 0, 0
    for part in parts:
        about, by_eye = about or part.about, by_eye or part.by_eye
        open_, unweighed = open_ + part.open, unweighed + part.unweighed
    step = _step_of({part.step for part in parts if part.step}, dimension)
    low = math.fsum([part.low for part in parts])
    high = math.fsum(highs) if len(highs) == len(parts) else None
    return Quantity(low, high, dimension, about, by_eye, open_, unweighed, step)


def spanning(values: Sequence[Quantity]) -> Quantity:
    """From the lowest to the highest of several quantities of one dimension, with the flags and counts of any of them.

    There is no upper bound where one of them has none. The step is the coarsest. There has to be one at least.
    """
    highs = [value.high for value in values if value.high is not None]
    return replace(
        values[0],
        low=min(value.low for value in values),
        high=max(highs) if len(highs) == len(values) else None,
        about=any(value.about for value in values),
        by_eye=any(value.by_eye for value in values),
        open=sum(value.open for value in values),
        unweighed=sum(value.unweighed for value in values),
        step=max(value.step for value in values),
    )


def _step_of(steps: Collection[float], dimension: Dimension) -> float:
    """The step of a sum: the finest of one scale, the coarsest of several."""
    if not steps:
        return 0.0
    finest, coarsest = min(steps), max(steps)
    return finest if all(_one_scale(step, finest, dimension) for step in steps) else coarsest


@lru_cache(maxsize=1024)
def _one_scale(step: float, finest: float, dimension: Dimension) -> bool:
    """Whether two steps are of one scale: their ratio is round and not too large."""
    times = step / finest
    rounds = (round(times), round(times * 2) / 2)
    if not any(math.isclose(times, whole, rel_tol=1e-9) for whole in rounds):
        return False
    whole_unit = any(math.isclose(step, float(unit.factor), rel_tol=1e-9) for unit in units_of(dimension))
    return times <= (WRITTEN_FINER_BY if whole_unit else FINER_BY) * (1 + 1e-9)


def propagate(
    formula: Callable[..., float],
    *,
    increasing: Sequence[Quantity] = (),
    decreasing: Sequence[Quantity] = (),
    dimension: Dimension,
    step: float = 0.0,
) -> Quantity:
    """A formula evaluated at the corners of its arguments' intervals.

    Parameters
    ----------
    formula
        Plain floats in, float out; takes the increasing arguments first, then the decreasing ones.
    increasing, decreasing
        Arguments in which the formula does not fall, and in which it does not rise.
    dimension, step
        Of the result.

    Returns
    -------
    Quantity
        low = f(lows of increasing, highs of decreasing), high = f(highs of increasing, lows of decreasing). Without
        an upper bound in `increasing` the result has none; without one in `decreasing` its lower bound is 0 (every
        formula used here is non-negative and tends to 0).

    Notes
    -----
    The bounds of a share s/(s+g) are right only if s and g are the arguments: s and the sum s+g are not independent.

    """
    lows = [q.low for q in increasing]
    falling_lows = [q.low for q in decreasing]
    highs = [q.high for q in increasing if q.high is not None]
    falling_highs = [q.high for q in decreasing if q.high is not None]
    low = formula(*lows, *falling_highs) if len(falling_highs) == len(decreasing) else 0.0
    unbounded = len(highs) < len(increasing)
    try:
        high = None if unbounded else formula(*highs, *falling_lows)
    except ZeroDivisionError:
        high = None
    parts = (*increasing, *decreasing)
    return Quantity(
        low,
        high,
        dimension,
        about=any(q.about for q in parts),
        by_eye=any(q.by_eye for q in parts),
        open=sum(q.open for q in parts),
        unweighed=sum(q.unweighed for q in parts),
        step=step,
    )


def rounded(value: float, digits: int = SIGNIFICANT_DIGITS) -> float:
    """A float with so many significant digits, and never minus zero."""
    return float(f"{value:.{digits}g}") + 0.0
