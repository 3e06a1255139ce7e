"""Findings about a text that is not a quantity: its problem, the expected value, and the mend.

In: the text, and the dimension that its key wants. Out: one finding each. The decision that a text is not a quantity
is made in `quantities`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from difflib import SequenceMatcher

from sitegen.core.findings.examples import example_of, in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend, replacement
from sitegen.core.format import TABLES
from sitegen.core.language.text import closest, is_slip, listed
from sitegen.core.values.quantity import Quantity, some, unknown
from sitegen.core.values.units import UNITS, Dimension, Unit, spellings, unit_named, units_of
from sitegen.ingest.values.normalize import LONGEST_VALUE, with_digits, with_flags, with_signs, without_quotes
from sitegen.ingest.yaml.nodes import Scalar

UNKNOWN = ("unweighed", "unmeasured", "not kept")
_UNKNOWN_TOO = ("unknown", "?", "not weighed", "not measured", "not counted", "uncounted", "not known")
_SOME = ("some", "a little", "a bit", "a few", "several")
# Of what there can be some: a length or a temperature is there, or nobody measured it.
_AMOUNTS = (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT, Dimension.VOLUME_DOSE, Dimension.MASS_DOSE)


def without_size(text: str, dimension: Dimension) -> Quantity | None:
    """An amount that was not measured, or of which there was some; None for any other text."""
    word = without_quotes(text.strip()).strip().lower()
    if word in UNKNOWN or word in _UNKNOWN_TOO:
        return unknown(dimension)
    return some(dimension) if word in _SOME and dimension in _AMOUNTS else None


WORDS: dict[Dimension, str] = {
    Dimension.MASS: "a weight",
    Dimension.VOLUME: "a volume",
    Dimension.LENGTH: "a length",
    Dimension.DURATION: "hours",
    Dimension.CONDUCTIVITY: "a conductivity",
    Dimension.PPM: "parts per million",
    Dimension.TEMPERATURE: "a temperature",
    Dimension.TEMPERATURE_DIFFERENCE: "a temperature difference",
    Dimension.SHARE: "a percentage",
    Dimension.PHOTON_FLUX: "a photon flux density",
    Dimension.ILLUMINANCE: "an illuminance",
    Dimension.POWER: "a power",
    Dimension.ENERGY: "an energy",
    Dimension.VOLUME_DOSE: "a dose",
    Dimension.MASS_DOSE: "a dose",
    Dimension.ACIDITY: "a pH",
    Dimension.COUNT: "a whole number",
    Dimension.AREA: "an area",
}
_SIGNED = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)
_NONE = ("none", "nothing", "nil")
_NOT_MEASURED = ("?", "unknown", "n/a", "-", "–", "not weighed", "not measured")
_UNIT_SIGNS = {**dict.fromkeys('"″”', "in"), **dict.fromkeys("'′’", "ft")}
_LIKE = 0.65  # the least similarity of a misspelt unit; `stone` is no `ounce`
_TYPED = {"°C": "C", "°F": "F"}  # what a keyboard has
_EXAMPLES = {field.key: field.example for name in ("system", "entry") for field in TABLES[name].fields}
_OFFERED = 4  # units; more would not be read
_NUMBER = r"\d[\d.,]*"
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+")
_STEPS = re.compile(r"(?P<before>\S.*?)(?P<between>\s*+(?:(?:,\s*+)?\bthen\s|->|→|=>)\s*+)(?P<after>\S.*)")
_PLAIN_NUMBER = "a decimal point, and no sign between thousands"


def steps_in(text: str) -> tuple[str, str, str] | None:
    """The value before, what stands between, and the value after; None where it is one value."""
    match = _STEPS.fullmatch(text)
    return (match["before"], match["between"], match["after"]) if match else None


class RefusedError(Exception):
    """A text that is not a quantity; the finding about it was added."""


@dataclass(frozen=True, slots=True)
class QuantityErrors:
    """The errors of one text: each method adds a finding and returns the exception to raise.

    `reads` tells whether another text is a quantity.
    """

    scalar: Scalar
    dimension: Dimension
    findings: Findings
    key: str
    reads: Callable[[str], bool] | None = None

    @property
    def _text(self) -> str:
        return self.scalar.text.strip()

    @property
    def _words(self) -> str:
        return WORDS[self.dimension]

    @property
    def _example(self) -> str:
        return example_of(self.dimension, self.findings.units)

    @property
    def _units(self) -> list[Unit]:
        """The units of the dimension, those of the journal's own system first."""
        us = self.findings.units == "us"
        return sorted(units_of(self.dimension), key=lambda unit: us and unit.system == "metric")

    @property
    def _likely_units(self) -> list[Unit]:
        """Four units of the dimension; of more, those nearest in size to the unit that the key is mostly given in."""
        own = [unit for unit in self._units if unit.system == self.findings.units]
        shown = in_units(_EXAMPLES.get(self.key, ""), self.findings.units).partition(" ")[2]
        usual = unit_named(shown, self.dimension)
        if len(own) <= _OFFERED or usual is None:
            return self._units[:_OFFERED]
        size = usual.factor
        return sorted(own, key=lambda unit: max(unit.factor / size, size / unit.factor))[:_OFFERED]

    def _error(
        self, code: str, message: str, mend: str | Mend, *, part: str = "", expected: str = ""
    ) -> RefusedError:
        """Add a finding; `part` is the piece of the text that it is about."""
        offset = self.scalar.text.find(part) if part else -1
        source = self.scalar.part(offset, len(part)) if offset >= 0 else self.scalar.source
        found, expected = part or self.scalar.text, expected or self._words
        self.findings.add(code, source, message, mend=mend, found=found, expected=expected)
        return RefusedError()

    def comma(self, number: str) -> RefusedError:
        """A number with commas; the mend offers each possible reading."""
        once = number.count(",") == 1
        readings = [self._text.replace(number, number.replace(",", ""))] if _GROUPED.fullmatch(number) else []
        readings += [re.sub(r"(\d),(\d)", r"\1.\2", self._text)] if once else []
        if not readings:
            return self.not_a_quantity()
        one = f"`{number}` has {'a decimal comma' if once else 'commas between thousands'}"
        message = f"`{number}` can be read in two ways" if len(readings) > 1 else one
        mend = _write(readings) if len(readings) > 1 else self.scalar.written(readings[0])
        return self._error("ambiguous-number", message, mend, part=number, expected=_PLAIN_NUMBER)

    def mixed(self, number: str) -> RefusedError:
        """A number with points between thousands and a decimal comma."""
        plain = number.replace(".", "").replace(",", ".")
        message = f"`{number}` has a decimal comma and points between thousands"
        mend = self.scalar.written(self._text.replace(number, plain))
        return self._error("ambiguous-number", message, mend, part=number, expected=_PLAIN_NUMBER)

    def thousands(self, number: str) -> RefusedError:
        """A number with a point before three digits, in a unit of which nobody measures a thousandth."""
        whole, short = number.replace(".", ""), number.rstrip("0").rstrip(".")
        readings = [self._text.replace(number, reading) for reading in (whole, short)]
        message = f"`{number}` can be read in two ways"
        return self._error("ambiguous-number", message, _write(readings), part=number, expected=_PLAIN_NUMBER)

    def degrees(self, number: str) -> RefusedError:
        """A temperature by a sign that does not say of which scale."""
        message = f"`{self._text}` can be degrees Celsius or Fahrenheit"
        return self._error("no-unit", message, _write([f"{number} C", f"{number} F"]))

    def no_unit(self) -> RefusedError:
        """A number without a unit; the mend offers units."""
        text = self.scalar.text
        mend = _write([f"{text} {_TYPED.get(unit.symbol, unit.symbol)}" for unit in self._likely_units])
        on_off = re.fullmatch(r"(\d{1,2})\s*/\s*(\d{1,2})", text)
        if on_off and self.dimension is Dimension.DURATION and int(on_off[1]) + int(on_off[2]) == 24:
            mend = f"write the hours with light: `{on_off[1]} h`; the other {on_off[2]} go without saying"
        expected = f"{self._words}, such as {self._example}"
        return self._error("no-unit", f"`{self.key}: {text}` has no unit", mend, expected=expected)

    def wrong_unit(self, unit: str) -> RefusedError:
        """A unit of another dimension, or an unknown unit."""
        mend: str | Mend
        others = [other for other in UNITS if unit == other.symbol or unit in other.also]
        if others:
            other = WORDS.get(others[0].dimension, f"a {others[0].dimension.value}")
            message = f"`{unit}` is {other}; `{self.key}` wants {self._words}"
            mend = f"write {self._words}, such as `{self._example}`"
            return self._error("wrong-dimension", message, mend, part=unit)
        mend = self._normalized_mend() or self._unit_mend(unit)
        return self._error("unknown-unit", f"`{unit}` is not a known unit", mend, part=unit)

    def not_a_quantity(self) -> RefusedError:
        """A text that is not a quantity."""
        text = self._text
        mend: str | Mend = ""
        if text.lower() in _NONE:
            mend = f"leave `{self.key}` out, or say it in a `note`"
        message = f"{f'`{text}`' if text else 'an empty text'} is not {self._words}"
        expected = f"{self._words}, such as {self._example}"
        mend = mend or self._normalized_mend() or self._quantity_mend()
        return self._error("not-a-quantity", message, mend, expected=expected)

    def no_scale(self, unit: str) -> RefusedError:
        """Parts per million, for which meters have several scales."""
        number = self.scalar.text.removesuffix(unit).strip()
        mend = (
            f"write `{number} ppm500`, `{number} ppm640` or `{number} ppm700`, or the conductivity in mS/cm"
        )
        expected = "mS/cm, or ppm with the meter's scale"
        return self._error(
            "scale-unknown", "ppm means nothing without the meter's scale", mend, part=unit, expected=expected
        )

    def reversed(self, text: str, low: str, high: str) -> RefusedError:
        """A range that ends before it begins; `text` is the whole text, the right way round."""
        if "/" in high and "/" not in low:  # `2-1/4` is how many write two and a quarter
            mixed = text.replace(f"{high}-{low}", f"{low} {high}")
            message, mend = f"`{low}-{high}` can be read in two ways", f"write `{mixed}` or `{text}`"
            return self._error("ambiguous-number", message, mend)
        message = f"the range `{low}-{high}` ends before it begins"
        return self._error("reversed-range", message, self.scalar.written(text))

    def _normalized_mend(self) -> str | Mend:
        """The mend with the text in the spelling of the format, and units where it has none; empty where unknown."""
        plain = _normalized(self._text, self.dimension)
        if self.reads is None or plain == self._text:
            return ""
        if self.reads(plain):
            return f"write `{plain}`" if self._text.startswith("-") else self.scalar.written(plain)
        texts = (f"{plain} {unit.symbol}".strip() for unit in self._units)
        known = [text for text in texts if self.reads(text)]
        return _write(known[:2]) if known else ""

    def _with(self, unit: str, text: str) -> str | Mend:
        """The mend that writes something else from the number on, and keeps what stands before and after the unit."""
        before, _, after = self._text.rpartition(unit)
        number = re.search(rf"{_NUMBER}\s*$", before)
        kept = before[: number.start()] if number else ""
        return self.scalar.written(f"{kept}{text}{after}")

    def _unit_mend(self, unit: str) -> str | Mend:
        """The mend for an unknown unit."""
        text, dimension = self._text, self.dimension
        before = text[: text.rfind(unit)].strip()
        found = re.search(rf"{_NUMBER}$", before)
        number = found.group() if found else before
        plain = unit.removesuffix("+").strip()
        if plain != unit and unit_named(plain, dimension):
            return self._with(unit, f"{number}+ {plain}")
        group = (
            re.fullmatch(r"[ '’](\d{3})\b\s*(.*)", text.removeprefix(number)) if number.isdigit() else None
        )
        if group:
            return self.scalar.written(f"{number}{group[1]} {group[2]}".strip(), safe=False)
        again = re.fullmatch(rf"(\S+)\s*[-–]\s*({_NUMBER})\s*(\S+)", unit)
        if again and again[1] == again[3]:
            return self._with(unit, f"{number}-{again[2]} {again[1]}")
        first = re.split(r"[\s/]", unit, maxsplit=1)[0]
        if first != unit and unit_named(first, dimension) and not re.search(r"\d", unit):
            return f"write `{before} {first}`, and the rest as a `note`"
        return self._near_unit_mend(unit)

    def _near_unit_mend(self, unit: str) -> str | Mend:
        """The mend for a misspelt unit; any other gets the units of the dimension."""
        near = _UNIT_SIGNS.get(unit) or closest(unit, spellings(self.dimension))
        known = unit_named(near, self.dimension)
        like = near and SequenceMatcher(None, unit.lower(), near.lower()).ratio() >= _LIKE
        if known and (like or unit in _UNIT_SIGNS):
            place = self.scalar.part(self.scalar.text.rfind(unit), len(unit))
            # One letter more or less may be another unit: `mg` is no slip for `g`.
            sure = unit in _UNIT_SIGNS or (len(unit) > 3 and is_slip(unit, near))
            exact = sure and place.width == len(unit)
            return replacement(place, unit, known.symbol) if exact else f"write `{known.symbol}`"
        if any(sign in unit for sign in _UNIT_SIGNS) and self.dimension is Dimension.LENGTH:
            return "write feet as `ft` and inches as `in`"
        return _write([each.symbol for each in self._units][:6])

    def _quantity_mend(self) -> str | Mend:
        """The mend for a text that is not a quantity."""
        text, dimension = self._text, self.dimension
        unknown = "unweighed" if dimension is Dimension.MASS else "unmeasured"
        if (flagged := with_flags(text)) != text:
            return f"write `{flagged}`"
        if text.lower() in _NOT_MEASURED or closest(text, UNKNOWN):
            return self.scalar.written(closest(text, UNKNOWN) or "unmeasured")
        if dimension is Dimension.ACIDITY and (match := re.fullmatch(r"(?i:ph)[ :=]*([\d.]+)", text)):
            return self.scalar.written(match[1])
        if dimension is Dimension.COUNT and (match := re.fullmatch(r"(\d+)\s+(\D.*)", text)):
            same = match[2].lower() in (self.key, self.key.removesuffix("s"))
            return self.scalar.written(match[1]) if same else f"write `{match[1]}`"
        if text.startswith("-"):
            return "write it without the minus sign"
        return f"write a value such as `{self._example}`, or `{unknown}`"


