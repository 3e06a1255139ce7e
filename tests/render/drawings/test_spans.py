"""Days by arm in rows: places, bars, open ends, lanes."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.day import Day
from sitegen.render.drawings.spans import DaySpan, SpanMark, SpanRow, SpansPlot, spans_plot


def _plot(*rows: tuple[str, list[Day]]) -> SpansPlot:
    found = spans_plot(
        [SpanRow(label, tuple(DaySpan(day, f"{n}", n) for n, day in enumerate(days))) for label, days in rows]
    )
    assert found is not None
    return found


def _marks(*days: Day) -> tuple[SpanMark, ...]:
    return _plot(("First flower", list(days))).rows[0].marks


def test_days_lie_on_one_scale() -> None:
    """Between days 46 and 66 a mark on day 50 lies at a fifth of the width, one on day 62 at four fifths."""
    first, second = _marks(Day.on(50), Day.on(62))

    assert (first.at, second.at) == (200.0, 800.0)
    assert (first.until, first.since) == (None, None)


def test_a_day_that_is_a_span_is_a_bar() -> None:
    """A day between two looks is drawn from the first to the last day that it can be."""
    (mark,) = _marks(Day(50, 62))

    assert (mark.at, mark.until) == (200.0, 800.0)


def test_a_day_without_a_look_before_is_open_towards_sowing() -> None:
    """A stage seen "by day 53" is a mark on day 53 with an open end before it, and stretches no scale to day 0."""
    plot = _plot(("First flower", [Day(0, 53), Day(59, 62)]))
    by, span = plot.rows[0].marks

    assert by.since is not None
    assert by.since < by.at < span.at
    assert min(day for day, _ in plot.ticks) >= 49
    assert plot.drawn == {"open", "interval"}


def test_each_arm_has_a_lane_of_its_own() -> None:
    """Arms that came to a stage on one day are both to be seen, one below the other."""
    first, second = _marks(Day.on(50), Day.on(50))

    assert (first.at, first.shape, second.shape) == (second.at, 0, 1)
    assert second.y - first.y >= 10


def test_rows_without_a_day_are_left_out() -> None:
    """A stage that no arm reached has no row, and without any day there is no drawing."""
    assert spans_plot([SpanRow("Ripe", ())]) is None
    assert [row.label for row in _plot(("Ripe", []), ("Bud", [Day.on(4)])).rows] == ["Bud"]


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(0, 40)), min_size=1, max_size=6))
def test_every_mark_lies_on_the_scale(days: list[tuple[int, int]]) -> None:
    """No mark leaves the drawing, bars run forwards, and open ends backwards."""
    plot = _plot(("x", [Day(first, first + more) for first, more in days]))

    for mark in plot.rows[0].marks:
        assert 0 <= mark.at <= 1000
        assert mark.until is None or mark.at < mark.until <= 1000
        assert mark.since is None or 0 <= mark.since < mark.at
        assert 0 < mark.y < plot.rows[0].height
    assert 1 <= len(plot.ticks) <= 8
