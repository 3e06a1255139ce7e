"""Numbers in running text: what is written in words is read as the number that it was made of.

Words are those of `cardinals`, which is held against a library of the same words; other forms are common practice, no
source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.language.number_words.cardinals import LARGEST, cardinal, ordinal
from sitegen.core.language.number_words.dates import dates_in
from sitegen.core.language.number_words.in_text import numbers_in
from sitegen.core.language.number_words.tokens import tokens_of


def _read(text: str, language: str) -> list[tuple[float, float]]:
    found = numbers_in(tokens_of(text), language)
    return [(round(each.value, 4), round(each.step, 4)) for each in found if each.form != "article"]


@given(st.integers(0, LARGEST), st.sampled_from(["en", "en-US", "de"]))
def test_cardinals_are_read_back(number: int, language: str) -> None:
    """A whole number in words is that number, and nothing else is read beside it."""
    assert [value for value, _ in _read(cardinal(number, language), language)] == [number]


@pytest.mark.parametrize("language", ["en", "de"])
def test_ordinals_are_read_back(language: str) -> None:
    """The days of a month in words."""
    assert [_read(ordinal(n, language), language) for n in range(1, 32)] == [[(n, 1)] for n in range(1, 32)]


@pytest.mark.parametrize(
    ("text", "language", "read"),
    [
        ("one kilo three hundred and thirty", "en", [(1, 1), (330, 1)]),
        ("two pounds and nearly fifteen ounces", "en", [(2, 1), (15, 1)]),
        ("six and a half, two and three quarters", "en", [(6.5, 0.5), (2.75, 0.25)]),
        ("a hundred grams, four hundred, a dozen", "en", [(100, 10), (400, 10), (12, 1)]),
        ("one point eight, zero point oh five", "en", [(1.8, 0.1), (0.05, 0.01)]),
        ("half a kilo, a third of it, two thirds", "en", [(0.5, 0.08), (0.3333, 0.0533), (0.6667, 0.1067)]),
        ("not one plant, none of them", "en", [(0, 1), (0, 1)]),
        ("1,330 g or 1.33 kg, 2½ or 3 1/2", "en", [(1330, 1), (1.33, 0.01), (2.5, 0.5), (3.5, 0.5)]),
        ("a third plant, P3, 60W", "en", [(3, 1), (60, 1)]),
        ("sechseinhalb, anderthalb", "de", [(6.5, 0.5), (1.5, 0.5)]),
        ("eins Komma acht, null Komma drei drei", "de", [(1.8, 0.1), (0.33, 0.01)]),
        ("1.330 g oder 1,33 kg", "de", [(1330, 1), (1.33, 0.01)]),
        ("ein halbes Kilo, zwei Drittel, dreiviertel", "de", [(0.5, 0.08), (0.6667, 0.1067), (0.75, 0.12)]),
        ("fuenfunddreissig, zwo", "de", [(35, 1), (2, 1)]),
        ("achtzig", "fr", []),
        ("84 g", "fr", [(84, 1)]),
    ],
)
def test_forms(text: str, language: str, read: list[tuple[float, float]]) -> None:
    """Value and step of each number, in the forms in which amounts are spoken."""
    assert _read(text, language) == read


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("July twelfth", "en"),
        ("the twelfth of July", "en"),
        ("July 12th, 2025", "en"),
        ("12 July", "en"),
        ("2025-07-12", "en"),
        ("12. Juli", "de"),
        ("am zwölften Juli", "de"),
    ],
)
def test_dates(text: str, language: str) -> None:
    """The twelfth of July in every form."""
    tokens = tokens_of(text)
    assert [(each.month, each.day) for each in dates_in(tokens, numbers_in(tokens, language))] == [(7, 12)]
