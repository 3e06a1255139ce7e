"""Quantities and doses as people write them: `about 9 in`, `8-9 in`, `unweighed`, `2 ml/L`.

In: the text of one scalar and the dimension that its key wants. Out: a `Quantity`, or None and a finding. An ambiguous
text is refused, and the finding offers each reading; nothing is guessed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.findings.source import Source
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL, Dimension, Unit, unit_named
from sitegen.ingest.values.normalize import with_digits, with_flags, without_quotes
from sitegen.ingest.values.quantity_errors import (
    QuantityErrors,
    RefusedError,
    spelled_out,
    steps_in,
    without_size,
)
from sitegen.ingest.yaml.nodes import Scalar

MOST_DIGITS = 15  # before the point: a float keeps no more
LONGEST = 40  # characters of a number: no reading has as many, and Python refuses to parse thousands
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8"}
_VULGAR |= {"⅝": "5/8", "⅞": "7/8"}
_NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d*\.\d+|\d+(?:[.,]\d+)*)"
_FORM = re.compile(
    rf"(?P<flag>about|at least|up to)?\s*(?P<low>-?{_NUMBER})"
    rf"(?:\s*+[-–]\s*+(?P<high>-?{_NUMBER}))?(?:\s*+(?P<plus>\+))?\s*+(?P<unit>.*?)(?P<eye>\s+by eye)?",
)
_COMPOUND = re.compile(
    rf"(?P<big>\d{{1,9}})\s*(?P<bigunit>lb|ft)\s+(?P<small>{_NUMBER})\s*(?P<smallunit>oz|in)"
)
_MIXED = re.compile(r"(?:about |at least |up to )?(?P<number>\d{1,3}(?:\.\d{3})+,\d+)(?P<rest>.*)")
# An amount up to its unit; `2` in `m2` is of the unit.
_AFTER = re.compile(
    r".*?(?<![\d.,])[\d.,]++(?:\s+\d+/\d+|/\d+)?(?:\s*+[-–]\s*+[\d.,]+)?(?:\s*+\+)?\s*+(?P<unit>.*)"
)
_WHOLE = re.compile(r"\d{1,9}")
_DECIMAL = re.compile(r"\d{1,9}(?:\.\d{1,9})?")
_TIME = re.compile(r"(?P<hour>[01]?\d|2[0-3]):(?P<minute>[0-5]\d)")
_NEAR_TIME = re.compile(r"(?P<hour>\d{1,2})(?:[.:h ]*(?P<minute>\d{2}))?\s*(?:h|uhr|(?P<half>[ap])\.?m\.?)?")
_GROUPED = re.compile(r"[1-9]\d{0,2}\.\d{3}")
# Units of which no instrument of a grower shows a thousandth. Common practice, no source.
_NEVER_FINE = frozenset({"lux", "W", "µS/cm", "ppm", "ppm500", "ppm640", "ppm700", "mm", "ml"})
_CACHED = 8192  # texts
_DEGREES = ("°", "º", "deg", "degree", "degrees")
_SIGNED = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


class _Number(NamedTuple):
    value: Fraction
    step: Fraction


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads one text; raises `RefusedError` where it is not a quantity."""

    errors: QuantityErrors

    @property
    def dimension(self) -> Dimension:
        return self.errors.dimension

    def read(self) -> Quantity:
        text = self.errors.scalar.text.strip()
        if sizeless := without_size(text, self.dimension):
            return sizeless
        if mixed := _MIXED.fullmatch(text):
            raise self.errors.mixed(mixed["number"])
        for sign, fraction in _VULGAR.items():
            text = re.sub(rf"(\d){sign}", rf"\1 {fraction}", text).replace(sign, fraction)
        eye = text.endswith(" by eye")
        body = text.removesuffix(" by eye").strip()
        flag = next((f for f in ("about", "at least", "up to") if body.startswith(f + " ")), "")
        compound = _COMPOUND.fullmatch(body.removeprefix(flag).strip())
        return _flagged(self._compound(compound), flag, eye) if compound else self._simple(text)

    def _compound(self, match: re.Match[str]) -> Quantity:
        """Two units: `1 lb 4 oz`."""
        big = unit_named(match["bigunit"], self.dimension)
        small = unit_named(match["smallunit"], self.dimension)
        number = self._number(match["small"])
        if big is None or small is None:
            raise self.errors.wrong_unit(match["bigunit"] if big is None else match["smallunit"])
        value = int(match["big"]) * big.factor + number.value * small.factor
        return Quantity(float(value), float(value), self.dimension, step=float(number.step * small.factor))

    def _simple(self, text: str) -> Quantity:
        """A number or a range, with its unit and flags."""
        match = _FORM.fullmatch(text)
        if match is None:
            raise self.errors.not_a_quantity()
        low = self._signed(match["low"])
        high = self._signed(match["high"]) if match["high"] else low
        unit = self._unit(match["unit"].strip())
        for number in (match["low"], match["high"] or ""):
            if unit.symbol in _NEVER_FINE and _GROUPED.fullmatch(number):
                raise self.errors.thousands(number)
        if high.value < low.value:
            before, after = match.string[: match.start("low")], match.string[match.end("high") :]
            swapped = f"{before}{match['high']}-{match['low']}{after}"
            raise self.errors.reversed(swapped, match["low"], match["high"])
        bottom, top = (float(number.value * unit.factor + unit.offset) for number in (low, high))
        quantity = Quantity(bottom, top, self.dimension, step=float(max(low.step, high.step) * unit.factor))
        return _flagged(quantity, "at least" if match["plus"] else match["flag"] or "", bool(match["eye"]))

    def _signed(self, text: str) -> _Number:
        """A number, below 0 only where the dimension allows it; a count is whole."""
        number = self._number(text.removeprefix("-"))
        minus = text.startswith("-")
        broken = self.dimension is Dimension.COUNT and number.value.denominator > 1
        if (minus and self.dimension not in _SIGNED) or broken:
            raise self.errors.not_a_quantity()
        return _Number(-number.value, number.step) if minus else number

    def _number(self, text: str) -> _Number:
        """A number without a sign."""
        if "," in text:
            raise self.errors.comma(text)
        if text.count(".") > 1 or len(text) > LONGEST or len(text.partition(".")[0]) > MOST_DIGITS:
            raise self.errors.not_a_quantity()
        if "/" not in text:
            return _Number(Fraction(text), Fraction(1, 10 ** len(text.partition(".")[2])))
        whole, _, fraction = text.rpartition(" ")
        top, bottom = map(int, fraction.split("/"))
        if bottom == 0:
            raise self.errors.not_a_quantity()
        return _Number(int(whole or 0) + Fraction(top, bottom), Fraction(1, bottom))

    def _unit(self, text: str) -> Unit:
        """The unit written, of the wanted dimension."""
        if self.dimension in (Dimension.ACIDITY, Dimension.COUNT):
            if text and not (self.dimension is Dimension.ACIDITY and text.lower() == "ph"):
                raise self.errors.not_a_quantity()
            return CANONICAL[self.dimension]
        if not text:
            raise self.errors.no_unit()
        if self.dimension is Dimension.CONDUCTIVITY and text.lower() in ("ppm", "tds"):
            raise self.errors.no_scale(text)
        if self.dimension is Dimension.TEMPERATURE and text in _DEGREES:
            raise self.errors.degrees(self.errors.scalar.text.strip().removesuffix(text).strip())
        unit = unit_named(text, self.dimension)
        if unit is None:
            raise self.errors.wrong_unit(text)
        return unit


