"""Labels: beside their points, spread apart, never on one another, left out rather than misleading."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sitegen.core.site.chart import NARROW, WIDE
from sitegen.core.values.day import DayAxis, Start
from sitegen.plot.chart_data import Label, PointLabel, ValueAxis
from sitegen.plot.drawing.label_placement import Plot, kept_inside, place, text_width
from sitegen.plot.drawing.strokes import Stroke

VALUES = ValueAxis("cm", 20, ())
PLOT = Plot(WIDE, DayAxis.covering(70, Start()), VALUES, height=184)
SMALL = Plot(NARROW, DayAxis.covering(70, Start()), VALUES, height=184)

point_labels = st.lists(
    st.builds(
        PointLabel,
        st.sampled_from([10.0, 40.0, 68.0, 70.0]),
        st.floats(0, 20),
        st.text("abc", min_size=1, max_size=9),
    ),
    max_size=9,
)


def box(label: Label, plot: Plot) -> tuple[float, float, float]:
    """Left, right and middle of a placed label."""
    x, width = plot.x(label.day) + label.dx, text_width(label.text, plot.frame.text)
    left = x if label.align == "left" else x - width
    return left, left + width, plot.y(label.value) + label.dy


def test_a_label_stands_right_of_its_point() -> None:
    """Where there is room."""
    assert place([PointLabel(40, 10, "P1")], PLOT) == (Label(40, 10, "P1", "left", 8.0, 0.0),)


def test_a_label_without_room_stands_over_its_point() -> None:
    """At the end of the axis it ends just before the point, one line up."""
    assert place([PointLabel(70, 10, "median")], PLOT) == (Label(70, 10, "median", "right", -8.0, -15.0),)


def test_a_label_does_not_lie_on_the_point_of_another() -> None:
    """In a narrow drawing the name of one mark would cover the next mark of its height: it stands elsewhere."""
    first, second = PointLabel(36, 19, "pruned"), PointLabel(45, 19, "trouble")
    mark = Stroke(SMALL.x(45), SMALL.y(19), SMALL.x(45), SMALL.y(19), 5)
    found = {label.text: box(label, SMALL) for label in place([first, second], SMALL, [mark])}

    left, right, middle = found["pruned"]
    assert not left < SMALL.x(45) < right or abs(middle - SMALL.y(19)) >= 7
    assert box(place([first], SMALL)[0], SMALL)[1] > SMALL.x(45)  # alone it would have reached so far


def test_equal_ends_share_a_label() -> None:
    """Two lines that end in one point are named together."""
    assert [label.text for label in place([PointLabel(40, 10, "P1"), PointLabel(40, 10, "P2")], PLOT)] == [
        "P1, P2"
    ]


def test_close_labels_share_out_the_distance() -> None:
    """Two labels too close move apart by the same amount."""
    first, second = place([PointLabel(40, 10, "P1"), PointLabel(40, 9.5, "P2")], PLOT)

    assert round(first.dy + second.dy, 6) == 0
    assert round(PLOT.y(9.5) + second.dy - PLOT.y(10) - first.dy, 6) == 15


def test_a_label_that_would_stray_is_left_out() -> None:
    """Eight lines that end close together keep the strong, the highest and the lowest."""
    crowd = [PointLabel(40, 10 + n / 10, f"P{n}") for n in range(7)]
    kept = [label.text for label in place([*crowd, PointLabel(40, 10.35, "median", strong=True)], PLOT)]

    assert "median" in kept
    assert 2 <= len(kept) < 8


def test_a_label_slides_along_a_level_line_to_a_free_place() -> None:
    """Along its last level it may stand clear of what lies at its end."""
    at_the_end = Stroke(PLOT.x(66), PLOT.y(10) - 15, PLOT.x(70), PLOT.y(10) - 15, 7)
    (label,) = place([PointLabel(70, 10, "leaf", level_since=30)], PLOT, (at_the_end,))

    assert (label.dy, label.dx) == (-15.0, -56.0)  # four slides of 12 beyond the 8 that it keeps away


@pytest.mark.parametrize(("value", "under"), [(10.0, False), (19.0, True), (20.0, True)])
def test_a_label_stands_under_a_level_line_near_the_top(value: float, under: bool) -> None:
    """Over it there would be no room that does not touch the line."""
    (label,) = place([PointLabel(70, value, "usual: 0.8–1.8 mS/cm", level_since=0)], PLOT)

    assert (label.dy > 0) == under
    assert abs(label.dy) == 15


def test_a_short_name_is_used_where_the_long_one_has_no_free_place() -> None:
    """On a crowded drawing the name alone is enough."""
    wall = (Stroke(242, 0, 242, 190, 2),)
    (label,) = place([PointLabel(70, 10, "leaf: at least 270 g", short="leaf")], SMALL, wall)

    assert label.text == "leaf"


def test_a_fixed_label_that_would_run_over_the_edge_ends_at_its_point() -> None:
    """One that has room stays as it is."""
    inside, over = Label(10, 5, "first bud", "left", 4.0), Label(60, 5, "first flower, 5 of 6", "left", 4.0)

    assert kept_inside([inside, over], SMALL) == (inside, Label(60, 5, "first flower, 5 of 6", "right", -4.0))


def test_a_label_keeps_off_a_fixed_one() -> None:
    """It moves under its point where its first place is taken."""
    taken = Label(64, 11.6, "first bud", "left")
    (label,) = place([PointLabel(70, 10, "median")], PLOT, fixed=[taken])

    assert label.dy == 15.0


@example([PointLabel(10, 0, "a" * 7), *[PointLabel(10, 0, "a" * 8)] * 4])  # as wide as the drawing, nearly
@example([PointLabel(10, 0, "a" * 8)] * 6)  # wider than it
@given(point_labels)
def test_labels_never_lie_on_one_another(found: list[PointLabel]) -> None:
    """Whatever ends where, placed labels are legible and inside the drawing."""
    for plot in (PLOT, SMALL):
        placed = [box(label, plot) for label in place(found, plot)]
        for (left, right, middle), (left_2, right_2, middle_2) in combinations(placed, 2):
            assert right <= left_2 + 1e-6 or right_2 <= left + 1e-6 or abs(middle - middle_2) > 13.9
        assert all(left >= -1e-6 and right <= plot.frame.width + 1e-6 for left, right, _ in placed)
