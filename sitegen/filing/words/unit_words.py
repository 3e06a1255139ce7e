"""Units as they are said, and the words around a number.

In: nothing. Out: `UNITS`, `FLAGS`, `BY_EYE`, `TO`, as phrases.
"""

from __future__ import annotations

from sitegen.core.values.units import Dimension
from sitegen.filing.words.phrases import Phrases

D = Dimension
DEGREES = "degrees"  # of Celsius or of Fahrenheit: the words do not say which

# The unit as it is written in a file, its dimension, and what people say for it.
_UNITS: tuple[tuple[str, Dimension, str], ...] = (
    ("mm", D.LENGTH, "mm|millimetre|millimetres|millimeter|millimeters|millimetern"),
    ("cm", D.LENGTH, "cm|cms|centimetre|centimetres|centimeter|centimeters|zentimeter|zentimetern"),
    ("m", D.LENGTH, "m|metre|metres|meter|meters"),
    ("in", D.LENGTH, "in|inch|inches|zoll"),
    ("ft", D.LENGTH, "ft|foot|feet"),
    ("g", D.MASS, "g|gr|gram|grams|gramme|grammes|gramm"),
    ("kg", D.MASS, "kg|kgs|kilo|kilos|kilogram|kilograms|kilogramm"),
    ("oz", D.MASS, "oz|ounce|ounces|unze|unzen"),
    ("lb", D.MASS, "lb|lbs|pound|pounds"),
    ("ml", D.VOLUME, "ml|mls|millilitre|millilitres|milliliter|milliliters|millilitern"),
    ("L", D.VOLUME, "l|litre|litres|liter|liters|litern"),
    ("tsp", D.VOLUME, "tsp|teaspoon|teaspoons|teelöffel"),
    ("tbsp", D.VOLUME, "tbsp|tablespoon|tablespoons|esslöffel"),
    ("gal", D.VOLUME, "gal|gallon|gallons"),
    ("qt", D.VOLUME, "qt|quart|quarts"),
    ("fl oz", D.VOLUME, "fl oz|fluid ounce|fluid ounces"),
    ("ml/L", D.VOLUME_DOSE, "ml/l|ml per l|ml per litre|ml per liter|ml a litre|ml pro l|ml pro liter"),
    ("ml/L", D.VOLUME_DOSE, "millilitres per litre|milliliters per liter|milliliter pro liter|ml je liter"),
    ("h", D.DURATION, "h|hr|hrs|hour|hours|stunde|stunden|std"),
    ("C", D.TEMPERATURE, "c|°c|° c|celsius|degrees c|degrees celsius|grad celsius|grad c"),
    ("F", D.TEMPERATURE, "f|°f|° f|fahrenheit|degrees f|degrees fahrenheit|grad fahrenheit"),
    (DEGREES, D.TEMPERATURE, "degrees|degree|grad|°"),
    ("%", D.SHARE, "%|percent|per cent|prozent"),
    (
        "mS/cm",
        D.CONDUCTIVITY,
        "ms/cm|ms|millisiemens|millisiemens per centimetre|millisiemens pro zentimeter",
    ),
    ("uS/cm", D.CONDUCTIVITY, "us/cm|µs/cm|μs/cm|us|µs|microsiemens|mikrosiemens"),
    ("umol/m2/s", D.PHOTON_FLUX, "umol/m2/s|µmol/m²/s|µmol|umol|micromole|micromoles|micromols|mikromol"),
    ("lux", D.ILLUMINANCE, "lux"),
)
UNITS = Phrases((phrase, (unit, dimension)) for unit, dimension, said in _UNITS for phrase in said.split("|"))

# The word of the format, and what people say for it.
_FLAGS = (
    (
        "about",
        "about|around|roughly|approximately|approx|approx.|circa|ca|ca.|~|some about|etwa|ungefähr|rund|zirka",
    ),
    ("at least", "at least|more than|over|min|minimum|mindestens|mehr als|über"),
    ("up to", "up to|at most|less than|höchstens|bis zu|maximal"),
)
FLAGS = Phrases((phrase, flag) for flag, said in _FLAGS for phrase in said.split("|"))
BY_EYE = Phrases((phrase, "by eye") for phrase in ("by eye", "nach augenmaß", "geschätzt", "estimated"))
TO = frozenset({"-", "–", "to", "bis"})
BETWEEN = {"between": "and", "zwischen": "und"}
