"""The one table of units: exact factors to one canonical unit for each dimension.

In: nothing. Out: `Dimension`, `Unit`, `UNITS`, `unit_named`. Nothing here parses text.

References
----------
Factors are exact by definition: the international yard and pound agreement of 1959 (inch 2.54 cm, avoirdupois
pound 0.45359237 kg) and the US gallon of 231 cubic inches; see NIST Handbook 44, Appendix C, and NIST
SP 811, Appendix B. The imperial gallon is 4.54609 L: Weights and Measures Act 1985 (UK), schedule 1, from memory. The
conductivity scales "ppm500" (NaCl), "ppm640" and "ppm700" (442) are conventions of meter makers, not units of
concentration.

"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Literal

System = Literal["metric", "us", "both"]  # of a unit
Units = Literal["metric", "us"]  # of a journal: the units displayed first


class Dimension(StrEnum):
    """The kind of a quantity."""

    MASS = "mass"
    VOLUME = "volume"
    LENGTH = "length"
    AREA = "area"
    DURATION = "duration"
    CONDUCTIVITY = "conductivity"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    SHARE = "share"
    PHOTON_FLUX = "photon flux density"
    ILLUMINANCE = "illuminance"
    POWER = "power"
    ENERGY = "energy"
    VOLUME_DOSE = "dose by volume"
    MASS_DOSE = "dose by mass"
    PRESSURE = "pressure"
    LIGHT_SUM = "light integral"
    HEAT_SUM = "degree days"
    PPM = "parts per million"
    PPM_500 = "ppm on the 500 scale"
    PPM_640 = "ppm on the 640 scale"
    PPM_700 = "ppm on the 700 scale"
    ACIDITY = "pH"
    COUNT = "count"
    DAYS = "days"


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
    """One unit: canonical value = factor x written value + offset. The only instances are those of the table."""

    symbol: str
    dimension: Dimension
    factor: Fraction
    system: System
    also: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)

    def to_canonical(self, value: float) -> float:
        """A value in this unit, in the dimension's canonical unit."""
        return float(Fraction(value) * self.factor + self.offset)

    @lru_cache(maxsize=8192)  # noqa: B019 - units live as long as the program, and pages repeat values
    def from_canonical(self, value: float) -> float:
        """A canonical value, in this unit."""
        return float((Fraction(value) - self.offset) / self.factor)

    @lru_cache(maxsize=8192)  # noqa: B019 - units live as long as the program, and pages repeat values
    def span_from_canonical(self, width: float) -> float:
        """A width (a step, a difference) in this unit: no offset."""
        return float(Fraction(width) / self.factor)


def _long(stem: str) -> tuple[str, ...]:
    """The long forms of a unit, as they are spelt on both sides of the Atlantic."""
    return (f"{stem}re", f"{stem}res", f"{stem}er", f"{stem}ers")


def _degrees(letter: str, name: str) -> tuple[str, ...]:
    """The long forms of a scale of temperature."""
    starts = ("deg", "deg.", "degree", "degrees", "°")
    return (name, *(f"{start} {end}" for start in starts for end in (letter, name)))


_POUND_G = Fraction("453.59237")
_INCH_CM = Fraction("2.54")
_GALLON_ML = 231 * _INCH_CM**3
_IMPERIAL_GALLON_ML = Fraction("4546.09")
_FAHRENHEIT = Fraction(5, 9)

# By scale of a meter, its ppm for each mS/cm: the dimension of its ppm. `PPM` is that of an unknown scale.
PPM_SCALES: dict[int, Dimension] = {
    500: Dimension.PPM_500,
    640: Dimension.PPM_640,
    700: Dimension.PPM_700,
}

