"""What was probably meant by a text that is no quantity: the one thing that a finding offers to do.

In: the text, what stood there as a unit, and the dimension wanted. Out: a mend in words. Nothing here decides
whether a text is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from difflib import SequenceMatcher

from sitegen.core.examples import example_of
from sitegen.core.text import closest, listed
from sitegen.core.units import Dimension, Unit, Units, spellings, unit_named, units_of
from sitegen.ingest.spoken import counted_words, flagged_words

__all__ = ["UNKNOWN", "bare_hint", "meant", "own_first", "quantity_hint", "steps_hint", "unit_hint"]

UNKNOWN = ("unweighed", "unmeasured", "not kept")

_LIKE = 0.65  # how like a unit a slip of the pen must be; `stone` is no `ounce`
_SIGNS = {**dict.fromkeys('"″”', "in"), **dict.fromkeys("'′’", "ft")}
_NUMBER = r"\d[\d.,]*"
_NOTHING = ("?", "unknown", "n/a", "-", "–", "not weighed", "not measured")
_STEPS = re.compile(r"(?P<before>\S.*?)\s*(?:,?\s*then\s|->|→|=>)\s*(?P<after>\S.*)")


def unit_hint(text: str, unit: str, dimension: Dimension, units: Units) -> str:
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
    return _near_unit(unit, dimension, units)


def meant(text: str, dimension: Dimension, reads: Callable[[str], bool] | None, units: Units) -> str:
    """The text as the reader would take it; empty where that cannot be told. With no unit, each it may have."""
    plain = _spoken(text, dimension)
    if reads is None or plain == text:
        return ""
    if reads(plain):
        return f"write `{plain}`"
    offer = [
        f"`{whole}`"
        for unit in own_first(dimension, units)
        if reads(whole := f"{plain} {unit.symbol}".strip())
    ]
    return f"write {listed(offer[:2], 'or')}" if offer else ""


def _spoken(text: str, dimension: Dimension) -> str:
    """A text with its marks, words and ranges in the spelling of the format."""
    plain = counted_words(text.strip())
    if dimension is Dimension.LENGTH:
        plain = re.sub(r"\s*(?:''|[\"″”“])", " in", plain)
        plain = re.sub(r"\s*['’′]\s*", " ft ", plain).strip()
    plain = flagged_words(plain)
    if dimension not in (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE):
        plain = plain.removeprefix("-")
    plain = re.sub(rf"({_NUMBER})\s*(?:to|or|bis|\.\.+|…)\s*({_NUMBER})", r"\1-\2", plain)
    plain = re.sub(rf"({_NUMBER})\s*([a-z]+)\s*(?:[-–]|to|or)\s*({_NUMBER})\s*\2$", r"\1-\3 \2", plain)
    return re.sub(r"([a-z])\.$", r"\1", plain)


def own_first(dimension: Dimension, units: Units) -> list[Unit]:
    """The units of a dimension, those of the journal's own system first."""
    return sorted(units_of(dimension), key=lambda unit: units == "us" and unit.system == "metric")


def _near_unit(unit: str, dimension: Dimension, units: Units) -> str:
    near = _SIGNS.get(unit) or closest(unit, spellings(dimension))
    known = unit_named(near, dimension)
    like = near and SequenceMatcher(None, unit.lower(), near.lower()).ratio() >= _LIKE
    if known and (like or unit in _SIGNS):
        return f"write `{known.symbol}`"
    if any(sign in unit for sign in _SIGNS) and dimension is Dimension.LENGTH:
        return "write feet as `ft` and inches as `in`"
    return f"write {listed([f'`{u.symbol}`' for u in own_first(dimension, units)][:6], 'or')}"


def bare_hint(text: str, dimension: Dimension, units: Units) -> str:
    """A mend for a number without a unit: the number with each of the units it may have."""
    offer = [f"`{text} {unit.symbol}`" for unit in own_first(dimension, units)[:4]]
    return f"write {listed(offer, 'or')}"


def quantity_hint(text: str, dimension: Dimension, units: Units) -> str:
    """A mend for a text that is no quantity at all."""
    if (flagged := flagged_words(text)) != text:
        return f"write `{flagged}`"
    if text.lower() in _NOTHING or closest(text, UNKNOWN):
        return f"write `{closest(text, UNKNOWN) or 'unmeasured'}`"
    if dimension is Dimension.ACIDITY and (match := re.fullmatch(r"(?i:ph)[ :=]*(.+)", text)):
        return f"write `{match[1]}`"
    if dimension is Dimension.COUNT and (match := re.fullmatch(r"(\d+)\s+\D.*", text)):
        return f"write `{match[1]}`"
    if text.startswith("-"):
        return "write it without the minus sign"
    unknown = "unweighed" if dimension is Dimension.MASS else "unmeasured"
    return f"write a value such as `{example_of(dimension, units)}`, or `{unknown}`"


def steps_hint(text: str) -> str:
    """A mend for a value before and after that is not written `7.1, then 5.9`; empty for anything else."""
    match = _STEPS.fullmatch(text)
    return f"write `{match['before']}, then {match['after']}`" if match else ""
