"""Units as they are spoken: "kilos", "fluid ounces", "Grad", "lb"; factors are those of the table of units.

In: the text after a number. Out: `SpokenUnit`s, several where the words leave open which is meant.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from sitegen.core.values.units import Dimension, Unit, unit_named

GERMAN_POUND_G = 500.0  # a "Pfund" is half a kilogram in everyday German; common practice, no source
DAYS_OF_MONTH = 30.4


class SpokenUnit(NamedTuple):
    """A unit: canonical value = `times` x the value in `unit`. `name` is for differences in it."""

    unit: Unit
    name: str
    times: float = 1.0

    @property
    def dimension(self) -> Dimension:
        """Its kind of quantity."""
        return self.unit.dimension

    def canonical(self, value: float) -> float:
        """A value in this unit, in the canonical unit."""
        return self.unit.to_canonical(value * self.times)

    def width(self, step: float) -> float:
        """A step in this unit, in the canonical unit."""
        return float(self.unit.factor) * step * self.times


def _unit(symbol: str, dimension: Dimension, times: float = 1.0, name: str = "") -> SpokenUnit:
    unit = unit_named(symbol, dimension)
    assert unit is not None
    return SpokenUnit(unit, name or symbol, times)


_D = Dimension
_G, _KG = _unit("g", _D.MASS), _unit("kg", _D.MASS)
_OZ, _LB = _unit("oz", _D.MASS), _unit("lb", _D.MASS)
_ML, _L = _unit("ml", _D.VOLUME), _unit("L", _D.VOLUME)
_FL_OZ = _unit("fl oz", _D.VOLUME)
_CM, _M, _IN, _FT = (_unit(symbol, _D.LENGTH) for symbol in ("cm", "m", "in", "ft"))
_C, _F = _unit("°C", _D.TEMPERATURE), _unit("°F", _D.TEMPERATURE)
_DAY, _WEEK = _unit("days", _D.DAYS), _unit("days", _D.DAYS, 7, "weeks")
_HOUR, _MINUTE = _unit("h", _D.DURATION), _unit("min", _D.DURATION)

# In the order in which they are tried: "fluid ounces" before "ounces", "kilowatt hours" before "kilowatts".
_SPOKEN: tuple[tuple[str, tuple[SpokenUnit, ...]], ...] = (
    (r"fluid ounces?|fl\.? ?oz", (_FL_OZ,)),
    (r"kilowatt[- ]?hours?|kwh|kilowattstunden?", (_unit("kWh", _D.ENERGY),)),
    (r"kilowatts?|kw", (_unit("kW", _D.POWER),)),
    (r"watts?|w", (_unit("W", _D.POWER),)),
    (r"(?:kilograms?|kilogrammes?|kilogramm|kilos?|kg)", (_KG,)),
    (r"milligrams?|milligramm|mg", (_unit("mg", _D.MASS),)),
    (r"grams?|grammes?|gramms?|g", (_G,)),
    (r"ounces?|oz|unzen?", (_OZ, _FL_OZ)),
    (r"pounds?|lbs?", (_LB,)),
    (r"pfund", (_unit("g", _D.MASS, GERMAN_POUND_G, "Pfund"),)),
    (r"millilit(?:re|er)s?|milliliter|ml", (_ML,)),
    (r"lit(?:re|er)s?|l", (_L,)),
    (r"gallons?|gal|gallonen", (_unit("gal", _D.VOLUME),)),
    (r"teaspoons?|tsp|teelöffel", (_unit("tsp", _D.VOLUME),)),
    (r"tablespoons?|tbsp|esslöffel", (_unit("tbsp", _D.VOLUME),)),
    (r"cups?(?= of )", (_unit("cup", _D.VOLUME),)),
    (r"pints?", (_unit("pt", _D.VOLUME),)),
    (r"quarts?", (_unit("qt", _D.VOLUME),)),
    (r"centimet(?:re|er)s?|zentimetern?|cm", (_CM,)),
    (r"millimet(?:re|er)s?|millimetern?|mm", (_unit("mm", _D.LENGTH),)),
    (r"met(?:re|er)s?|metern?|m", (_M,)),
    (r"inch(?:es)?|zoll|(?<=\d )in(?=\s*(?:[),.;:]|$))", (_IN,)),
    (r"feet|foot|ft|fuß", (_FT,)),
    (r"(?:degrees?|grad|°|º) ?(?:celsius|centigrade|c)|celsius", (_C,)),
    (r"(?:degrees?|grad|°|º) ?(?:fahrenheit|f)|fahrenheit", (_F,)),
    (r"degrees?(?! days?)|grad|°|º", (_C, _F)),
    (
        r"ms ?/ ?cm|millisiemens(?: (?:per|pro) (?:centimetre|centimeter|zentimeter))?",
        (_unit("mS/cm", _D.CONDUCTIVITY),),
    ),
    (r"ppm|parts per million", tuple(_unit(f"ppm{n}", _D.CONDUCTIVITY, name="ppm") for n in (500, 640, 700))),
    (r"per ?cent|percent|prozent|%", (_unit("%", _D.SHARE),)),
    (r"hours?|hrs?|stunden?|h", (_HOUR,)),
    (r"minutes?|minuten?|min", (_MINUTE,)),
    (r"weeks?|wochen?", (_WEEK,)),
    (r"fortnights?", (_unit("days", _D.DAYS, 14, "fortnights"),)),
    (r"months?|monaten?|monat", (_unit("days", _D.DAYS, DAYS_OF_MONTH, "months"),)),
    (r"days?|tagen?|tag", (_DAY,)),
    (r"micromoles?|µmol|umol", (_unit("µmol/m²/s", _D.PHOTON_FLUX),)),
    (r"lux|lx", (_unit("lux", _D.ILLUMINANCE),)),
)
_PATTERNS = tuple(
    (re.compile(rf"(?:[\s-]*)(?:{words})(?![^\W\d_])", re.IGNORECASE), units) for words, units in _SPOKEN
)
_SMALLER = {
    "lb": ("oz",),
    "kg": ("g",),
    "ft": ("in",),
    "m": ("cm",),
    "L": ("ml",),
    "h": ("min",),
    "weeks": ("days",),
}
_LEFT_OUT = {"kg": _G, "m": _CM}  # "one kilo three hundred", "one metre twenty"


def units_at(text: str, begin: int) -> tuple[tuple[SpokenUnit, ...], int]:
    """The units that follow a number which ends at `begin`, and where their words end; none where none follow."""
    for pattern, units in _PATTERNS:
        if found := pattern.match(text, begin):
            return units, found.end()
    return (), begin


def joins(larger: SpokenUnit, smaller: SpokenUnit) -> bool:
    """Whether a number in the smaller unit goes on with one in the larger: pounds and ounces."""
    return smaller.name in _SMALLER.get(larger.name, ())


def left_out(larger: SpokenUnit) -> SpokenUnit | None:
    """The smaller unit that goes without saying after a larger one."""
    return _LEFT_OUT.get(larger.name)
