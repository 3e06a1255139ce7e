"""Marks as strokes: what a label may not lie on."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.site.chart import WIDE
from sitegen.core.values.day import DayAxis, Start
from sitegen.plot.chart_data import Area, Bar, Span, Symbol, ValueAxis, Vertex
from sitegen.plot.drawing.label_placement import Plot
from sitegen.plot.drawing.strokes import Stroke, strokes

PLOT = Plot(WIDE, DayAxis.covering(70, Start()), ValueAxis("cm", 20, ()), height=200)
places = st.integers(-20, 20).map(float)


@given(places, places, places, places, st.integers(1, 12), st.integers(1, 12), st.integers(0, 3))
def test_a_stroke_crosses_what_one_of_its_points_lies_in(
    x: float, y: float, x2: float, y2: float, right: int, bottom: int, half: int
) -> None:
    """Clipping finds what trying a thousand of its points finds."""
    steps = [n / 1000 for n in range(1001)]
    points = [(x + (x2 - x) * step, y + (y2 - y) * step) for step in steps]

    def inside(margin: float) -> bool:
        grown = half + margin
        return any(-grown < a < right + grown and -grown < b < bottom + grown for a, b in points)

    assume(inside(-0.1) == inside(0.1))  # what only grazes a corner may be missed between two points
    assert Stroke(x, y, x2, y2, half).crosses(0, right, 0, bottom) == inside(0)


def test_each_mark_is_a_stroke() -> None:
    """A symbol, a bar with its shift, a level bar as thick as it is, each piece of a line; not a tinted area."""
    rows = (
        Symbol(35, 10, "circle", "none", ""),
        Bar(35, 0, 20, shift=7),
        Span(0, 70, 5, thickness=11),
        Vertex("a", 0, 0),
        Vertex("a", 70, 20),
        Vertex("b", 0, 0),
        Area(0, 70, 0, 20),
    )
    left, middle, right = (PLOT.x(day) for day in (0, 35, 70))

    assert strokes({"rows": rows}, PLOT) == (
        Stroke(middle, 100, middle, 100, 5),
        Stroke(middle + 7, 200, middle + 7, 0, 1.5),
        Stroke(left, 150, right, 150, 5.5),
        Stroke(left, 200, right, 0, 1.5),
    )


def test_an_arrow_has_a_head() -> None:
    """It is as broad as a symbol."""
    (stem, head) = strokes({"open-ends": (Bar(70, 10, 20),)}, PLOT)

    assert (head.x, head.y, head.half) == (stem.x, 0, 5)