def _write(texts: list[str]) -> str:
    return f"write {listed([f'`{text}`' for text in texts], 'or')}"


def spelled_out(text: str, dimension: Dimension) -> str:
    """A text with its signs, words and ranges in the spelling of the format, as far as they have one reading."""
    plain = _in_format(with_signs(with_digits(_lower_start(without_quotes(text.strip()).strip()))), dimension)
    if dimension is Dimension.ACIDITY:
        plain = _AFTER_PH.sub("", plain)
    return plain


_AFTER_PH = re.compile(r"(?i)^ph\s*[:=]?\s*(?=\d)")
_FIRST_WORD = re.compile(r"(?:About|At least|At most|Up to|[A-Z][a-z]+(?= ))")


def _lower_start(text: str) -> str:
    """A text without the capital of its first word."""
    return text[:1].lower() + text[1:] if _FIRST_WORD.match(text) else text


def _normalized(text: str, dimension: Dimension) -> str:
    """The same for the mend of a finding: a misspelt flag is mended too, and a minus sign removed."""
    plain = with_flags(_in_format(with_digits(text), dimension))
    return plain if dimension in _SIGNED else plain.removeprefix("-")


def _in_format(text: str, dimension: Dimension) -> str:
    if len(text) > LONGEST_VALUE:
        return text
    plain = text.replace("º", "°")
    if dimension is Dimension.LENGTH:
        plain = re.sub(r"\s*(?:''|[\"″”“])", " in", plain)
        plain = re.sub(r"\s*['’′]\s*", " ft ", plain).strip()
    plain = re.sub(rf"({_NUMBER})\s*(?:to|or|bis|\.\.+|…)\s*({_NUMBER})", r"\1-\2", plain)
    plain = re.sub(rf"({_NUMBER})\s*([a-z]+)\s*(?:[-–]|to|or)\s*({_NUMBER})\s*\2$", r"\1-\3 \2", plain)
    plain = re.sub(rf"({_NUMBER})\s*([A-Za-z]+)\s*\+$", r"\1+ \2", plain)
    return re.sub(r"([a-z])\.$", r"\1", plain)
