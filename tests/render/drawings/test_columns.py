"""Values in the order of time on an upright scale."""

from __future__ import annotations

from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.render.drawings.columns import Column, ColumnPlot, Value, column_plot, upright_scale


def _grams(low: float, high: float | None = None, *, least: bool = False) -> Quantity:
    return Quantity(low, None if least else low if high is None else high, Dimension.MASS)


def _plot(*columns: tuple[Quantity, ...], most_labels: int = 6) -> ColumnPlot:
    given = [Column(f"c{i}", tuple(map(Value, values))) for i, values in enumerate(columns)]
    scale = upright_scale(given, "metric")
    assert scale is not None
    return column_plot(given, scale, most_labels)


def test_each_column_has_the_same_width() -> None:
    """Two columns have their middles at a quarter and three quarters; heights are on one scale from 0."""
    plot = _plot((_grams(100),), (_grams(400),))

    assert [(mark.at, mark.low) for mark in plot.marks] == [(250, 250), (750, 1000)]
    assert plot.labels == (("c0", 250), ("c1", 750))


def test_values_of_one_column_stand_beside_each_other() -> None:
    """Two arms of a run are drawn apart, around the middle of their column."""
    plot = _plot((_grams(100), _grams(100)))

    assert [mark.at for mark in plot.marks] == [350, 650]


def test_what_is_open_goes_on_upwards() -> None:
    """At least so much has an end that is open, within the drawing."""
    (mark,) = _plot((_grams(100, least=True),)).marks

    assert mark.onwards is not None
    assert mark.low < mark.onwards <= 1000
    assert mark.high is None


def test_an_interval_is_a_bar_unless_it_is_no_longer_than_its_mark() -> None:
    """A wide interval reaches from its lower to its upper bound; a narrow one is a mark like a number."""
    wide, narrow = _plot((_grams(100, 400),), (_grams(200, 202),)).marks

    assert (wide.low, wide.high) == (250, 1000)
    assert narrow.high is None


def test_of_many_columns_some_have_a_label() -> None:
    """Labels that would touch are left out, evenly."""
    plot = _plot(*[(_grams(10 + i),) for i in range(12)], most_labels=6)

    assert [label for label, _ in plot.labels] == ["c0", "c2", "c4", "c6", "c8", "c10"]


def test_of_many_columns_a_repeated_label_stands_once() -> None:
    """Of eight columns of two months with room for four labels, the first of each month is named."""
    columns = [Column("Oct" if i < 6 else "Nov", (Value(_grams(100)),)) for i in range(8)]
    scale = upright_scale(columns, "metric")
    assert scale is not None

    assert column_plot(columns, scale, 4).labels == (("Oct", 62.5), ("Nov", 812.5))


def test_without_a_value_there_is_no_scale() -> None:
    """Nothing weighed, nothing drawn."""
    assert upright_scale([Column("c", ())], "metric") is None


def test_the_key_explains_what_is_drawn() -> None:
    """Open ends and intervals are named only where they occur."""
    assert _plot((_grams(1),)).drawn == frozenset()
    assert _plot((_grams(100, 300), _grams(1, least=True))).drawn == {"open", "interval"}
