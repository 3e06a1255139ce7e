"""Examples of values in the units of a journal, for the help of findings.

In: an example of the format's tables, in metric units. Out: its counterpart in US units, for a journal that displays
these first. Counterparts are round numbers of about the same size, not conversions.
"""

from __future__ import annotations

from sitegen.core.values.units import Dimension, Units

US: dict[str, str] = {
    "84 g": "3 oz",
    "121 g": "4.2 oz",
    "205 g": "7.2 oz",
    "20 g": "0.7 oz",
    "4.6 kg": "10 lb",
    "30 g": "1 oz",
    "{count: 2, weight: 30 g}": "{count: 2, weight: 1 oz}",
    "[8 g, 9 g]": "[0.3 oz, 0.4 oz]",
    "{weights: [8 g, 9 g]}": "{weights: [0.3 oz, 0.4 oz]}",
    "{P1: 84 g, P4: unweighed}": "{P1: 3 oz, P4: unweighed}",
    "2 L": "2 qt",
    "11 L": "3 gal",
    "10 ml": "2 tsp",
    "20 ml": "4 tsp",
    "{leaf-mix: 20 ml}": "{leaf-mix: 4 tsp}",
    "{ph-down: 2 ml}": "{ph-down: 1/2 tsp}",
    "{leaf-mix: 20 ml, at: every refill}": "{leaf-mix: 4 tsp, at: every refill}",
    "{feed: {leaf-mix: 20 ml, at: every refill}}": "{feed: {leaf-mix: 4 tsp, at: every refill}}",
    "9 cm": "4 in",
    "about 9 cm": "about 4 in",
    "20 cm": "8 in",
    "30 cm": "12 in",
    "45 cm": "18 in",
    "up to 25 cm": "up to 10 in",
    "60 x 40 cm": "24 x 16 in",
    "0.24 m²": "2.6 sq ft",
    "210 umol/m2/s at 30 cm": "210 umol/m2/s at 12 in",
    "21 C": "70 F",
    "22 C": "72 F",
    "23 C": "73 F",
    "4 C": "39 F",
    "2 K": "4 F",
    "2 ml/L": "2 tsp/gal",
    "1 g/L": "4 g/gal",
    "9.50 per 500 ml": "9.50 per 16 fl oz",
    "0.004 per L": "0.01 per gal",
    "12 per kg": "6 per lb",
}

# One well-written value for each dimension.
_EXAMPLES: dict[Dimension, str] = {
    Dimension.MASS: "84 g",
    Dimension.VOLUME: "2 L",
    Dimension.LENGTH: "9 cm",
    Dimension.AREA: "0.24 m²",
    Dimension.DURATION: "14 h",
    Dimension.CONDUCTIVITY: "1.4 mS/cm",
    Dimension.PPM: "840 ppm",
    Dimension.TEMPERATURE: "21 C",
    Dimension.TEMPERATURE_DIFFERENCE: "2 K",
    Dimension.SHARE: "60 %",
    Dimension.PHOTON_FLUX: "210 umol/m2/s",
    Dimension.ILLUMINANCE: "14000 lux",
    Dimension.POWER: "45 W",
    Dimension.ENERGY: "1 kWh",
    Dimension.VOLUME_DOSE: "2 ml/L",
    Dimension.MASS_DOSE: "1 g/L",
    Dimension.ACIDITY: "6.1",
    Dimension.COUNT: "7",
}


def in_units(example: str, units: Units) -> str:
    """An example in the units of a system; an example without units is the same in both."""
    return US.get(example, example) if units == "us" else example


def example_of(dimension: Dimension, units: Units) -> str:
    """A well-written value of a dimension."""
    return in_units(_EXAMPLES[dimension], units)
