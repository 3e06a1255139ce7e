"""Quantities as people write them: `2.3 oz`, `1 lb 4 oz`, `about 9 in`, `8-9 in`, `9+ cm`, `unweighed`.

In: the text of one scalar and the dimension that its key wants. Out: a `Quantity`, or None and a finding that says
what stands there, what was expected and how to write it. A value with two readings is refused with both
spellings; nothing is guessed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import CANONICAL, Dimension, Unit, unit_named
from sitegen.ingest.values.normalize import with_digits, with_flags
from sitegen.ingest.values.quantity_errors import UNKNOWN, WORDS, QuantityErrors, steps_hint
from sitegen.ingest.yaml.nodes import Scalar

LONGEST = 40  # signs of a number: no reading has as many, and thousands cannot be read at all
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8"}
_VULGAR |= {"⅝": "5/8", "⅞": "7/8"}
_NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d*\.\d+|\d+(?:[.,]\d+)*)"
_FORM = re.compile(
    rf"(?P<flag>about|at least|up to)?\s*(?P<low>-?{_NUMBER})"
    rf"(?:\s*[-–]\s*(?P<high>-?{_NUMBER}))?\s*(?P<plus>\+)?\s*(?P<unit>.*?)(?P<eye>\s+by eye)?",
)
_COMPOUND = re.compile(rf"(?P<big>\d+)\s*(?P<bigunit>lb|ft)\s+(?P<small>{_NUMBER})\s*(?P<smallunit>oz|in)")
_MIXED = re.compile(r"(?:about |at least |up to )?(?P<number>\d{1,3}(?:\.\d{3})+,\d+)(?P<rest>.*)")
_WHOLE = re.compile(r"\d{1,9}")
_KEPT = 8192  # texts that are remembered
_SIGNED = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


class _Number(NamedTuple):
    value: Fraction
    step: Fraction


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads one scalar."""

    errors: QuantityErrors

    @property
    def dimension(self) -> Dimension:
        return self.errors.dimension

    def number(self, text: str) -> _Number | None:
        """One number; commas are refused with both readings offered."""
        if "," in text:
            self.errors.comma(text)
            return None
        if text.count(".") > 1 or len(text) > LONGEST:
            self.errors.quantity()
            return None
        if "/" in text:
            whole, _, fraction = text.rpartition(" ")
            top, bottom = fraction.split("/")
            if int(bottom) == 0:
                self.errors.quantity()
                return None
            return _Number(
                Fraction(int(whole or 0)) + Fraction(int(top), int(bottom)), Fraction(1, int(bottom))
            )
        decimals = len(text.partition(".")[2])
        return _Number(Fraction(text), Fraction(1, 10**decimals))

    def unit(self, text: str) -> Unit | None:
        """The unit written, of the wanted dimension."""
        if self.dimension in (Dimension.ACIDITY, Dimension.COUNT):
            return self._no_unit_wanted(text)
        if not text:
            self.errors.bare()
            return None
        if self.dimension is Dimension.CONDUCTIVITY and text.lower() in ("ppm", "tds"):
            self.errors.scale(text)
            return None
        unit = unit_named(text, self.dimension)
        if unit is None:
            self.errors.unit(text)
        return unit

    def _no_unit_wanted(self, text: str) -> Unit | None:
        if text and not (self.dimension is Dimension.ACIDITY and text.lower() == "ph"):
            self.errors.quantity()
            return None
        return CANONICAL[self.dimension]

    def read(self) -> Quantity | None:
        text = self.errors.scalar.text.strip()
        if text in UNKNOWN:
            return unknown(self.dimension)
        if mixed := _MIXED.fullmatch(text):
            self.errors.mixed(mixed["number"], mixed["rest"])
            return None
        for sign, fraction in _VULGAR.items():
            text = re.sub(rf"(\d){sign}", rf"\1 {fraction}", text).replace(sign, fraction)
        flag, eye, body = self._flags(text)
        compound = _COMPOUND.fullmatch(body)
        quantity = self._compound(compound) if compound else self._simple(text)
        if quantity is None or not compound:
            return quantity
        return _flagged(quantity, flag, eye)

    def _flags(self, text: str) -> tuple[str, bool, str]:
        eye = text.endswith(" by eye")
        body = text.removesuffix(" by eye").strip()
        flag = next((f for f in ("about", "at least", "up to") if body.startswith(f + " ")), "")
        return flag, eye, body.removeprefix(flag).strip()

    def _compound(self, match: re.Match[str]) -> Quantity | None:
        big = unit_named(match["bigunit"], self.dimension)
        small = unit_named(match["smallunit"], self.dimension)
        number = self.number(match["small"])
        if number is None:
            return None
        if big is None or small is None:
            self.errors.unit(match["bigunit"] if big is None else match["smallunit"])
            return None
        value = int(match["big"]) * big.factor + number.value * small.factor
        return Quantity(float(value), float(value), self.dimension, step=float(number.step * small.factor))

    def _simple(self, text: str) -> Quantity | None:
        match = _FORM.fullmatch(text)
        if match is None:
            self.errors.quantity()
            return None
        written = match["unit"].strip()
        low = self._signed(match["low"])
        high = self._signed(match["high"]) if match["high"] and low is not None else low
        if low is None or high is None:
            return None
        unit = self.unit(written)
        if unit is None:
            return None
        return self._interval(match, unit, low, high)

    def _signed(self, text: str) -> _Number | None:
        """A number that may be below nothing, where there is such a thing; counts are whole."""
        number = self.number(text.removeprefix("-"))
        minus = text.startswith("-")
        broken = self.dimension is Dimension.COUNT and number is not None and number.value.denominator > 1
        if (minus and self.dimension not in _SIGNED) or broken:
            self.errors.quantity()
            return None
        return _Number(-number.value, number.step) if number and minus else number

    def _interval(self, match: re.Match[str], unit: Unit, low: _Number, high: _Number) -> Quantity | None:
        if high.value < low.value:
            before, after = match.string[: match.start("low")], match.string[match.end("high") :]
            swapped = f"{before}{match['high']}-{match['low']}{after}"
            self.errors.reversed(swapped, match["low"], match["high"])
            return None
        bottom = float(low.value * unit.factor + unit.offset)
        top = float(high.value * unit.factor + unit.offset)
        step = float(max(low.step, high.step) * unit.factor)
        quantity = Quantity(bottom, top, self.dimension, step=step)
        flag = "at least" if match["plus"] else match["flag"] or ""
        return _flagged(quantity, flag, bool(match["eye"]))


