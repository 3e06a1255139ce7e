"""Scene graphs written as SVG."""

from __future__ import annotations

from typing import Any

from sitegen.core.site.chart import Drawing
from sitegen.plot.drawing.svg import layers_of

RED = {"stroke": "red", "strokeWidth": 1}


def written(kind: str, *items: dict[str, Any], size: int = 0, name: str = "the_layer") -> str:
    """A layer of marks."""
    mark = {"marktype": kind, "name": f"{name}_marks", "items": list(items)}
    return layers_of([mark], {name: size})[name.replace("_", "-")]


def test_a_drawing_has_the_elements_of_its_layers() -> None:
    """In the order drawn, some left out where they are not wanted."""
    marks = [{"marktype": "line", "name": f"{name}_marks", "items": [{"x": 1, "y": 2}]} for name in "ab"]
    layers = layers_of(marks, {})
    drawn = Drawing(10, 20, 3, 4.5, layers)
    head = '<g transform="translate(3,4.5)" font-family="var(--chart-font)" fill="none">'

    assert layers == {"a": '<path class="a" d="M1,2"/>', "b": '<path class="b" d="M1,2"/>'}
    assert drawn.elements() == f'{head}<path class="a" d="M1,2"/><path class="b" d="M1,2"/></g>'


def test_lines_of_one_kind_are_one_path() -> None:
    """A grid is one element, across and down; another kind is another."""
    grid = (
        {**RED, "x": 9, "x2": 0, "y": 4},
        {**RED, "x": 9, "x2": 0, "y": 8.006},
        {**RED, "x": 0, "y": 0, "y2": 5, "description": ""},
    )

    assert written("rule", *grid) == (
        '<path class="the-layer" d="M9,4h-9M9,8.01h-9M0,0v5" stroke="red" stroke-width="1"/>'
    )
    assert written("rule", *grid[:2], {**grid[2], "strokeDash": [0.1, 3]}) == (
        '<g class="the-layer" stroke="red" stroke-width="1"><path d="M9,4h-9M9,8.01h-9"/>'
        '<path d="M0,0v5" stroke-dasharray="0.1,3"/></g>'
    )


def test_what_all_say_alike_the_group_says() -> None:
    """Colour and size move to the group; what differs and what a group would apply to itself stay."""
    one = {"text": "0", "x": 0, "y": 9, "dx": 1, "dy": -1, "fill": "red", "opacity": 0.5, "align": "center"}
    other = {"text": "a<b", "x": 5, "y": 9, "fill": "red", "opacity": 0.5, "align": "right"}

    assert written("text", one, other, size=13) == (
        '<g class="the-layer" font-size="13px" fill="red"><text x="1" y="8" text-anchor="middle" opacity="0.5">0</text>'
        '<text x="5" y="9" text-anchor="end" opacity="0.5">a&lt;b</text></g>'
    )


def test_labels_are_painted_over_their_halo() -> None:
    """A theme strokes their outline in the colour of the paper: beneath the letters, never over them."""
    label = {"text": "46 g", "x": 0, "y": 9, "fill": "red"}

    assert written("text", label, size=13, name="labels") == (
        '<text class="labels" font-size="13px" paint-order="stroke" x="0" y="9" fill="red">46 g</text>'
    )
    assert written("text", label, {**label, "y": 2}, size=13, name="labels") == (
        '<g class="labels" font-size="13px" paint-order="stroke" fill="red">'
        '<text x="0" y="9">46 g</text><text x="0" y="2">46 g</text></g>'
    )


def test_values_that_can_be_asked_for_are_titles() -> None:
    """Each mark keeps its own, though it looks like its neighbour; a round one is a circle."""
    ring = {**RED, "shape": "circle", "size": 16, "x": 3, "y": 4, "description": "<9 cm", "fill": None}
    square = {**RED, "shape": "square", "size": 16, "x": 3, "y": 4, "description": "8 cm", "opacity": 1}
    rules = ({**RED, "x": 1, "y": 0, "y2": 5, "description": name} for name in "ab")

    assert written("symbol", ring, square) == (
        '<g class="the-layer" stroke="red" stroke-width="1">'
        '<circle cx="3" cy="4" r="2"><title>&lt;9 cm</title></circle>'
        '<path transform="translate(3,4)" d="M-2,-2L2,-2L2,2L-2,2Z"><title>8 cm</title></path></g>'
    )
    assert written("rule", *rules) == (
        '<g class="the-layer" stroke="red" stroke-width="1"><path d="M1,0v5"><title>a</title></path>'
        '<path d="M1,0v5"><title>b</title></path></g>'
    )


def test_a_line_breaks_off_where_a_corner_is_not_defined() -> None:
    """It is one path."""
    corners = (
        {**RED, "x": 0, "y": 0},
        {"x": 1, "y": 2},
        {"defined": False},
        {"x": 5, "y": 5},
        {"x": 6, "y": 5},
    )

    assert written("line", *corners) == (
        '<path class="the-layer" d="M0,0L1,2M5,5L6,5" stroke="red" stroke-width="1"/>'
    )
