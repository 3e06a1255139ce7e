"""Why a text is no quantity: one finding each, with what stands there, what was expected and how to write it.

In: the scalar, the dimension that its key wants. Out: findings. Nothing here decides whether a text is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from difflib import SequenceMatcher

from sitegen.core.findings.examples import example_of
from sitegen.core.findings.finding import Findings
from sitegen.core.language.text import closest, listed
from sitegen.core.values.units import UNITS, Dimension, Unit, Units, spellings, unit_named, units_of
from sitegen.ingest.values.normalize import with_digits, with_flags
from sitegen.ingest.yaml.nodes import Scalar

_NONE = ("none", "nothing", "nil")
WORDS: dict[Dimension, str] = {
    Dimension.MASS: "a weight",
    Dimension.VOLUME: "a volume",
    Dimension.LENGTH: "a length",
    Dimension.DURATION: "hours",
    Dimension.CONDUCTIVITY: "a conductivity",
    Dimension.TEMPERATURE: "a temperature",
    Dimension.TEMPERATURE_DIFFERENCE: "a temperature difference",
    Dimension.SHARE: "a percentage",
    Dimension.PHOTON_FLUX: "a photon flux density",
    Dimension.POWER: "a power",
    Dimension.ENERGY: "an energy",
    Dimension.VOLUME_DOSE: "a dose",
    Dimension.MASS_DOSE: "a dose",
    Dimension.ACIDITY: "a pH",
    Dimension.COUNT: "a whole number",
    Dimension.AREA: "an area",
}
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+")


@dataclass(frozen=True, slots=True)
class QuantityErrors:
    """Says why the text of one scalar is refused, and what to write instead."""

    scalar: Scalar
    dimension: Dimension
    findings: Findings
    key: str
    reads: Callable[[str], bool] | None = None  # whether another text would be read

    @property
    def example(self) -> str:
        """A well-written value, in the journal's own units."""
        return example_of(self.dimension, self.findings.units)

    def meant(self) -> str:
        """The mend with the text as it was meant; empty where that cannot be told."""
        return meant(self.scalar.text.strip(), self.dimension, self.reads, self.findings.units)

    def refuse(self, code: str, message: str, mend: str, *, part: str = "", expected: str = "") -> None:
        """Note a finding; `part` is the piece of the text that it is about."""
        offset = self.scalar.text.find(part) if part else -1
        source = self.scalar.part(offset, len(part)) if offset >= 0 else self.scalar.source
        self.findings.add(
            code,
            source,
            message,
            mend=mend,
            found=part or self.scalar.text,
            expected=expected or WORDS[self.dimension],
        )

    def comma(self, text: str) -> None:
        """A number with commas: both readings are offered where there are two."""
        whole, once = self.scalar.text.strip(), text.count(",") == 1
        readings = [whole.replace(text, text.replace(",", ""))] if _GROUPED.fullmatch(text) else []
        readings += [re.sub(r"(\d),(\d)", r"\1.\2", whole)] if once else []
        if not readings:
            self.quantity()
            return
        one = f"`{text}` has {'a decimal comma' if once else 'commas between thousands'}"
        self.refuse(
            "ambiguous-number",
            f"`{text}` can be read in two ways" if len(readings) > 1 else one,
            f"write {listed([f'`{reading}`' for reading in readings], 'or')}",
            part=text,
            expected="a decimal point, and no sign between thousands",
        )

    def mixed(self, number: str, rest: str) -> None:
        """A number with points between thousands and a decimal comma."""
        plain = number.replace(".", "").replace(",", ".")
        self.refuse(
            "ambiguous-number",
            f"`{number}` has a decimal comma and points between thousands",
            f"write `{plain}{rest}`",
            part=number,
            expected="a decimal point, and no sign between thousands",
        )

    def bare(self) -> None:
        """A number without a unit."""
        self.refuse(
            "no-unit",
            f"`{self.key}: {self.scalar.text}` has no unit",
            bare_hint(self.scalar.text, self.dimension, self.findings.units),
            expected=f"{WORDS[self.dimension]}, such as {self.example}",
        )

    def unit(self, text: str) -> None:
        """A unit of something else, or no unit at all."""
        others = [unit for unit in UNITS if text == unit.symbol or text in unit.also]
        if others:
            self.refuse(
                "wrong-dimension",
                f"`{text}` is {_article(others[0].dimension)}; `{self.key}` wants {WORDS[self.dimension]}",
                f"write it as `{self.example}`",
                part=text,
            )
            return
        self.refuse(
            "unknown-unit",
            f"`{text}` is not a known unit",
            self.meant() or unit_hint(self.scalar.text.strip(), text, self.dimension, self.findings.units),
            part=text,
        )

    def quantity(self) -> None:
        """A text that is no such value."""
        text = self.scalar.text.strip()
        nothing = f"leave `{self.key}` out, or say it in a `note`" if text.lower() in _NONE else ""
        self.refuse(
            "not-a-quantity",
            f"{f'`{text}`' if text else 'an empty text'} is not {WORDS[self.dimension]}",
            nothing or self.meant() or quantity_hint(text, self.dimension, self.findings.units),
            expected=f"{WORDS[self.dimension]}, such as {self.example}",
        )

    def scale(self, unit: str) -> None:
        """Parts per million, which meters reckon in two ways."""
        number = self.scalar.text.removesuffix(unit).strip()
        self.refuse(
            "scale-unknown",
            "ppm means nothing without the meter's scale",
            f"write `{number} ppm500` or `{number} ppm700`, or the conductivity in mS/cm",
            part=unit,
            expected="mS/cm, or ppm with the meter's scale",
        )

    def reversed(self, text: str, low: str, high: str) -> None:
        """A range that ends before it begins; `text` is the whole of it, the right way round."""
        if "/" in high and "/" not in low:  # `2-1/4` is how many write two and a quarter
            mixed = text.replace(f"{high}-{low}", f"{low} {high}")
            message, mend = f"`{low}-{high}` can be read in two ways", f"write `{mixed}` or `{text}`"
            self.refuse("ambiguous-number", message, mend)
            return
        self.refuse("reversed-range", f"the range `{low}-{high}` ends before it begins", f"write `{text}`")


def _article(dimension: Dimension) -> str:
    return WORDS.get(dimension, f"a {dimension.value}")


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
    plain = with_digits(text.strip())
    if dimension is Dimension.LENGTH:
        plain = re.sub(r"\s*(?:''|[\"″”“])", " in", plain)
        plain = re.sub(r"\s*['’′]\s*", " ft ", plain).strip()
    plain = with_flags(plain)
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
    if (flagged := with_flags(text)) != text:
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