def _flagged(quantity: Quantity, flag: str, eye: bool) -> Quantity:
    if flag == "about":
        quantity = replace(quantity, about=True)
    if flag == "at least":
        quantity = replace(quantity, high=None, open=1)
    if flag == "up to":
        quantity = replace(quantity, low=min(0.0, quantity.low))
    return replace(quantity, by_eye=eye)


def _read(errors: QuantityErrors) -> Quantity | None:
    try:
        return _Reader(errors).read()
    except RefusedError:
        return None


@lru_cache(_CACHED)
def _cached(text: str, dimension: Dimension) -> Quantity | None:
    """The quantity of a text, cached because logs repeat values. A refused text is read again with its place."""
    found = _read(_placeless(text, dimension))
    if found is None and (plain := spelled_out(text, dimension)) != text:
        found = _read(_placeless(plain, dimension))
    return found


def _placeless(text: str, dimension: Dimension) -> QuantityErrors:
    return QuantityErrors(Scalar(text, Source("")), dimension, Findings(), "")


def quantity_in(text: str, dimension: Dimension) -> Quantity | None:
    """The quantity of a text; None where the text is none, without a finding."""
    return _cached(text, dimension)


def _errors(scalar: Scalar, dimension: Dimension, findings: Findings, key: str) -> QuantityErrors:
    return QuantityErrors(scalar, dimension, findings, key, lambda text: _cached(text, dimension) is not None)


