"""Numbers in running text, spoken or written: English and German words, digits, fractions.

In: tokens and a language. Out: `SpokenNumber`s with their value, and the step to which they were spoken: 1 of "eighty-
four", 0.1 of "one point eight", a half of "six and a half". A small table of our own, the reverse of `cardinals`:
text2num 3.1 (MIT) reads whole numbers and decimals, but neither "a hundred", "half", "two and a half" nor
"sechseinhalb", leaves small numbers as they are, and is compiled.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from sitegen.core.language.number_words.english import read_english
from sitegen.core.language.number_words.forms import FRACTION_SIGNS, Found, fraction, written
from sitegen.core.language.number_words.german import read_german
from sitegen.core.language.number_words.tokens import Token

Form = Literal["cardinal", "ordinal", "fraction", "article", "times"]


@dataclass(frozen=True, slots=True)
class SpokenNumber:
    """A number from token `first` to before `after`.

    An `article` ("a", "ein") is a number only where a unit follows; a `fraction` is below one; `times` is "twice".
    """

    first: int
    after: int
    value: float
    step: float
    form: Form = "cardinal"


def numbers_in(tokens: Sequence[Token], language: str) -> tuple[SpokenNumber, ...]:
    """All numbers of a text, none inside of another; a language without a table has its digits read."""
    read = _READERS.get(language.partition("-")[0].lower(), _no_words)
    found, at = [], 0
    while at < len(tokens):
        number = _digits(tokens, at, language) or read(tokens, at)
        if number is None:
            at += 1
            continue
        found.append(SpokenNumber(at, number.after, number.value, number.step, number.form))
        at = number.after
    return tuple(found)


def _no_words(_tokens: Sequence[Token], _at: int) -> Found | None:
    return None


def _digits(tokens: Sequence[Token], at: int, language: str) -> Found | None:
    """`84`, `1.33`, `1,330`, `2 1/2`, `½`, `12th`."""
    word = tokens[at].word
    if word in FRACTION_SIGNS:
        return fraction(*FRACTION_SIGNS[word], at + 1)
    if not tokens[at].number:
        return None
    if slashed := _slashed(tokens, at):
        return fraction(*slashed, at + 3)
    value, step = written(word, language)
    return _followed(tokens, at + 1, value) or Found(at + 1, value, step)


def _followed(tokens: Sequence[Token], after: int, value: float) -> Found | None:
    """A number in digits with what makes it an ordinal, or adds a fraction."""
    if after < len(tokens) and tokens[after].begin == tokens[after - 1].end:
        if tokens[after].word in ("st", "nd", "rd", "th"):
            return Found(after + 1, value, 1, "ordinal")
        if tokens[after].word in FRACTION_SIGNS:
            part, whole = FRACTION_SIGNS[tokens[after].word]
            return Found(after + 1, value + part / whole, 1 / whole)
    if slashed := _slashed(tokens, after):
        return Found(after + 3, value + slashed[0] / slashed[1], 1 / slashed[1])
    return None


def _slashed(tokens: Sequence[Token], at: int) -> tuple[int, int] | None:
    """`1/2`: a part below its whole."""
    words = [token.word for token in tokens[at : at + 3]]
    if len(words) < 3 or words[1] != "/" or not (_short(words[0]) and _short(words[2])):
        return None
    part, whole = int(words[0]), int(words[2])
    return (part, whole) if 0 < part < whole <= 16 else None


def _short(word: str) -> bool:
    return word.isascii() and word.isdecimal() and len(word) < 3


_READERS: dict[str, Callable[[Sequence[Token], int], Found | None]] = {"en": read_english, "de": read_german}
