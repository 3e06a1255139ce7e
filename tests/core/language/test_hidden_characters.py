"""Characters that cannot be seen: which no text may hold."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.language.hidden_characters import hidden_at, said, without_hidden

REFUSED = {
    "a\0b": 1,
    "a\x1bb": 1,
    "a\rb": 1,
    "ab\x9b": 2,
    "\ud800": 0,
    "a\ufdd0": 1,
    "a\uffff": 1,
    "a\U0010ffff": 1,
    "a\ue000b": 1,
    "a\u202eb": 1,
    "a\u202eb\u202c": 1,
    "a\u2067b": 1,
    "a\u2067b\n\u2069": 1,
    "a\u2069": 1,
    "a\u2067\u202bb\u2069\u202c": 4,
}
TAKEN = (
    "بذور الخس 3",
    "זרעים\u200f (P1)",
    "a \u2067بذور\u2069 b",
    "\u202bזרעים\u202c",
    "می\u200cخواهم",
    "👩\u200d🌾",
    "a\tb\nc",
    "so\u00adrrel",
)


@pytest.mark.parametrize("text", REFUSED)
def test_refused(text: str) -> None:
    """Controls, halves of pairs, noncharacters, our own marks, overrides, and directions left open are found."""
    assert hidden_at(text) == REFUSED[text]


@pytest.mark.parametrize("text", TAKEN)
def test_right_to_left_text_is_taken(text: str) -> None:
    """Text from right to left, marks of direction, closed isolates, joiners and soft hyphens are texts like others."""
    assert hidden_at(text) is None


@given(st.text())
def test_what_is_taken_can_stand_in_xml(text: str) -> None:
    """A text without hidden characters has only characters of XML 1.0, section 2.2, but for some that it discourages."""
    if hidden_at(text) is None:
        assert not [
            sign for sign in text if unicodedata.category(sign) == "Cs" or sign in "\0\x0b\x0c\ufffe\uffff"
        ]
        assert not [sign for sign in text if ord(sign) < ord(" ") and sign not in "\t\n"]


@given(st.text(st.sampled_from("ab\n\0\u202a\u202c\u202e\u2066\u2069\ud800") | st.characters()))
def test_without_hidden_characters(text: str) -> None:
    """A text without them keeps all that can be seen, in order; one that has none stays the same text."""
    shown = without_hidden(text)

    assert hidden_at(shown) is None
    assert [sign for sign in shown if sign.isprintable()] == [sign for sign in text if sign.isprintable()]
    assert shown == text if hidden_at(text) is None else len(shown) < len(text)


def test_said() -> None:
    """A character is named by its number and its name in Unicode, where it has one."""
    assert said("\u202e") == "U+202E, right-to-left override"
    assert said("\0") == "U+0000"
