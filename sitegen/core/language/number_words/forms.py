"""How far a number reaches as it was spoken: steps of whole numbers, of decimals and of fractions.

In: numbers and digits. Out: `Found`, with value and step.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

# The furthest that a value may lie from the fraction of one that is said for it: "nearly" and "a little over" reach so
# far to either side; common practice, no source.
FRACTION_REACH = 0.08
FRACTION_SIGNS = {"½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8)}
MOST_DIGITS = 12  # of a number that is read: longer ones are no amounts


class Found(NamedTuple):
    """A number that ends before token `after`."""

    after: int
    value: float
    step: float
    form: Literal["cardinal", "ordinal", "fraction", "article", "times"] = "cardinal"


def whole_step(value: float) -> float:
    """The step of a whole number as it is spoken: a tenth of the last place said of round hundreds and thousands."""
    step, rest = 1, int(value)
    if rest == 0:
        return 1
    while rest % (step * 100) == 0:
        step *= 10
    return step


def fraction(part: int, whole: int, after: int) -> Found:
    """A fraction of one."""
    value = part / whole
    return Found(after, value, 2 * FRACTION_REACH * value, "fraction")


def written(digits: str, language: str) -> tuple[float, float]:
    """Value and step of a number in digits, by the decimal sign of its language."""
    digits = digits[: MOST_DIGITS * 2]
    decimal, thousands = (",", ".") if language.partition("-")[0].lower() == "de" else (".", ",")
    if re.fullmatch(rf"\d{{1,3}}(?:{re.escape(thousands)}\d{{3}})+", digits):
        value = float(digits.replace(thousands, ""))
        return value, whole_step(value)
    whole, _, decimals = digits.replace(thousands, decimal).partition(decimal)
    decimals = decimals.partition(decimal)[0]
    value = float(f"{whole[:MOST_DIGITS]}.{decimals or 0}")
    return value, 10.0 ** -len(decimals) if decimals else whole_step(value)
