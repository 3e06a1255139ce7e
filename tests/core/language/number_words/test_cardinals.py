"""Numbers in words, held against a library of the same words.

Source: num2words 0.5 (a general-purpose library; LGPL, so that it is a library of the tests alone). German says "hundert"
and "tausend" without "ein" before them where they begin a number: common practice, no source.
"""

from __future__ import annotations

import pytest
from num2words import num2words

from sitegen.core.language.number_words.cardinals import LARGEST, cardinal, ordinal

NUMBERS = [*range(2101), 9999, 10_000, 12_345, 99_999, 100_001, 120_000, 999_999]


def _plain(words: str) -> str:
    return words.replace(",", "")


def _without_one(words: str) -> str:
    """German without `ein` before the hundred or thousand that begins it."""
    return words.removeprefix("ein") if words.startswith(("einhundert", "eintausend")) else words


def test_english_cardinals() -> None:
    """English as it is said in Britain."""
    assert {n: cardinal(n, "en") for n in NUMBERS} == {n: _plain(num2words(n, lang="en")) for n in NUMBERS}


def test_german_cardinals() -> None:
    """German as it is said aloud."""
    expected = {n: _without_one(num2words(n, lang="de")) for n in NUMBERS}
    assert {n: cardinal(n, "de-AT") for n in NUMBERS} == expected


@pytest.mark.parametrize("language", ["en", "de"])
def test_ordinals(language: str) -> None:
    """Places in a row, as a day of a month is said."""
    days = range(100)
    assert [ordinal(n, language) for n in days] == [num2words(n, lang=language, to="ordinal") for n in days]


@pytest.mark.parametrize(
    ("number", "language", "said"),
    [
        (134, "en-US", "one hundred thirty-four"),
        (1001, "en-US", "one thousand one"),
        (-7, "en", "minus seven"),
        (-3, "de", "minus drei"),
        (LARGEST + 1, "en", "1000000"),
        (12, "fr", "12"),
    ],
)
def test_other_forms(number: int, language: str, said: str) -> None:
    """The United States say no "and"; what is too large, or in a language that is not known, stays in digits."""
    assert cardinal(number, language) == said
