"""The unit in which a quantity is displayed, and its number of decimals.

In: a quantity and a system of units. Out: `DisplayValue`, decimal numbers in a unit of that system. In the system of
measurement a value is displayed as it was written. In the other system it is rounded to the power of ten nearest to
its step, with at least two significant digits. A number is rounded to the nearest; a lower bound down and an "up to"
up. Never words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache, lru_cache, partial

from sitegen.core.values.quantity import Quantity, rounded
from sitegen.core.values.units import CANONICAL, Dimension, Unit, Units, unit_named

HALF_UP, DOWN, UP = ROUND_HALF_UP, ROUND_FLOOR, ROUND_CEILING

LEAST_DIGITS = 2  # of a converted value: "0.53 gal", not "0.5 gal"
EXACT_DIGITS = 3  # of a computed value whose step is not known
MOST_DIGITS = 5  # of a number with decimals: no scale or jug resolves more
WRITTEN_IN_ML = 10.0  # ml: amounts typed in ml have steps below it, amounts typed in litres seldom
MOST_LOST = 0.02  # of a bound, by rounding it to its safe side
UNNOTICED = 0.001  # the share of its step by which a bound may exceed its record: 10.3 oz are 292.0001 g
OUNCES_PER_POUND = 16
COMPOUND_STEP_OZ = 1.5  # beyond it ounces beside pounds would say more than was measured

# For each dimension and system: units, each with the least number that it is used for.
_BY_SIZE: dict[Dimension, dict[Units, tuple[tuple[str, float], ...]]] = {
    Dimension.MASS: {"metric": (("g", 0), ("kg", 1)), "us": (("oz", 0), ("lb", 1))},
    Dimension.VOLUME: {
        "metric": (("ml", 0), ("L", 1)),
        "us": (("tsp", 0), ("fl oz", 0.5), ("gal", 0.5)),
    },
    Dimension.LENGTH: {"metric": (("mm", 0), ("cm", 1), ("m", 10)), "us": (("in", 0), ("ft", 30))},
    Dimension.AREA: {"metric": (("cm²", 0), ("m²", 0.1)), "us": (("sq ft", 0),)},
    Dimension.TEMPERATURE: {"metric": (("°C", -math.inf),), "us": (("°F", -math.inf),)},
    Dimension.TEMPERATURE_DIFFERENCE: {"metric": (("K", -math.inf),), "us": (("°F", -math.inf),)},
    Dimension.VOLUME_DOSE: {"metric": (("ml/L", 0),), "us": (("ml/gal", 0),)},
    Dimension.MASS_DOSE: {"metric": (("g/L", 0),), "us": (("g/gal", 0),)},
    Dimension.HEAT_SUM: {"metric": (("°C d", 0),), "us": (("°F d", 0),)},
}
# Displayed only where a value was written in them.
_AS_WRITTEN: dict[Dimension, tuple[str, ...]] = {
    Dimension.MASS: ("lb",),
    Dimension.VOLUME: ("tbsp", "cup", "pt", "qt"),
    Dimension.LENGTH: ("ft",),
    Dimension.VOLUME_DOSE: ("tsp/gal",),
}
# Leading digits of a step that a person writes: whole ones (several equal plants), halves, quarters, eighths.
_WRITTEN_STEPS = (*range(1, 10), 1.25, 2.5)
_QUARTERS = (1.25, 2.5)
QUARTER_AS = 0.4  # a quarter has two decimals where a tenth has one, so it converts like a tenth


@dataclass(frozen=True, slots=True)
class DisplayValue:
    """Numbers in one unit; `ounces` are those beside whole pounds, if any."""

    unit: Unit
    low: Decimal
    high: Decimal | None
    ounces: Decimal | None = None


def quantized(value: float, decimals: int, rounding: str = HALF_UP) -> Decimal:
    """A float rounded to some decimals: halves up unless told otherwise, and never minus zero."""
    exact = Decimal(repr(rounded(value)))
    found = exact.quantize(Decimal(1).scaleb(-decimals), rounding=rounding)
    return found or abs(found)


def not_zero(value: float, decimals: int, rounding: str = HALF_UP) -> Decimal:
    """A number rounded to some decimals, with more of them where it would become 0."""
    found, kept = quantized(value, decimals, rounding), rounded(value)
    if found != 0 or kept == 0:
        return found
    return quantized(value, -math.floor(math.log10(abs(kept))), rounding)


def differs_by_system(dimension: Dimension) -> bool:
    """Whether the two systems have different units for a dimension."""
    return dimension in _BY_SIZE


@cache
def _units(dimension: Dimension, system: Units) -> tuple[tuple[Unit, float], ...]:
    sizes = _BY_SIZE.get(dimension, {}).get(system, ((CANONICAL[dimension].symbol, -math.inf),))
    return tuple((_unit(symbol, dimension), least) for symbol, least in sizes)


def _unit(symbol: str, dimension: Dimension) -> Unit:
    unit = unit_named(symbol, dimension)
    return unit if unit is not None else CANONICAL[dimension]


@lru_cache(maxsize=4096)
def _written(step: float, unit: Unit) -> bool:
    """Whether a person writes such a step in a unit."""
    return _begins(step, unit, _WRITTEN_STEPS)


def _begins(step: float, unit: Unit, digits: Iterable[float]) -> bool:
    """Whether the leading digits of a step in a unit are among some digits."""
    own = rounded(unit.span_from_canonical(step), 9)
    if own <= 0:
        return False
    first = own / 10.0 ** math.floor(math.log10(own))
    return any(math.isclose(first, digit, rel_tol=1e-9) for digit in digits)


def measured_in(quantity: Quantity, system: Units) -> bool:
    """Whether a quantity was recorded in a system: its step is a round number there."""
    if quantity.step == 0 or not differs_by_system(quantity.dimension):
        return True
    return any(_written(quantity.step, unit) for unit in _all_units(quantity.dimension, system))


@cache
def _all_units(dimension: Dimension, system: Units) -> tuple[Unit, ...]:
    extra = (_unit(symbol, dimension) for symbol in _AS_WRITTEN.get(dimension, ()))
    return (
        *(unit for unit, _ in _units(dimension, system)),
        *(unit for unit in extra if unit.system == system),
    )


def _chosen(quantity: Quantity, system: Units) -> Unit:
    """The unit by size, or another unit of the system in which the value was evidently written."""
    largest = max(abs(quantity.low), abs(quantity.high or 0))
    units = _units(quantity.dimension, system)
    # Rounded: 1 kg on paper must not miss its threshold by the last digit of a float.
    fits = [unit for unit, least in units if rounded(unit.from_canonical(largest)) >= least]
    by_size = fits[-1] if fits else units[0][0]
    if _written(quantity.step, by_size):
        return by_size
    alike = [unit for unit in _all_units(quantity.dimension, system) if _written(quantity.step, unit)]
    return by_size if not alike or (by_size.symbol == "lb" and alike[0].symbol == "oz") else alike[0]


def _decimals(quantity: Quantity, unit: Unit) -> int:
    """The decimals of a quantity in a unit; negative where it is rounded to tens."""
    step = rounded(unit.span_from_canonical(quantity.step), 9)
    if step == 0:
        return _digits_after(quantity, unit, EXACT_DIGITS)
    if _written(quantity.step, unit):
        decimals = -int(Decimal(repr(step)).normalize().as_tuple().exponent)
        if decimals < 0:
            decimals = max(decimals, _digits_after(quantity, unit, LEAST_DIGITS))
        return min(decimals, max(0, _digits_after(quantity, unit, MOST_DIGITS)))
    # Negative for tens: 9 oz, read to the ounce, are 260 g and not 255.
    fine = step * QUARTER_AS if _in_quarters(quantity) else step
    decimals = max(-round(math.log10(fine)), _digits_after(quantity, unit, LEAST_DIGITS))
    return min(decimals, max(0, _digits_after(quantity, unit, MOST_DIGITS)))


def _in_quarters(quantity: Quantity) -> bool:
    """Whether it was written in quarters or eighths, whose decimals have more digits than the step is worth."""
    return any(_begins(quantity.step, unit, _QUARTERS) for unit in _all_units(quantity.dimension, "us"))


def _digits_after(quantity: Quantity, unit: Unit, digits: int) -> int:
    """The decimals for some significant digits of the smaller bound; fewer where they are zeros."""
    bounds = [quantity.low] if quantity.high is None else [quantity.low, quantity.high]
    sizes = [abs(own) for bound in bounds if (own := rounded(unit.from_canonical(bound))) != 0]
    if not sizes:
        return 0
    wanted = digits - 1 - math.floor(math.log10(min(sizes)))
    if quantity.step == 0:
        ends = (Decimal(repr(size)).normalize().as_tuple().exponent for size in sizes)
        wanted = max(0, min(wanted, max(-int(end) for end in ends)))
    return wanted


def is_up_to(quantity: Quantity) -> bool:
    """Whether only an upper bound is known. Hours from 0 are a range: a lamp that is off has 0 of them."""
    return quantity.low == 0 and (quantity.high or 0) > 0 and quantity.dimension is not Dimension.DURATION


def first_system(quantity: Quantity, system: Units) -> Units:
    """The system that a journal in `system` displays first: a dose typed in ml is measured out in ml."""
    in_ml = quantity.dimension is Dimension.VOLUME_DOSE or (
        quantity.dimension is Dimension.VOLUME and quantity.step < WRITTEN_IN_ML
    )
    return "metric" if in_ml and quantity.step > 0 and measured_in(quantity, "metric") else system


@lru_cache(maxsize=8192)
def display_value(quantity: Quantity, system: Units) -> DisplayValue:
    """The numbers of a quantity in a system's unit.

    A lower bound without an upper one is rounded down and an "up to" is rounded up: both stay true. The bound displayed
    in the system of measurement is the one that the other system converts, so the two state one bound.
    """
    quantity = bound_as_displayed(quantity)
    unit = _chosen(quantity, system)
    if unit.symbol == "lb" and _finer_than_pounds(quantity, unit):
        return _compound(quantity, unit)
    return display_value_in(quantity, unit)


def bound_as_displayed(quantity: Quantity) -> Quantity:
    """A bound rounded to its safe side in the system of measurement; any other quantity unchanged."""
    up_to = is_up_to(quantity)
    system = measured_system(quantity)
    if not (quantity.high is None or up_to) or system is None:
        return quantity
    unit = _chosen(quantity, system)
    if unit.symbol == "lb" and _finer_than_pounds(quantity, unit):
        unit = _unit("oz", Dimension.MASS)
    bound = (quantity.high if up_to else quantity.low) or 0.0
    own, rounding = unit.from_canonical(bound), UP if up_to else DOWN
    decimals = _decimals(quantity, unit)
    kept = _rounded(own, decimals, rounding, quantity.dimension)
    while _loses_much(own, kept, quantity.dimension):
        decimals += 1
        kept = _rounded(own, decimals, rounding, quantity.dimension)
    bound = unit.to_canonical(float(kept))
    step = min(quantity.step, float(Fraction(10) ** -decimals * unit.factor))
    return replace(
        quantity,
        low=quantity.low if up_to else bound,
        high=bound if up_to else quantity.high,
        step=step,
    )


def _loses_much(own: float, kept: Decimal, dimension: Dimension) -> bool:
    """Whether rounding to the safe side takes much of an amount: to whole ounces 1.64 oz would become 1 oz."""
    amounts = dimension not in (Dimension.TEMPERATURE, Dimension.ACIDITY)
    return amounts and abs(own - float(kept)) > MOST_LOST * abs(own)


def measured_system(quantity: Quantity) -> Units | None:
    """The system in which a quantity was recorded; metric where both have the same units, None where neither fits."""
    systems: tuple[Units, ...] = ("metric", "us")
    return next((system for system in systems if measured_in(quantity, system)), None)


def display_value_in(quantity: Quantity, unit: Unit) -> DisplayValue:
    """The numbers of a quantity in one unit."""
    decimals = _decimals(quantity, unit)
    own = partial(_rounded, dimension=quantity.dimension)
    low = unit.from_canonical(quantity.low)
    if quantity.high is None:
        return DisplayValue(unit, _bound(quantity, unit, low, decimals, DOWN), None)
    high = unit.from_canonical(quantity.high)
    if is_up_to(quantity):
        low_shown = own(low, decimals, HALF_UP)
        return DisplayValue(unit, low_shown, _bound(quantity, unit, high, decimals, UP))
    return DisplayValue(unit, own(low, decimals, HALF_UP), own(high, decimals, HALF_UP))


def _bound(quantity: Quantity, unit: Unit, own: float, decimals: int, rounding: str) -> Decimal:
    """A bound rounded to its safe side, with a decimal more where it would not agree with the value as measured.

    189 g are 6.667 oz: "at least 6.66 oz" is true and 189 g, "6.6 oz" would be 187 g.
    """
    step = unit.span_from_canonical(quantity.step)
    nearest = _rounded(own, decimals, HALF_UP, quantity.dimension)
    beyond = float(nearest) - own if rounding == DOWN else own - float(nearest)
    if beyond <= UNNOTICED * step:
        return nearest
    safe = _rounded(own, decimals, rounding, quantity.dimension)
    if abs(own - float(safe)) <= step / 2:
        return safe
    return _rounded(own, decimals + 1, rounding, quantity.dimension)


def _rounded(own: float, decimals: int, rounding: str, dimension: Dimension) -> Decimal:
    """A number of a dimension rounded to some decimals; 0 °C is a temperature like any other."""
    round_to = quantized if dimension is Dimension.TEMPERATURE else not_zero
    return round_to(own, decimals, rounding)


def displayed_step(quantity: Quantity, system: Units) -> Quantity:
    """The width to which a quantity is rounded where it is displayed: its step, unless its numbers are finer."""
    found = display_value(quantity, system)
    unit, numbers = found.unit, [found.low if found.ounces is None else found.ounces]
    if found.ounces is not None:
        unit = _unit("oz", Dimension.MASS)
    elif found.high is not None:
        numbers.append(found.high)
    step = Decimal(repr(rounded(unit.span_from_canonical(quantity.step), 9)))
    if step == 0 or any(number % step for number in numbers):
        decimals = max(-int(number.as_tuple().exponent) for number in numbers)
        step = Decimal(1).scaleb(-decimals)
    width = float(Fraction(step) * unit.factor)
    return Quantity(width, width, quantity.dimension, step=width)


def _finer_than_pounds(quantity: Quantity, pound: Unit) -> bool:
    """Whether a weight was measured to ounces and not written in pounds."""
    step_oz = pound.span_from_canonical(quantity.step) * OUNCES_PER_POUND
    return 0 < step_oz <= COMPOUND_STEP_OZ and not _written(quantity.step, pound)


def _compound(quantity: Quantity, pound: Unit) -> DisplayValue:
    """Whole pounds and ounces; a range stays in ounces."""
    ounces = display_value_in(quantity, _unit("oz", Dimension.MASS))
    if quantity.high is not None and not quantity.single:
        return ounces
    pounds = ounces.low // OUNCES_PER_POUND
    return DisplayValue(
        pound, pounds, None if ounces.high is None else pounds, ounces=ounces.low - pounds * OUNCES_PER_POUND
    )
