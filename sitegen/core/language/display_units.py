"""The unit in which a quantity is displayed, and its number of decimals.

In: a quantity and a system of units. Out: `DisplayValue`, decimal numbers in a unit of that system. In the system of
measurement a value is displayed as it was written. In the other system it is rounded to the power of ten nearest to
its step, with at least two significant digits. A number is rounded to the nearest; a lower bound down and an "up to"
up. Never words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache, lru_cache

from sitegen.core.values.quantity import Quantity, rounded
from sitegen.core.values.units import CANONICAL, Dimension, Unit, Units, unit_named

HALF_UP, DOWN, UP = ROUND_HALF_UP, ROUND_FLOOR, ROUND_CEILING

LEAST_DIGITS = 2  # of a converted value: "0.53 gal", not "0.5 gal"
EXACT_DIGITS = 3  # of a computed value whose step is not known
MOST_DIGITS = 5  # of a number with decimals: no scale or jug resolves more
WRITTEN_IN_ML = 10.0  # ml: amounts typed in ml have steps below it, amounts typed in litres seldom
MOST_LOST = 0.02  # of a bound, by rounding it to its safe side
MORE_DECIMALS = 2  # of a conversion than its step asks for, where it would not lead back
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
def display_value(
    quantity: Quantity, system: Units, figures: int = 0, us_factor: float = 1.0
) -> DisplayValue:
    """The numbers of a quantity in a system's unit.

    In the system of measurement a lower bound without an upper one is rounded down, and an "up to" is rounded up. The
    other system converts the numbers displayed there, with as many decimals as lead back to them: one amount has one
    conversion, as a value and as a bound. With `figures`, no number has more significant ones. `us_factor` is the US
    divisor of a rate as a multiple of the metric one.
    """
    base = measured_system(quantity) or "metric"
    own = quantity.times(us_factor) if base == "us" and us_factor != 1.0 else quantity
    shown = _as_measured(own, base, figures)
    if system == base or not (differs_by_system(quantity.dimension) or us_factor != 1.0):
        return shown
    return _converted(shown, own, us_factor if base == "metric" else 1 / us_factor, system)


def _as_measured(quantity: Quantity, system: Units, figures: int) -> DisplayValue:
    """The numbers of a quantity in the system of measurement."""
    unit, compound = _unit_for(quantity, system, figures)
    decimals = _decimals(quantity, unit)
    if figures:
        decimals = min(decimals, _figures_after(quantity, unit, figures))
    bound = quantity.low if quantity.high is None else quantity.high if is_up_to(quantity) else None
    if bound is not None:
        own, rounding = unit.from_canonical(bound), DOWN if quantity.high is None else UP
        while _loses_much(own, _rounded(own, decimals, rounding, quantity.dimension), quantity.dimension):
            decimals += 1
    shown = _numbers(quantity, unit, decimals, DOWN, UP)
    return _in_pounds(shown) if compound else shown


def _loses_much(own: float, kept: Decimal, dimension: Dimension) -> bool:
    """Whether rounding to the safe side takes much of an amount: to whole ounces 1.64 oz would become 1 oz."""
    amounts = dimension not in (Dimension.TEMPERATURE, Dimension.ACIDITY)
    return amounts and abs(own - float(kept)) > MOST_LOST * abs(own)


def _converted(shown: DisplayValue, quantity: Quantity, factor: float, system: Units) -> DisplayValue:
    """The numbers displayed in the system of measurement, times a factor, in the other system.

    They depend on nothing else: a text has one conversion wherever it stands.
    """
    low, high, width = _displayed(shown)
    step = quantity.step * QUARTER_AS if _in_quarters(quantity) else width
    moved = Quantity(
        low * factor, None if high is None else high * factor, quantity.dimension, step=step * factor
    )
    unit, compound = _unit_for(moved, system)
    usual = _decimals(moved, unit)
    decimals, most = min(usual, _figures_after(moved, unit, EXACT_DIGITS)), usual + MORE_DECIMALS
    while decimals < most and not _leads_back(moved, unit, decimals):
        decimals += 1
    found = _numbers(moved, unit, decimals, HALF_UP, HALF_UP)
    return _in_pounds(found) if compound else found


def _displayed(shown: DisplayValue) -> tuple[float, float | None, float]:
    """The numbers displayed and one in their last digit, in the canonical unit."""
    unit, low, high = shown.unit, shown.low, shown.high
    if shown.ounces is not None:
        unit, pounds = _unit("oz", Dimension.MASS), low if high is None else high
        number = pounds * OUNCES_PER_POUND + shown.ounces
        low, high = number if low == pounds else low, None if high is None else number
    last = min(int(number.as_tuple().exponent) for number in (low, low if high is None else high))
    width = float(Fraction(10) ** last * unit.factor)
    return unit.to_canonical(float(low)), None if high is None else unit.to_canonical(float(high)), width


def _leads_back(quantity: Quantity, unit: Unit, decimals: int) -> bool:
    """Whether each end, rounded to some decimals of a unit, differs by no more than half a step."""
    ends = (quantity.low, quantity.low if quantity.high is None else quantity.high)
    allowed = unit.span_from_canonical(quantity.step) / 2 * (1 + 1e-9)
    owns = (unit.from_canonical(end) for end in ends)
    return all(
        abs(own - float(_rounded(own, decimals, HALF_UP, quantity.dimension))) <= allowed for own in owns
    )


def _unit_for(quantity: Quantity, system: Units, figures: int = 0) -> tuple[Unit, bool]:
    """The unit of a quantity's numbers, and whether pounds are then taken out of ounces.

    So many figures may be too few for ounces.
    """
    unit, ounce = _chosen(quantity, system), _unit("oz", Dimension.MASS)
    if unit.symbol != "lb" or not _finer_than_pounds(quantity, unit):
        return unit, False
    if figures and _figures_after(quantity, ounce, figures) < 0:
        return unit, False
    return ounce, quantity.high is None or quantity.single or is_up_to(quantity)


def _numbers(quantity: Quantity, unit: Unit, decimals: int, down: str, up: str) -> DisplayValue:
    """The numbers of a quantity in a unit: of a bound rounded `down` or `up`, else to the nearest."""
    low_rounding = down if quantity.high is None else HALF_UP
    low = _rounded(unit.from_canonical(quantity.low), decimals, low_rounding, quantity.dimension)
    if quantity.high is None:
        return DisplayValue(unit, low, None)
    high_rounding = up if is_up_to(quantity) else HALF_UP
    high = _rounded(unit.from_canonical(quantity.high), decimals, high_rounding, quantity.dimension)
    return DisplayValue(unit, low, high)


def _figures_after(quantity: Quantity, unit: Unit, figures: int) -> int:
    """The decimals with which the larger end has so many significant digits."""
    size = abs(rounded(unit.from_canonical(max(quantity.low, quantity.high or 0.0, key=abs))))
    return figures - 1 - math.floor(math.log10(size)) if size else 0


def measured_system(quantity: Quantity) -> Units | None:
    """The system in which a quantity was recorded; metric where both have the same units, None where neither fits."""
    systems: tuple[Units, ...] = ("metric", "us")
    return next((system for system in systems if measured_in(quantity, system)), None)


def _finer_than_pounds(quantity: Quantity, pound: Unit) -> bool:
    """Whether a weight was measured to ounces and not written in pounds."""
    step_oz = pound.span_from_canonical(quantity.step) * OUNCES_PER_POUND
    return 0 < step_oz <= COMPOUND_STEP_OZ and not _written(quantity.step, pound)


def _in_pounds(ounces: DisplayValue) -> DisplayValue:
    """Whole pounds and the ounces beside them; of an "up to" those of its bound."""
    number = ounces.low if ounces.high is None else ounces.high
    pounds, rest = number // OUNCES_PER_POUND, number % OUNCES_PER_POUND
    low = pounds if ounces.low == number else ounces.low
    return DisplayValue(_unit("lb", Dimension.MASS), low, None if ounces.high is None else pounds, rest)


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
