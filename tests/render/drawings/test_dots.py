"""Rows of dots: overlap, open ends, order, scale."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.language.wording import Wording
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.render.drawings.dots import DOT, OPEN, DotRow, Mark, Point, dot_plot
from sitegen.render.drawings.scale import scale_to

MASS = Dimension.MASS


def _row(*values: Quantity, mean: Quantity | None = None) -> DotRow:
    return DotRow("Panel", tuple(Point(value, f"P{i}") for i, value in enumerate(values, 1)), mean)


def _grams(low: float, high: float | None = None) -> Quantity:
    return exactly(low, MASS) if high is None else Quantity(low, high, MASS)


def _at_least(low: float) -> Quantity:
    return Quantity(low, None, MASS, open=1)


def _marks(*values: Quantity) -> tuple[Mark, ...]:
    plot = dot_plot([_row(*values)], "metric")
    assert plot is not None
    return plot.rows[0].dots


def test_places_are_shares_of_a_round_scale() -> None:
    """300 g on a scale to 400 g lies at three quarters of it."""
    plot = dot_plot([_row(_grams(300), _grams(400))], "metric")

    assert plot is not None
    assert [mark.at for mark in plot.rows[0].dots] == [750.0, 1000.0]
    assert plot.scale.ticks == ((0.0, 0.0), (100.0, 250.0), (200.0, 500.0), (300.0, 750.0), (400.0, 1000.0))


def test_an_open_value_goes_onwards_from_a_hollow_mark() -> None:
    """What is only known as "at least" has a line from its least on, and the scale has room for it."""
    (mark,) = _marks(_at_least(100))

    assert (mark.until, mark.onwards) == (None, mark.at + OPEN)
    assert mark.at + OPEN <= 1000


def test_an_unweighed_value_begins_at_nothing() -> None:
    """A plant whose picks were never weighed gave at least nothing."""
    first, _ = _marks(Quantity(0, None, MASS, unweighed=1), _grams(40))

    assert (first.at, first.onwards) == (0.0, OPEN)


def test_an_interval_is_a_bar() -> None:
    """A range is drawn from its lower to its upper bound, and has no open end."""
    (mark,) = _marks(_grams(100, 200))

    assert (mark.at, mark.until, mark.onwards) == (500.0, 1000.0, None)


def test_equal_values_stand_above_one_another() -> None:
    """Plants that gave the same are all to be seen, each a lane higher."""
    marks = _marks(_grams(50), _grams(50), _grams(50))

    assert [mark.lane for mark in marks] == [0, 1, 2]
    assert marks[0].y > marks[1].y > marks[2].y


def test_marks_are_in_the_order_of_their_values() -> None:
    """The marks of a row run from the least to the most, whatever the order of the plants."""
    assert [mark.name for mark in _marks(_grams(90), _grams(10), _grams(50))] == ["P2", "P3", "P1"]


def test_the_mean_stands_below_its_plants() -> None:
    """The mean has a lane of its own, under the lowest of the plants."""
    plot = dot_plot([_row(_grams(10), _grams(20), mean=_grams(10, 30))], "metric")

    assert plot is not None
    row = plot.rows[0]
    assert row.mean is not None
    assert row.mean.y >= max(dot.y for dot in row.dots) + 10
    assert (row.mean.at, row.mean.until) == (333.3, 1000.0)
    assert row.mean.y < row.height


def test_rows_without_values_make_no_drawing() -> None:
    """Where no plant has a value of its own there is nothing to draw."""
    assert dot_plot([_row(), _row()], "metric") is None


def test_a_row_without_plants_keeps_its_mean() -> None:
    """A row whose plants were only picked together has a mean and no dots."""
    plot = dot_plot([_row(mean=_grams(80)), _row(_grams(100))], "metric")

    assert plot is not None
    assert (plot.rows[0].dots, plot.rows[0].mean is None) == ((), False)


def test_only_what_is_drawn_is_explained() -> None:
    """The key names open ends, intervals and means only where there are some."""
    plain = dot_plot([_row(_grams(1), _grams(2))], "metric")
    full = dot_plot([_row(_at_least(1), _grams(2, 3), mean=_at_least(2))], "metric")

    assert plain is not None
    assert full is not None
    assert plain.drawn == frozenset()
    assert full.drawn == frozenset({"open", "interval", "mean"})


@pytest.mark.parametrize(
    ("units", "grams", "ticks"),
    [
        ("metric", 968.0, ["0", "250 g", "500 g", "750 g", "1,000 g"]),
        ("metric", 4100.0, ["0", "2 kg", "4 kg", "6 kg"]),
        ("metric", 0.0, ["0", "1 g"]),
        ("us", 56.69904625, ["0", "0.5 oz", "1.0 oz", "1.5 oz", "2.0 oz"]),  # 2 oz, exactly, by definition
    ],
)
def test_the_scale_is_in_round_numbers_of_the_readers_unit(
    units: str, grams: float, ticks: list[str]
) -> None:
    """Numbers are round in grams, kilograms or ounces, and the last one holds the largest value."""
    wording = Wording("us" if units == "us" else "metric")
    scale = scale_to(grams, MASS, wording.units)

    assert [text.replace("\u00a0", " ") for text, _ in scale.labels(wording)] == ticks


_quantities = st.builds(
    lambda low, more, kind: (
        _at_least(low) if kind == 0 else _grams(low, low + more) if kind == 1 else _grams(low)
    ),
    st.floats(0, 3000),
    st.floats(0, 500),
    st.integers(0, 3),
)


@given(st.lists(_quantities, min_size=1, max_size=14))
def test_no_two_marks_of_a_lane_touch(values: list[Quantity]) -> None:
    """Marks of one lane are at least a dot apart, open ends and bars included, and all values are on the scale."""
    marks = _marks(*values)

    assert len(marks) == len(values)
    assert all(0 <= mark.at <= 1000 for mark in marks)
    assert all(mark.onwards <= 1000 for mark in marks if mark.onwards is not None)
    for one, other in combinations(sorted(marks, key=lambda each: each.at), 2):
        if one.lane == other.lane:
            end = max(one.at if one.until is None else one.until, (one.onwards or 0) - DOT / 2)
            assert other.at - end >= DOT * 0.99


@given(st.lists(_quantities, min_size=1, max_size=8))
def test_the_order_of_the_plants_changes_no_place(values: list[Quantity]) -> None:
    """A row drawn from its plants in another order has its marks at the same places."""
    places = [[replace(mark, name="") for mark in _marks(*each)] for each in (values, values[::-1])]

    assert places[0] == places[1]