UNITS: tuple[Unit, ...] = (
    Unit("g", Dimension.MASS, Fraction(1), "metric", ("gram", "grams", "gm", "gms")),
    Unit("kg", Dimension.MASS, Fraction(1000), "metric", ("kgs", "kilo", "kilos", "kilogram", "kilograms")),
    Unit("mg", Dimension.MASS, Fraction(1, 1000), "metric", ("milligram", "milligrams")),
    Unit("oz", Dimension.MASS, _POUND_G / 16, "us", ("ounce", "ounces")),
    Unit("lb", Dimension.MASS, _POUND_G, "us", ("lbs", "pound", "pounds")),
    Unit("ml", Dimension.VOLUME, Fraction(1), "metric", ("mL", "cc", "mls", *_long("millilit"))),
    Unit("cl", Dimension.VOLUME, Fraction(10), "metric", ("cL",)),
    Unit("dl", Dimension.VOLUME, Fraction(100), "metric", ("dL",)),
    Unit("L", Dimension.VOLUME, Fraction(1000), "metric", ("l", *_long("lit"))),
    Unit("fl oz", Dimension.VOLUME, _GALLON_ML / 128, "us", ("oz", "floz", "fluid ounce", "fluid ounces")),
    Unit("tsp", Dimension.VOLUME, _GALLON_ML / 768, "us", ("teaspoon", "teaspoons")),
    Unit("tbsp", Dimension.VOLUME, _GALLON_ML / 256, "us", ("tablespoon", "tablespoons")),
    Unit("cup", Dimension.VOLUME, _GALLON_ML / 16, "us", ("cups",)),
    Unit("pt", Dimension.VOLUME, _GALLON_ML / 8, "us", ("pint", "pints")),
    Unit("qt", Dimension.VOLUME, _GALLON_ML / 4, "us", ("quart", "quarts")),
    Unit("gal", Dimension.VOLUME, _GALLON_ML, "us", ("gallon", "gallons")),
    Unit("imp gal", Dimension.VOLUME, _IMPERIAL_GALLON_ML, "both", ("imperial gallon", "imperial gallons")),
    Unit("cm", Dimension.LENGTH, Fraction(1), "metric", ("cms", *_long("centimet"))),
    Unit("mm", Dimension.LENGTH, Fraction(1, 10), "metric", _long("millimet")),
    Unit("m", Dimension.LENGTH, Fraction(100), "metric", _long("met")),
    Unit("in", Dimension.LENGTH, _INCH_CM, "us", ("inch", "inches")),
    Unit("ft", Dimension.LENGTH, 12 * _INCH_CM, "us", ("foot", "feet")),
    Unit("m²", Dimension.AREA, Fraction(1), "metric", ("m2",)),
    Unit("cm²", Dimension.AREA, Fraction(1, 10000), "metric", ("cm2",)),
    Unit("sq ft", Dimension.AREA, (12 * _INCH_CM / 100) ** 2, "us", ("ft2", "ft²")),
    Unit(
        "h",
        Dimension.DURATION,
        Fraction(1),
        "both",
        ("hour", "hours", "hr", "hrs", "hours a day", "h a day", "hours per day", "h/day"),
    ),
    Unit("min", Dimension.DURATION, Fraction(1, 60), "both", ("minute", "minutes", "mins")),
    Unit("mS/cm", Dimension.CONDUCTIVITY, Fraction(1), "both", ("dS/m",)),
    Unit("µS/cm", Dimension.CONDUCTIVITY, Fraction(1, 1000), "both", ("uS/cm", "μS/cm")),
    Unit("S/m", Dimension.CONDUCTIVITY, Fraction(10), "both"),
    Unit("ppm500", Dimension.CONDUCTIVITY, Fraction(1, 500), "both"),
    Unit("ppm640", Dimension.CONDUCTIVITY, Fraction(1, 640), "both"),
    Unit("ppm700", Dimension.CONDUCTIVITY, Fraction(1, 700), "both"),
    Unit("ppm", Dimension.PPM, Fraction(1), "both", ("PPM", "tds", "TDS")),
    Unit("ppm (500)", Dimension.PPM_500, Fraction(1), "both"),
    Unit("ppm (640)", Dimension.PPM_640, Fraction(1), "both"),
    Unit("ppm (700)", Dimension.PPM_700, Fraction(1), "both"),
    Unit("°C", Dimension.TEMPERATURE, Fraction(1), "metric", ("C", "degC", *_degrees("C", "Celsius"))),
    Unit(
        "°F",
        Dimension.TEMPERATURE,
        _FAHRENHEIT,
        "us",
        ("F", "degF", *_degrees("F", "Fahrenheit")),
        -32 * _FAHRENHEIT,
    ),
    Unit("K", Dimension.TEMPERATURE_DIFFERENCE, Fraction(1), "metric", ("C", "°C")),
    Unit("°F", Dimension.TEMPERATURE_DIFFERENCE, _FAHRENHEIT, "us", ("F", "degF")),
    Unit("%", Dimension.SHARE, Fraction(1), "both", ("percent", "per cent", "pct")),
    Unit(
        "µmol/m²/s",
        Dimension.PHOTON_FLUX,
        Fraction(1),
        "both",
        ("umol/m2/s", "umol/m²/s", "µmol/m2/s", "μmol/m²/s"),
    ),
    Unit("lux", Dimension.ILLUMINANCE, Fraction(1), "both", ("lx",)),
    Unit("W", Dimension.POWER, Fraction(1), "both", ("watt", "watts")),
    Unit("kW", Dimension.POWER, Fraction(1000), "both"),
    Unit("kWh", Dimension.ENERGY, Fraction(1), "both"),
    Unit("MJ", Dimension.ENERGY, Fraction(10, 36), "both"),
    Unit("ml/L", Dimension.VOLUME_DOSE, Fraction(1), "metric", ("mL/L", "ml/l")),
    Unit("ml/gal", Dimension.VOLUME_DOSE, 1000 / _GALLON_ML, "us", ("mL/gal",)),
    Unit("tsp/gal", Dimension.VOLUME_DOSE, Fraction(1000, 768), "us"),
    Unit("g/L", Dimension.MASS_DOSE, Fraction(1), "metric", ("g/l",)),
    Unit("g/gal", Dimension.MASS_DOSE, 1000 / _GALLON_ML, "us"),
    Unit("kPa", Dimension.PRESSURE, Fraction(1), "both"),
    Unit("mol/m²", Dimension.LIGHT_SUM, Fraction(1), "both"),
    Unit("°C d", Dimension.HEAT_SUM, Fraction(1), "metric"),
    Unit("°F d", Dimension.HEAT_SUM, _FAHRENHEIT, "us"),
    Unit("", Dimension.ACIDITY, Fraction(1), "both"),
    Unit("", Dimension.COUNT, Fraction(1), "both"),
    Unit("days", Dimension.DAYS, Fraction(1), "both", ("day", "d")),
)

