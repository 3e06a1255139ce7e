"""What was probably meant by a text that is no quantity: the one thing that a finding offers to do.

In: the text, what stood there as a unit, and the dimension wanted. Out: a mend in words. Nothing here decides
whether a text is refused.
"""

from __future__ import annotations

import re
from difflib import SequenceMatcher

from sitegen.core.text import closest, listed
from sitegen.core.units import Dimension, spellings, unit_named, units_of

__all__ = ["EXAMPLES", "UNKNOWN", "bare_hint", "quantity_hint", "steps_hint", "unit_hint"]

UNKNOWN = ("unweighed", "unmeasured", "not kept")

# One well-written value for each dimension.
EXAMPLES: dict[Dimension, str] = {
    Dimension.MASS: "84 g",
    Dimension.VOLUME: "2 L",
    Dimension.LENGTH: "9 cm",
    Dimension.AREA: "0.24 m²",
    Dimension.DURATION: "14 h",
    Dimension.CONDUCTIVITY: "1.4 mS/cm",
    Dimension.TEMPERATURE: "21 C",
    Dimension.TEMPERATURE_DIFFERENCE: "2 K",
    Dimension.SHARE: "60 %",
    Dimension.PHOTON_FLUX: "210 umol/m2/s",
    Dimension.POWER: "45 W",
    Dimension.ENERGY: "1 kWh",
    Dimension.VOLUME_DOSE: "2 ml/L",
    Dimension.MASS_DOSE: "1 g/L",
    Dimension.ACIDITY: "6.1",
    Dimension.COUNT: "7",
}
_LIKE = 0.65  # how like a unit a slip of the pen must be; `stone` is no `ounce`
_SIGNS = {**dict.fromkeys('"″”', "in"), **dict.fromkeys("'′’", "ft")}
_NUMBER = r"\d[\d.,]*"
# What people write for the words of the format.
_FLAGS = (
    ("about", r"~|≈|ca\.?|circa|approx\.?|approximately|around|roughly"),
    ("at least", r"≥|>=?|more than|over|above|min\.?"),
    ("up to", r"≤|<=?|less than|under|below|max\.?"),
)
_FLAGGED = tuple((flag, re.compile(rf"^(?:{words})\s*(?=\d)", re.IGNORECASE)) for flag, words in _FLAGS)
_NOTHING = ("?", "unknown", "n/a", "-", "–", "not weighed", "not measured")
_STEPS = re.compile(r"(?P<before>\S.*?)\s*(?:,?\s*then\s|->|→|=>)\s*(?P<after>\S.*)")


def unit_hint(text: str, unit: str, dimension: Dimension) -> str:
    """A mend for a text whose unit is not known."""
    number = text[: text.find(unit)].strip()
    plain = unit.removesuffix("+").strip()
    if plain != unit and unit_named(plain, dimension):
        return f"write `{number}+ {plain}`"
    group = re.fullmatch(r"[ '’](\d{3})\b\s*(.*)", text.removeprefix(number)) if number.isdigit() else None
    if group:
        return f"write `{f'{number}{group[1]} {group[2]}'.strip()}`"
    again = re.fullmatch(rf"(\S+)\s*[-–]\s*({_NUMBER})\s*(\S+)", unit)
    if again and again[1] == again[3]:
        return f"write `{number}-{again[2]} {again[1]}`"
    first = re.split(r"[\s/]", unit, maxsplit=1)[0]
    if first != unit and unit_named(first, dimension) and not re.search(r"\d", unit):
        return f"write `{number} {first}`, and the rest as a `note`"
    return _near_unit(unit, dimension)


def _near_unit(unit: str, dimension: Dimension) -> str:
    near = _SIGNS.get(unit) or closest(unit, spellings(dimension))
    known = unit_named(near, dimension)
    like = near and SequenceMatcher(None, unit.lower(), near.lower()).ratio() >= _LIKE
    if known and (like or unit in _SIGNS):
        return f"write `{known.symbol}`"
    if any(sign in unit for sign in _SIGNS) and dimension is Dimension.LENGTH:
        return "write feet as `ft` and inches as `in`"
    return f"write {listed([f'`{u.symbol}`' for u in units_of(dimension)][:6], 'or')}"


def bare_hint(text: str, dimension: Dimension) -> str:
    """A mend for a number without a unit: the number with each of the units it may have."""
    offer = [f"`{text} {unit.symbol}`" for unit in units_of(dimension)[:4]]
    return f"write {listed(offer, 'or')}"


def quantity_hint(text: str, dimension: Dimension) -> str:
    """A mend for a text that is no quantity at all."""
    for flag, pattern in _FLAGGED:
        if match := pattern.match(text):
            return f"write `{flag} {text[match.end() :]}`"
    if text.lower() in _NOTHING or closest(text, UNKNOWN):
        return f"write `{closest(text, UNKNOWN) or 'unmeasured'}`"
    if dimension is Dimension.ACIDITY and (match := re.fullmatch(r"(?i:ph)[ :=]*(.+)", text)):
        return f"write `{match[1]}`"
    if dimension is Dimension.COUNT and (match := re.fullmatch(r"(\d+)\s+\D.*", text)):
        return f"write `{match[1]}`"
    if text.startswith("-"):
        return "write it without the minus sign"
    return f"write a value such as `{EXAMPLES[dimension]}`, or leave it out"


def steps_hint(text: str) -> str:
    """A mend for a value before and after that is not written `7.1, then 5.9`; empty for anything else."""
    match = _STEPS.fullmatch(text)
    return f"write `{match['before']}, then {match['after']}`" if match else ""
