"""Numbers with their units as they are said → amounts as they are written in a file.

In: tokens, a language. Out: the `Amount` that begins at a token. Nothing is rounded and no unit is added.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.core.language.number_words.in_text import SpokenNumber, numbers_in
from sitegen.core.language.number_words.tokens import Token
from sitegen.filing.words.atoms import Amount
from sitegen.filing.words.unit_words import BETWEEN, BY_EYE, FLAGS, TO, UNITS

_ARTICLES = frozenset({"a", "an", "of"})
_NO_INCH = frozenset({"the", "total", "all", "each", "every", "a", "flower", "bud", "bloom", "our", "my"})
# Digits that an English and a German reader would take for two numbers: `1,330` and `1.330`.
_TWO_READINGS = re.compile(r"\d{1,3}(?:,\d{3})+|\d{1,3}(?:\.\d{3}){2,}")
_TWO_IN_GERMAN = re.compile(r"\d{1,3}\.\d{3}")
_PLACES = {0.1: 1, 0.01: 2, 0.001: 3}
_SMALLER = {"lb": "oz", "ft": "in"}


class Numbers:
    """The numbers of a line, by the token at which each begins."""

    def __init__(self, tokens: Sequence[Token], language: str) -> None:
        self.tokens = tokens
        self.words = [token.word for token in tokens]
        self._german = language == "de"
        found = numbers_in(tokens, language)
        self._by_first: Mapping[int, SpokenNumber] = {number.first: number for number in found}

    def two_readings(self, at: int) -> bool:
        """Whether the digits at a token are two numbers, by the language of who reads them."""
        word = self.words[at]
        return bool(_TWO_READINGS.fullmatch(word) or (self._german and _TWO_IN_GERMAN.fullmatch(word)))

    def plain(self, at: int) -> tuple[int, Amount] | None:
        """A bare number that begins at a token, and the place after it."""
        number = self._by_first.get(at)
        if number is None or number.form in ("ordinal", "times"):
            return None
        text, value = self._text(number)
        return number.after, Amount(text, value=value, article=number.form == "article")

    def _text(self, number: SpokenNumber) -> tuple[str, float]:
        """A number as it is written: digits stay as they are, but for a decimal comma."""
        first = self.tokens[number.first]
        if first.number and number.after == number.first + 1:
            text = first.word.replace(",", ".")
            return text, float(text) if text.count(".") < 2 else number.value
        exact = Fraction(number.value).limit_denominator(1000)
        if (places := _PLACES.get(number.step)) and number.form != "fraction":
            return f"{number.value:.{places}f}", number.value
        if exact.denominator in (3, 6, 9):
            whole, rest = divmod(exact.numerator, exact.denominator)
            return (f"{whole} " if whole else "") + f"{rest}/{exact.denominator}", number.value
        return f"{number.value:.4f}".rstrip("0").rstrip("."), number.value

    def amount(self, at: int) -> tuple[int, Amount] | None:
        """A number with what belongs to it that begins at a token: flags, a range, a unit."""
        flagged = FLAGS.at(self.words, at)
        begin, flag = flagged or (at, "")
        if begin < len(self.words) and flagged and self.words[begin] == ".":
            begin += 1
        if begin >= len(self.words):
            return None
        found = self._ranged(begin)
        if found is None:
            return None
        after, amount = self._with_unit(*found)
        if amount.article and not amount.unit:
            return (after, amount) if not flag else None
        eye = BY_EYE.at(self.words, after) if after < len(self.words) else None
        return (eye[0] if eye else after), replace(amount, flag=flag, eye=eye is not None)

    def _ranged(self, at: int) -> tuple[int, Amount] | None:
        """`8 to 9`, `between 8 and 9`, or one number."""
        joint = BETWEEN.get(self.words[at])
        low = self.plain(at + 1) if joint and at + 1 < len(self.words) else self.plain(at)
        if low is None or (joint and self.words[low[0] : low[0] + 1] != [joint]):
            return None
        after = low[0]
        to = after < len(self.words) and (self.words[after] in TO or joint is not None)
        high = self.plain(after + 1) if to and after + 1 < len(self.words) else None
        if high is None or not high[1].value > low[1].value or high[1].article:
            return None if joint else low
        return high[0], replace(low[1], number=f"{low[1].number}-{high[1].number}")

    def _with_unit(self, after: int, amount: Amount) -> tuple[int, Amount]:
        """A number with its unit: `half a gallon`, `1 lb 4 oz`."""
        at = after
        while amount.value < 1 and at < len(self.words) and self.words[at] in _ARTICLES:
            at += 1
        unit = UNITS.at(self.words, at) if at < len(self.words) else None
        if unit is None or self._preposition(at, unit[0]):
            return after, amount
        end, (name, dimension) = unit
        whole = replace(amount, unit=name, dimension=dimension)
        small = self.plain(end) if name in _SMALLER and end < len(self.words) else None
        if small is not None and small[0] < len(self.words):
            part = UNITS.at(self.words, small[0])
            if part is not None and part[1][0] == _SMALLER[name]:
                return part[0], replace(whole, unit=f"{name} {small[1].number} {_SMALLER[name]}")
        return end, whole

    def _preposition(self, at: int, after: int) -> bool:
        """Whether `in` stands before a place and is no inch."""
        return self.words[at] == "in" and after < len(self.words) and self.words[after] in _NO_INCH