CANONICAL: dict[Dimension, Unit] = {}
for _unit in UNITS:
    CANONICAL.setdefault(_unit.dimension, _unit)

_BY_NAME: dict[tuple[Dimension, str], Unit] = {
    (unit.dimension, name): unit for unit in UNITS for name in (unit.symbol, *unit.also)
}


def _in_any_case() -> dict[tuple[Dimension, str], Unit]:
    """The units by their names in lower case, as far as those are still one unit's."""
    found: dict[tuple[Dimension, str], set[Unit]] = {}
    for (dimension, name), unit in _BY_NAME.items():
        found.setdefault((dimension, name.lower()), set()).add(unit)
    return {key: next(iter(units)) for key, units in found.items() if len(units) == 1}


_IN_ANY_CASE = _in_any_case()


def unit_named(name: str, dimension: Dimension) -> Unit | None:
    """The unit of `dimension` written `name`, in any case where that leaves one; None where there is none.

    `oz` is therefore a mass where a mass is wanted and a fluid ounce where a volume is.
    """
    return _BY_NAME.get((dimension, name)) or _IN_ANY_CASE.get((dimension, name.lower()))


def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """The units of one dimension, canonical first."""
    return tuple(unit for unit in UNITS if unit.dimension is dimension)


def spellings(dimension: Dimension) -> tuple[str, ...]:
    """Every way to write a unit of `dimension`, for did-you-mean."""
    return tuple(name for (of, name) in _BY_NAME if of is dimension and name)
