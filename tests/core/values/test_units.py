"""The table of units against published factors and a second implementation."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.units import CANONICAL, UNITS, Dimension, Unit, spellings, unit_named, units_of

TABLE = Path(__file__).parent.parent.parent / "published" / "units.csv"
ROWS = list(
    csv.DictReader(line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#"))
)
REGISTRY = pint.UnitRegistry()

# How pint spells our symbols, and the canonical unit of each dimension in its words.
PINT = {
    "fl oz": "fluid_ounce",
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "pt": "pint",
    "qt": "quart",
    "gal": "gallon",
    "imp gal": "imperial_gallon",
    "oz": "ounce",
    "lb": "pound",
    "in": "inch",
    "ft": "foot",
    "m²": "meter**2",
    "cm²": "centimeter**2",
    "sq ft": "foot**2",
    "h": "hour",
    "min": "minute",
    "°C": "degC",
    "°F": "degF",
    "%": "percent",
    "µmol/m²/s": "micromole/meter**2/second",
    "mol/m²": "mole/meter**2",
    "tsp/gal": "teaspoon/gallon",
    "ml/gal": "milliliter/gallon",
    "g/gal": "gram/gallon",
    "days": "day",
    "°C d": "delta_degC*day",
    "°F d": "delta_degF*day",
}
# Scales of meters are no units of concentration, and pH and counts have no unit: pint cannot know them.
UNKNOWN_TO_PINT = {"ppm500", "ppm640", "ppm700", "ppm", "ppm (500)", "ppm (640)", "ppm (700)", ""}
DIFFERENCES = {"K": "delta_degC", "°F": "delta_degF"}
KNOWN = [unit for unit in UNITS if unit.symbol not in UNKNOWN_TO_PINT]


def _pint_name(unit: Unit) -> str:
    if unit.dimension is Dimension.TEMPERATURE_DIFFERENCE:
        return DIFFERENCES[unit.symbol]
    return PINT.get(unit.symbol, unit.symbol)


def _named(symbol: str, dimension: str) -> Unit:
    unit = unit_named(symbol, Dimension(dimension))
    assert unit is not None, symbol
    return unit


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["case"])
def test_published_factor(row: dict[str, str]) -> None:
    """A factor agrees with its table to the digits printed."""
    written, into = _named(row["unit"], row["dimension"]), _named(row["into"], row["dimension"])
    number, expected = Fraction(row["number"]), Fraction(row["expected"])
    value = (number * written.factor + written.offset - into.offset) / into.factor

    allowed = 0 if row["printed"] == "exact" else Fraction(1, 2 * 10 ** int(row["printed"]))
    assert abs(value - expected) <= allowed


def test_mass_by_area() -> None:
    """U14: a pound on a square foot is 4.88242763638305 kg/m² (arithmetic from the factors)."""
    pound, foot = _named("lb", "mass"), _named("sq ft", "area")

    assert float(pound.factor / 1000 / foot.factor) == pytest.approx(4.88242763638305, rel=1e-14)


@pytest.mark.parametrize("unit", KNOWN, ids=lambda unit: f"{unit.symbol} ({unit.dimension})")
def test_second_implementation(unit: Unit) -> None:
    """Every factor agrees with pint; its ounce is off in the last digits, so the tolerance is 1e-12."""
    canonical = CANONICAL[unit.dimension]
    theirs = REGISTRY.Quantity(7.5, _pint_name(unit)).to(_pint_name(canonical)).magnitude

    assert unit.to_canonical(7.5) == pytest.approx(theirs, rel=1e-12)


def test_a_difference_is_not_a_reading() -> None:
    """A difference of 9 °F is 5 K, while 9 °F on a thermometer is -12.8 °C: nothing is taken off a difference."""
    reading = _named("°F", "temperature")
    difference = _named("°F", "temperature difference")

    assert difference.to_canonical(9) == 5.0
    assert reading.to_canonical(9) == pytest.approx(-12.7778, abs=0.5e-4)
    assert reading.span_from_canonical(5) == 9.0


def test_degree_days_take_no_offset() -> None:
    """25.5 degree days in °F are 14.1667 in °C (D10: times 5/9, no 32)."""
    assert _named("°F d", "degree days").to_canonical(25.5) == pytest.approx(14.1667, abs=0.5e-4)


def test_an_ounce_is_what_its_key_wants() -> None:
    """`oz` is a mass where a mass is wanted, and a fluid ounce where a volume is."""
    assert _named("oz", "mass").to_canonical(1) == 28.349523125
    assert _named("oz", "volume").to_canonical(1) == 29.5735295625
    assert unit_named("oz", Dimension.LENGTH) is None


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.symbol} ({unit.dimension})")
@given(value=st.floats(-1e6, 1e6))
def test_there_and_back(unit: Unit, value: float) -> None:
    """A value survives the way to the canonical unit and back."""
    assert unit.from_canonical(unit.to_canonical(value)) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("dimension", Dimension)
def test_each_dimension_has_a_canonical_unit(dimension: Dimension) -> None:
    """The first unit of a dimension is canonical: factor 1, no offset."""
    first = units_of(dimension)[0]

    assert (first, first.factor, first.offset) == (CANONICAL[dimension], 1, 0)


@pytest.mark.parametrize("dimension", Dimension)
def test_one_spelling_one_unit(dimension: Dimension) -> None:
    """No spelling stands for two units of one dimension."""
    written = [name for unit in units_of(dimension) for name in (unit.symbol, *unit.also) if name]

    assert sorted(written) == sorted(spellings(dimension))
    assert len(set(written)) == len(written)
