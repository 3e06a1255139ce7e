"""Units and round numbers for the value axis of a chart.

In: quantities in canonical units. Out: a `Scale`: the unit to show them in, and few round ticks, from 0 or around
values of which 0 says nothing (a temperature, a pH). Never writes a quantity in words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sitegen.core.language.catalogue import active_catalogue, tr
from sitegen.core.language.wording import decimal_sign
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL, Dimension, Unit, unit_named
from sitegen.plot.chart_data import Tick, ValueAxis

Units = Literal["metric", "us"]
Use = Literal["length", "mass", "water", "dose", "warmth"] | Dimension  # a dimension: as it is kept

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)

# For each use: units from small to large, each with the value in itself from which the next one reads better.
_LADDERS: dict[tuple[Use, Units], tuple[tuple[str, float], ...]] = {
    ("length", "metric"): (("cm", math.inf),),
    ("length", "us"): (("in", math.inf),),
    ("mass", "metric"): (("g", 2000), ("kg", math.inf)),
    ("mass", "us"): (("oz", 48), ("lb", math.inf)),
    ("water", "metric"): (("ml", 1000), ("L", math.inf)),
    ("water", "us"): (("fl oz", 64), ("gal", math.inf)),
    ("dose", "metric"): (("ml", 2000), ("L", math.inf)),
    ("dose", "us"): (("tsp", 24), ("fl oz", math.inf)),
    ("warmth", "metric"): (("°C", math.inf),),
    ("warmth", "us"): (("°F", math.inf),),
}
_DIMENSIONS: dict[Use, Dimension] = {
    "length": Dimension.LENGTH,
    "mass": Dimension.MASS,
    "water": Dimension.VOLUME,
    "dose": Dimension.VOLUME,
    "warmth": Dimension.TEMPERATURE,
}


@dataclass(frozen=True, slots=True)
class Scale:
    """From `bottom` (0, unless it shows no amounts) to `top`, in one unit."""

    unit: Unit
    top: float
    ticks: tuple[Tick, ...]
    bottom: float = 0.0

    @property
    def axis(self) -> ValueAxis:
        """The value axis of a plot that has this scale."""
        return ValueAxis(self.unit.symbol, self.top, self.ticks, self.bottom)

    def of(self, canonical: float) -> float:
        """A canonical value in the scale's unit."""
        return shown(canonical, self.unit)

    def upper(self, quantity: Quantity) -> float:
        """The bound of a quantity that is drawn uppermost: the lower one where there is no other."""
        return self.of(quantity.low if quantity.high is None else quantity.high)


def shown(canonical: float, unit: Unit) -> float:
    """A value in the unit shown, to nine digits: more cannot be seen, and would only lengthen the drawing."""
    return float(f"{unit.from_canonical(canonical):.9g}")


def number_text(number: float) -> str:
    """A number on a scale: no exponent, no thousands sign, no needless zeros."""
    text = f"{number:.6f}".rstrip("0").rstrip(".")
    return text if "." not in text else text.replace(".", decimal_sign(active_catalogue().language))


def unit_for(use: Use, units: Units, largest: float) -> Unit:
    """The unit of a ladder that suits the largest canonical value."""
    dimension = use if isinstance(use, Dimension) else _DIMENSIONS[use]
    for name, enough in _LADDERS.get((use, units), ()):
        unit = unit_named(name, dimension)
        if unit is not None and unit.from_canonical(largest) < enough:
            return unit
    return CANONICAL[dimension]


def scale_for(
    use: Use, units: Units, quantities: Iterable[Quantity], most: int = 4, *, room: float = 0.0
) -> Scale:
    """A scale that holds every bound of the quantities, with `room` (a share of the largest) above them."""
    bounds = [bound for q in quantities for bound in (q.low, q.high) if bound is not None]
    largest = max(bounds, default=0.0)
    unit = unit_for(use, units, largest)
    last, ticks = _round_ticks(shown(largest, unit), most)
    return Scale(unit, max(last, shown(largest * (1 + room), unit)), ticks)


def scale_around(use: Use, units: Units, bounds: Iterable[float], least: float, most: int = 4) -> Scale:
    """A scale around canonical values, never narrower than `least`: for marks alone, never for bars from 0.

    Readings that hardly differ are not drawn as if they did.
    """
    known = list(bounds)
    unit = unit_for(use, units, max(known))
    short = max(0.0, least - (max(known) - min(known))) / 2
    low, high = shown(min(known) - short, unit), shown(max(known) + short, unit)
    step = _round_step((high - low) / most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    values = [float(f"{step * i:.9g}") for i in range(first, last + 1)]
    ticks = tuple(Tick(value, number_text(value)) for value in values)
    return Scale(unit, values[-1], ticks, values[0])


def beginning(scale: Scale, dimension: Dimension) -> str:
    """A sentence on a scale of amounts that does not begin at 0; empty where it does, or where 0 means nothing."""
    if scale.bottom == 0 or dimension in (Dimension.ACIDITY, Dimension.TEMPERATURE):
        return ""
    at = f"{number_text(scale.bottom)} {scale.unit.symbol}"
    return tr("The scale begins at {amount}, not at 0.", amount=at)


def _round_ticks(largest: float, most: int) -> tuple[float, tuple[Tick, ...]]:
    """The last tick, and all of them: ticks a round step apart: at most `most` above 0."""
    if largest <= 0:
        return 1.0, (Tick(0.0, "0"),)
    step = _round_step(largest / most)
    count = max(1, math.ceil(largest / step - 1e-9))
    values = [float(f"{step * i:.9g}") for i in range(count + 1)]
    return values[-1], tuple(Tick(value, number_text(value)) for value in values)


def _round_step(least: float) -> float:
    power = 10.0 ** math.floor(math.log10(least))
    return next(power * step for step in _STEPS if power * step >= least * (1 - 1e-9))
