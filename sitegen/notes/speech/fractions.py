"""Numbers rounded for the ear, and fractions as people say them.

In: numbers. Out: `Heard`, a number that is easy to hear and how the true one differs from it; words for mixed numbers.
How far a spoken number may be off, and the words for it, are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop
from sitegen.core.language.number_words.cardinals import cardinal

Side = Literal["nearest", "down", "up"]
Nearness = Literal["", "about", "nearly", "over"]
_SLACK = 1e-9  # of a float that should be whole
_TURNS: dict[Side, Callable[[float], int]] = {
    "nearest": round,
    "down": lambda value: math.floor(value + _SLACK),
    "up": lambda value: math.ceil(value - _SLACK),
}
EXACT, CLOSE, FAR = 0.005, 0.02, 0.08  # relative errors up to which nothing, "about", a direction is said
HALVES, QUARTERS, WHOLE = (2,), (2, 4), (1,)
THIRDS_AND_QUARTERS = (2, 3, 4)
_FRACTIONS = {
    Fraction(1, 2): tr_c_noop("a part of something", "half"),
    Fraction(1, 4): tr_c_noop("a part of something", "a quarter"),
    Fraction(3, 4): tr_c_noop("a part of something", "three quarters"),
    Fraction(1, 3): tr_c_noop("a part of something", "a third"),
    Fraction(2, 3): tr_c_noop("a part of something", "two thirds"),
}
# After a whole number: "two and a half".
_AND = {
    Fraction(1, 2): tr_c_noop("a mixed number", "{whole} and a half"),
    Fraction(1, 4): tr_c_noop("a mixed number", "{whole} and a quarter"),
    Fraction(3, 4): tr_c_noop("a mixed number", "{whole} and three quarters"),
    Fraction(1, 3): tr_c_noop("a mixed number", "{whole} and a third"),
    Fraction(2, 3): tr_c_noop("a mixed number", "{whole} and two thirds"),
}

# The same after one, whose form differs in some languages.
_ONE_AND = {
    Fraction(1, 2): tr_c_noop("a mixed number", "one and a half"),
    Fraction(1, 4): tr_c_noop("a mixed number", "one and a quarter"),
    Fraction(3, 4): tr_c_noop("a mixed number", "one and three quarters"),
    Fraction(1, 3): tr_c_noop("a mixed number", "one and a third"),
    Fraction(2, 3): tr_c_noop("a mixed number", "one and two thirds"),
}


@dataclass(frozen=True, slots=True)
class Heard:
    """A number to be heard, and where the true one lies from it."""

    number: Fraction
    near: Nearness = ""


def heard(value: float, parts: Iterable[int], side: Side = "nearest") -> Heard:
    """The nearest whole number or fraction with one of some denominators.

    A bound keeps to its safe side: a whole number of it is rounded there, and a fraction says on which side it lies.
    """
    denominators = tuple(parts)
    turn = _TURNS[side] if set(denominators) <= {1} else round
    near = {Fraction(turn(value * part), part) for part in (1, *denominators)}
    best = min(near, key=lambda each: (abs(float(each) - value), each.denominator))
    nearness = _nearness(value, float(best))
    if side != "nearest" and nearness != "over":
        off = value - float(best)
        nearness = "" if abs(off) <= _SLACK or (off > 0 and not nearness) else "over" if off > 0 else "nearly"
    return Heard(best, nearness)


def _nearness(value: float, said: float) -> Nearness:
    if said == 0:
        return "" if value == 0 else "about"
    off = value / said - 1
    if abs(off) <= EXACT:
        return ""
    if abs(off) <= CLOSE or abs(off) > FAR:
        return "about"
    return "over" if off > 0 else "nearly"


def mixed_words(number: Fraction, language: str) -> str:
    """`two and a half`, `thirty-four`, `three quarters`."""
    whole, rest = divmod(number, 1)
    if not rest:
        return cardinal(int(whole), language)
    if not whole:
        return tr_c("a part of something", _FRACTIONS[rest])
    if whole == 1:
        return tr_c("a mixed number", _ONE_AND[rest])
    return tr_c("a mixed number", _AND[rest], whole=cardinal(int(whole), language))


def decimal_words(number: Decimal, language: str) -> str:
    """`one point eight`, with each digit after the point by itself; `thirteen and a half` where it is one."""
    whole, _, digits = f"{abs(number):f}".partition(".")
    digits = digits.rstrip("0")
    said = cardinal(int(whole), language)
    if digits == "5" and int(whole):
        said = mixed_words(Fraction(abs(number)), language)
    elif digits:
        after = " ".join(cardinal(int(digit), language) for digit in digits)
        said = tr_c("a decimal number", "{whole} point {digits}", whole=said, digits=after)
    return tr("minus {number}", number=said) if number < 0 else said


def about_words(near: Nearness, amount: str) -> str:
    """An amount with how far it is rounded."""
    if near == "about":
        return tr("about {amount}", amount=amount)
    if near == "nearly":
        return tr("nearly {amount}", amount=amount)
    return tr("a little over {amount}", amount=amount) if near == "over" else amount
