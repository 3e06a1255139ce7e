"""Drawings said shorter, with the same look and the same values."""

from __future__ import annotations

import re

from sitegen.render.templates.slim import slim


def test_lines_of_one_kind_become_one_path() -> None:
    """A grid is one element, across and down."""
    grid = (
        '<g class="scale"><line transform="translate(9,4)" x2="-9" y2="0" stroke="red" />'
        '<line transform="translate(9,8)" x2="-9" y2="0" stroke="red" />'
        '<line x2="0" y2="5" stroke="red" /></g>'
    )

    assert slim(grid) == '<path class="scale" d="M9,4h-9M9,8h-9M0,0v5" stroke="red" />'


def test_what_all_say_alike_the_group_says() -> None:
    """Colour and size move to the group; what differs and what a group would apply to itself stay."""
    marks = (
        '<g class="days"><text text-anchor="middle" transform="translate(0,9)" fill="red" opacity="0.5">0</text>'
        '<text text-anchor="end" transform="translate(5,9)" fill="red" opacity="0.5">7</text></g>'
    )

    assert slim(marks) == (
        '<g class="days" fill="red"><text text-anchor="middle" x="0" y="9" opacity="0.5">0</text>'
        '<text text-anchor="end" x="5" y="9" opacity="0.5">7</text></g>'
    )


def test_values_that_can_be_asked_for_stay() -> None:
    """A mark keeps its title; a round one is a circle."""
    ring = '<path transform="translate(3,4)" d="M2,0A2,2,0,1,1,-2,0A2,2,0,1,1,2,0"><title>9 cm</title></path>'

    assert slim(f"<g>{ring}</g>") == '<g><circle cx="3" cy="4" r="2"><title>9 cm</title></circle></g>'


def test_a_crowded_narrow_drawing_keeps_no_values() -> None:
    """Where no finger could tell one mark from another, they become one path; a broad drawing keeps them."""
    lines = "".join(
        f'<line transform="translate({x},0)" x2="0" y2="5" stroke="red"><title>{x}</title></line>'
        for x in range(50)
    )

    narrow = slim(f'<svg class="narrow"><g>{lines}</g></svg>')
    wide = slim(f'<svg class="wide"><g>{lines}</g></svg>')

    assert (narrow.count("<title>"), narrow.count("<path")) == (0, 1)
    assert len(re.findall(r"<title>\d+</title></path>", wide)) == 50


def test_the_description_is_left_to_the_caption() -> None:
    """The drawing keeps its name; quotes in it are safe."""
    svg = (
        '<svg role="img" aria-labelledby="t d"><title id="t">5 "foot"</title><desc id="d">Much.</desc></svg>'
    )

    assert slim(svg) == '<svg role="img" aria-label="5 &quot;foot&quot;"></svg>'
