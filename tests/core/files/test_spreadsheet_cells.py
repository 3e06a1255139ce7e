"""Texts in published tables: no formula, and the same text again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.files.spreadsheet_cells import shown_cell, text_cell, text_of

# What spreadsheet programs take for the beginning of a formula: OWASP, CSV injection (from memory).
FORMULAS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
TEXTS = st.text(
    st.one_of(st.sampled_from([*FORMULAS, "'", '"', ",", "a", "1"]), st.characters()), max_size=12
)


@given(TEXTS)
def test_every_text_comes_back(text: str) -> None:
    """What a cell was written from is read from it, and no cell begins as a formula does."""
    assert text_of(text_cell(text)) == text
    assert not text_cell(text).startswith(FORMULAS)


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("'=1+1", "''=1+1"),
        ("''=1+1", "'''=1+1"),
        ("- slug on P1", "'- slug on P1"),
        ("'tis dry", "'tis dry"),
        ("9 = 9", "9 = 9"),
        ("", ""),
    ],
)
def test_an_apostrophe_only_where_it_is_needed(text: str, cell: str) -> None:
    """Only what begins as a formula, behind any apostrophes, has one more before it."""
    assert text_cell(text) == cell


def test_numbers_of_charts_stay_numbers() -> None:
    """A value in words that is a number is one for a spreadsheet too, below 0 as well."""
    assert [shown_cell(text) for text in ("-3", "-2.5", "+1", "-3 °C", "=3")] == [
        "-3",
        "-2.5",
        "+1",
        "'-3 °C",
        "'=3",
    ]
