"""Texts in lines, by the fonts that lie with the program."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.site.typesetting import first_lines, font, font_folder, has_glyph, lines_of


def test_lines_break_between_words() -> None:
    """A line takes as many words as there is room for; a hard space holds two together."""
    drawn_in = font(40)
    width = int(drawn_in.getlength("one two"))

    assert lines_of("one two three", drawn_in, width) == ["one two", "three"]
    assert lines_of("on e\u00a0two", drawn_in, width) == ["on", "e two"]


def test_a_word_that_is_too_wide() -> None:
    """It breaks within, and nothing of it is lost."""
    lines = lines_of("incomprehensible", font(40), 150)

    assert len(lines) > 1
    assert "".join(lines) == "incomprehensible"


def test_what_is_cut_ends_in_an_ellipsis() -> None:
    """A text in too many lines loses the last ones."""
    assert first_lines(["one two,", "three"], 1, font(40), 500) == ["one two …"]
    assert first_lines(["one", "two"], 2, font(40), 500) == ["one", "two"]


@pytest.mark.parametrize("sans", [False, True])
@pytest.mark.parametrize("bold", [False, True])
def test_faces(bold: bool, sans: bool) -> None:
    """Each of the four has the letters of European languages, and lies in the folder; none has every sign."""
    drawn_in = font(40, bold=bold, sans=sans)

    assert all(has_glyph(drawn_in, sign) for sign in "Aäßéøč–…½°µ²→")
    assert not has_glyph(drawn_in, "植")
    assert f"DejaVu{'Sans' if sans else 'Serif'}Condensed{'-Bold' if bold else ''}-part.ttf" in {
        path.name for path in font_folder().iterdir()
    }


@given(st.text(max_size=80), st.integers(60, 400), st.integers(1, 3))
def test_every_line_has_room(text: str, width: int, most: int) -> None:
    """No line is wider than the room but one of a single sign, and there are no more lines than asked for."""
    drawn_in = font(40)
    lines = first_lines(lines_of(text, drawn_in, width), most, drawn_in, width)

    assert len(lines) <= most
    assert all(drawn_in.getlength(line) <= width or len(line.removesuffix(" …")) <= 1 for line in lines)