def parse_quantity(scalar: Scalar, dimension: Dimension, findings: Findings, key: str) -> Quantity | None:
    """The quantity of a scalar.

    Parameters
    ----------
    scalar
        As written.
    dimension
        The dimension that the key wants; it decides whether `oz` is a mass or a fluid ounce.
    findings
        Takes the finding where the text is refused.
    key
        The key's name, for the finding.

    Returns
    -------
    Quantity or None
        In the canonical unit of the dimension; None where the text was refused.

    """
    known = _cached(scalar.text, dimension)
    return known if known is not None else _read(_errors(scalar, dimension, findings, key))


def parse_steps(scalar: Scalar, dimension: Dimension, findings: Findings, key: str) -> tuple[Quantity, ...]:
    """`7.1, then 5.9`: one value, or a value before and one after; `7.1 -> 5.9` is the same."""
    two = None if _cached(scalar.text, dimension) else steps_in(scalar.text)
    if two is None:
        one = parse_quantity(scalar, dimension, findings, key)
        return () if one is None else (one,)
    first, comma, second = two
    number = _AFTER.fullmatch(second.strip())
    tail = number["unit"] if number else ""
    before_text = first if re.search(r"[^\d.\s]$", first) or not tail else f"{first} {tail}"
    before = parse_quantity(Scalar(before_text.strip(), scalar.part(0, len(first))), dimension, findings, key)
    after = parse_quantity(
        Scalar(second.strip(), scalar.part(len(first) + len(comma), len(second))), dimension, findings, key
    )
    return (before, after) if before is not None and after is not None else ()


def parse_whole(scalar: Scalar, findings: Findings, key: str) -> int | None:
    """A whole number."""
    text = re.sub(r"\.0+$", "", with_digits(without_quotes(scalar.text.strip()).strip()))
    if _WHOLE.fullmatch(text):
        return int(text)
    message = f"`{scalar.text}` is not a whole number; `{key}` wants one"
    scalar.report(findings, "not-a-count", message, _whole_mend(scalar, key), "a whole number")
    return None


def _whole_mend(scalar: Scalar, key: str) -> str | Mend:
    """The mend for a text that is no whole number; a word or a number more is not dropped."""
    text = with_digits(scalar.text.strip())
    if same := re.fullmatch(r"(\d{1,9})(?:\.0+)?", text):
        return scalar.written(same[1], key=key)
    near = re.match(r"(?:about |-)?(\d{1,9})(?![\d.,])", with_flags(text))
    if near and len(re.findall(r"\d+", text)) == 1:
        return f"write `{key}: {near[1]}`"
    return f"write a whole number, such as `{key}: 6`"


def parse_number(scalar: Scalar, findings: Findings, key: str) -> float | None:
    """A number above 0, with a decimal point."""
    if _DECIMAL.fullmatch(scalar.text) and float(scalar.text) > 0:
        return float(scalar.text)
    message = f"`{scalar.text}` is not a number above 0; `{key}` wants one"
    scalar.report(findings, "not-a-number", message, _number_mend(scalar, key), "a number above 0")
    return None


