"""Calendar dates in running text: "July twelfth", "the twelfth of July", "12. Juli", "2025-07-12".

In: tokens and the numbers read in them. Out: `SpokenDate`s.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sitegen.core.language.months import MONTHS
from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.language.number_words.tokens import Token

_BETWEEN = frozenset({"the", "of", ".", ",", "-"})
_LAST_DAY = 31


class SpokenDate(NamedTuple):
    """A date from token `first` to before `after`; `year` is None where none was said."""

    first: int
    after: int
    month: int
    day: int
    year: int | None


def dates_in(tokens: Sequence[Token], numbers: Sequence[SpokenNumber]) -> tuple[SpokenDate, ...]:
    """All dates of a text."""
    found: list[SpokenDate] = []
    for number in numbers:
        each = _iso(tokens, number) or _with_month(tokens, number)
        if each is not None and not any(
            each.first < other.after and other.first < each.after for other in found
        ):
            found.append(_dated(each, numbers, tokens))
    return tuple(found)


def _iso(tokens: Sequence[Token], number: SpokenNumber) -> SpokenDate | None:
    """`2025-07-12`."""
    words = [token.word for token in tokens[number.first : number.first + 5]]
    if len(words) < 5 or (words[1], words[3]) != ("-", "-") or not 1900 <= number.value < 2200:
        return None
    if not (words[2].isdecimal() and words[4].isdecimal() and len(words[2]) == len(words[4]) == 2):
        return None
    month, day = int(words[2]), int(words[4])
    if not (1 <= month <= 12 and 1 <= day <= _LAST_DAY):
        return None
    return SpokenDate(number.first, number.first + 5, month, day, int(number.value))


def _with_month(tokens: Sequence[Token], number: SpokenNumber) -> SpokenDate | None:
    if not (1 <= number.value <= _LAST_DAY and number.value == int(number.value)):
        return None
    day = int(number.value)
    if (at := _month_before(tokens, number.first)) is not None:
        return SpokenDate(at, number.after, MONTHS[tokens[at].word], day, None)
    if (at := _month_after(tokens, number)) is not None:
        return SpokenDate(number.first, at + 1, MONTHS[tokens[at].word], day, None)
    return None


def _month_before(tokens: Sequence[Token], first: int) -> int | None:
    at = first - 1
    while at >= 0 and first - at < 3 and tokens[at].word in ("the", "."):
        at -= 1
    return at if at >= 0 and tokens[at].word in MONTHS else None


def _month_after(tokens: Sequence[Token], number: SpokenNumber) -> int | None:
    at = number.after
    while at < len(tokens) and at - number.after < 2 and tokens[at].word in _BETWEEN - {","}:
        at += 1
    return at if at < len(tokens) and tokens[at].word in MONTHS else None


def _dated(date: SpokenDate, numbers: Sequence[SpokenNumber], tokens: Sequence[Token]) -> SpokenDate:
    """A date with the year that follows it."""
    at = date.after + 1 if date.after < len(tokens) and tokens[date.after].word == "," else date.after
    for number in numbers:
        if number.first == at and 1900 <= number.value < 2200 and date.year is None:
            return date._replace(after=number.after, year=int(number.value))
    return date