def _flagged(quantity: Quantity, flag: str, eye: bool) -> Quantity:
    if flag == "about":
        quantity = replace(quantity, about=True)
    if flag == "at least":
        quantity = replace(quantity, high=None, open=1)
    if flag == "up to":
        quantity = replace(quantity, low=min(0.0, quantity.low))
    return replace(quantity, by_eye=eye)


def parse_quantity(scalar: Scalar, dimension: Dimension, findings: Findings, key: str) -> Quantity | None:
    """The quantity that a scalar says.

    Parameters
    ----------
    scalar
        As written.
    dimension
        What its key wants; `oz` is a mass or a fluid ounce accordingly.
    findings
        Takes the finding where the text is refused.
    key
        The key's name, for the finding.

    Returns
    -------
    Quantity or None
        In the canonical unit of the dimension; None where the text was refused.

    """
    known = _remembered(scalar.text, dimension)
    if known is not None:
        return known
    refusal = QuantityErrors(
        scalar, dimension, findings, key, lambda text: _remembered(text, dimension) is not None
    )
    return _Reader(refusal).read()


@lru_cache(_KEPT)
def _remembered(text: str, dimension: Dimension) -> Quantity | None:
    """The quantity of a text: logs say the same few again and again. What is refused is read anew, with its place."""
    return _Reader(QuantityErrors(Scalar(text, Source("")), dimension, Findings(), "")).read()


def parse_steps(scalar: Scalar, dimension: Dimension, findings: Findings, key: str) -> tuple[Quantity, ...]:
    """`7.1, then 5.9`: one value, or a value before and one after."""
    one = _remembered(scalar.text, dimension)
    if one is not None:
        return (one,)
    first, comma, second = scalar.text.partition(", then ")
    if not comma and (hint := steps_hint(scalar.text)):
        words = WORDS[dimension]
        scalar.report(
            findings,
            "not-a-quantity",
            f"`{scalar.text}` is not {words}, nor {words} before and after",
            hint,
            words,
        )
        return ()
    if not comma:
        one = parse_quantity(scalar, dimension, findings, key)
        return () if one is None else (one,)
    tail = re.sub(r"^.*\d", "", second).strip()
    before_text = first if re.search(r"[^\d.\s]$", first) or not tail else f"{first} {tail}"
    before = parse_quantity(Scalar(before_text.strip(), scalar.part(0, len(first))), dimension, findings, key)
    after = parse_quantity(
        Scalar(second.strip(), scalar.part(len(first) + len(comma), len(second))), dimension, findings, key
    )
    return (before, after) if before is not None and after is not None else ()


def parse_whole(scalar: Scalar, findings: Findings, key: str) -> int | None:
    """A whole number."""
    if _WHOLE.fullmatch(scalar.text):
        return int(scalar.text)
    near = re.match(r"(?:about |-)?(\d{1,9})(?:\.0+)?(?![\d.,])", with_flags(with_digits(scalar.text)))
    scalar.report(
        findings,
        "not-a-count",
        f"`{scalar.text}` is not a whole number; `{key}` wants one",
        f"write `{key}: {near[1]}`" if near else f"write a whole number, such as `{key}: 6`",
        "a whole number",
    )
    return None