def _number_mend(scalar: Scalar, key: str) -> str | Mend:
    """The mend for a text that is no number: a decimal comma; a word more is not dropped."""
    near = re.match(r"(?P<whole>\d{1,9})(?:[.,](?P<part>\d{1,9}))?", scalar.text)
    number = near.group().replace(",", ".") if near else ""
    if near is None or float(number) == 0:
        return f"write a number, such as `{key}: 66`"
    if near.group() != scalar.text:
        return f"write `{key}: {number}`"
    if len(near["part"]) == 3:
        return f"write `{key}: {number}` or `{key}: {near['whole']}{near['part']}`"
    return scalar.written(number, key=key)


def parse_time_of_day(scalar: Scalar, findings: Findings, key: str) -> int | None:
    """The minutes after midnight of `06:00`, by a clock of 24 hours."""
    match = _TIME.fullmatch(scalar.text)
    if match is not None:
        return 60 * int(match["hour"]) + int(match["minute"])
    message = f"`{scalar.text}` is not a time of day; `{key}` wants hours and minutes"
    near = _NEAR_TIME.fullmatch(scalar.text.strip().lower())
    meant = _near_time(near) if near else ""
    mend = scalar.written(meant, key=key) if meant else f"write hours and minutes, such as `{key}: 06:00`"
    scalar.report(findings, "not-a-time", message, mend, "a time of day such as 06:00")
    return None


def _near_time(match: re.Match[str]) -> str:
    """The time of day that `6 am` or `6.30` means; empty where it means none."""
    hour, minute, half = int(match["hour"]), int(match["minute"] or 0), match["half"] or ""
    if half:
        hour = hour % 12 + (12 if half.startswith("p") else 0)
    return f"{hour:02}:{minute:02}" if hour < 24 and minute < 60 else ""


def parse_dose(scalar: Scalar, findings: Findings, key: str, *, rates_only: bool = False) -> Quantity | None:
    """An amount (`10 ml`, `2 g`) or a rate (`2 ml/L`), distinguished by its unit."""
    dimension, refused = _dimension_of(scalar.text, rates_only=rates_only)
    if refused:
        code, message, mend, text = refused
        scalar.report(findings, code, message, scalar.written(text) if text else mend, "a dose")
        return None
    return parse_quantity(scalar, dimension, findings, key)


@lru_cache(1024)  # logs repeat doses
def _dimension_of(text: str, *, rates_only: bool) -> tuple[Dimension, tuple[str, str, str, str] | None]:
    """The dimension of a dose by its unit; that of `_refusal` where it is invalid or ambiguous."""
    words = text.removesuffix(" by eye").split()
    unit, two = words[-1] if words else "", " ".join(words[-2:])
    order = [Dimension.VOLUME_DOSE, Dimension.MASS_DOSE]
    if not rates_only:
        order += [Dimension.MASS, Dimension.VOLUME]
    fits = [d for d in order if (unit_named(unit, d) or unit_named(two, d)) and unit != "oz"]
    fallback = Dimension.VOLUME_DOSE if rates_only or "/" in unit else Dimension.VOLUME
    return fits[0] if fits else fallback, _refusal(text, unit, two)


def _refusal(text: str, unit: str, two: str) -> tuple[str, str, str, str] | None:
    """Code and message of a finding about a dose, and advice, or the text to write; None where it is valid."""
    if not re.search(r"[\d½¼¾⅓⅔⅛⅜⅝⅞]", text) and without_size(text, Dimension.VOLUME) is None:
        mend = "write a dose such as `10 ml` or `2 ml/L`, `as labelled` or `unmeasured`"
        return "not-a-quantity", f"`{text}` is not a dose", mend, ""
    if re.fullmatch(r"(?:.*\d\s*)?oz", unit) and two != "fl oz":
        fluid = re.sub(r"\s*oz\b", " fl oz", text, count=1)
        message = f"`{text}` of a product can be a weight or a volume"
        return "ambiguous-number", message, f"write `{fluid}`, or the weight in `g`", ""
    if per := re.fullmatch(r"(.*\S)\s+(?:per|a)\s+(\S+)", text):
        return "unknown-unit", f"`{text}` is not a dose", "", f"{per[1]}/{per[2]}"
    return None
