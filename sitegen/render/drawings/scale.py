"""A level scale from 0 in round numbers of one unit.

In: the largest value to be shown. Out: `Scale`, which turns values into places per mille of the width.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.units import CANONICAL, Dimension, Unit, Units, unit_named

FULL = 1000.0  # the width of a drawing
MOST_STEPS = 4  # whose numbers have room at 320 px; measured on a serif face

_LEAST = 1e-6  # of a unit: nothing smaller is ever weighed
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
# Units from small to large, each with the value in itself from which the next one reads better.
_LADDERS: dict[tuple[Dimension, Units], tuple[tuple[str, float], ...]] = {
    (Dimension.MASS, "metric"): (("g", 2000), ("kg", math.inf)),
    (Dimension.MASS, "us"): (("oz", 48), ("lb", math.inf)),
    (Dimension.LENGTH, "metric"): (("cm", math.inf),),
    (Dimension.LENGTH, "us"): (("in", math.inf),),
}


@dataclass(frozen=True, slots=True)
class Scale:
    """From 0 in `count` steps of one width, in `unit`."""

    unit: Unit
    step: float
    count: int

    @property
    def ticks(self) -> tuple[tuple[float, float], ...]:
        """Each round value, in the unit, with its place."""
        return tuple(
            (float(f"{self.step * i:.9g}"), round(FULL * i / self.count, 1)) for i in range(self.count + 1)
        )

    def place(self, canonical: float) -> float:
        """The place of a value in the canonical unit; nothing lies beyond the ends."""
        share = self.unit.from_canonical(canonical) / (self.step * self.count)
        return round(FULL * min(1.0, max(0.0, share)), 1)

    def labels(self, wording: Wording) -> tuple[tuple[str, float], ...]:
        """Each round value in words, with its place; 0 has no unit."""
        decimals = next(n for n in range(9) if math.isclose(self.step, round(self.step, n), rel_tol=1e-9))
        unit = f"{NBSP}{self.unit.symbol}" if self.unit.symbol else ""
        return tuple(
            (wording.number(value, decimals) + unit if value else wording.number(0), at)
            for value, at in self.ticks
        )


def scale_to(largest: float, dimension: Dimension, units: Units) -> Scale:
    """The scale of at most four round steps that holds a canonical value."""
    unit = _unit_for(largest, dimension, units)
    value = unit.from_canonical(largest)
    if value < _LEAST:
        return Scale(unit, 1.0, 1)
    step = _round_step(value / MOST_STEPS)
    return Scale(unit, step, max(1, math.ceil(value / step - 1e-9)))


def _unit_for(largest: float, dimension: Dimension, units: Units) -> Unit:
    for symbol, enough in _LADDERS.get((dimension, units), ()):
        unit = unit_named(symbol, dimension)
        if unit is not None and unit.from_canonical(largest) < enough:
            return unit
    return CANONICAL[dimension]


def _round_step(least: float) -> float:
    power = 10.0 ** math.floor(math.log10(least))
    return float(f"{next(power * s for s in _STEPS if power * s >= least * (1 - 1e-9)):.9g}")
