"""Step lines of running totals: bounds, bands, open ends."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.render.drawings.running_totals import Series, TotalLine, totals_plot

MASS = Dimension.MASS


def _grams(low: float, high: float | None = None, **flags: int) -> Quantity:
    return Quantity(low, high, MASS, **flags)


def _line(*points: tuple[Day, Quantity], last: int = 100) -> TotalLine:
    plot = totals_plot([Series("Panel", points)], last, "metric")
    assert plot is not None
    return plot.lines[0]


def _numbers(path: str) -> list[float]:
    return [float(number) for number in re.findall(r"[\d.]+", path)]


def test_a_total_rises_on_the_day_of_each_pick() -> None:
    """On an axis from day 0 to 100 and up to 400 g: 100 g on day 3, 400 g on day 50, level until the end."""
    line = _line((Day.on(3), exactly(100, MASS)), (Day.on(50), exactly(400, MASS)))

    assert line.low == "M30.0 1000.0H30.0V750.0H500.0V0.0H1000.0"
    assert (line.high, line.band, line.onwards, line.end) == ("", "", None, 0.0)


def test_an_interval_has_a_band() -> None:
    """Between 100 g and 200 g, then 300 g and 400 g, the area between both step lines is marked."""
    line = _line((Day.on(3), _grams(100, 200)), (Day.on(50), _grams(300, 400)))

    assert line.high == "M30.0 1000.0H30.0V500.0H500.0V0.0H1000.0"
    assert line.band == "M30.0 1000.0H30.0V500.0H500.0V0.0H1000.0V250.0H500.0V750.0H30.0V1000.0Z"


def test_a_total_that_is_only_at_least_has_an_open_end() -> None:
    """From the pick that nobody weighed on there is no upper bound: the band ends, and the end goes on upwards."""
    line = _line((Day.on(3), _grams(100, 200)), (Day.on(50), _grams(100, None, unweighed=1)))

    assert _numbers(line.high)[-1] == 500.0
    assert line.onwards is not None
    assert 0 <= line.onwards < line.end


def test_a_day_that_is_a_span_rises_early_above_and_late_below() -> None:
    """What was picked on one of days 20 to 40 may be there from day 20 on, and is there from day 40 on."""
    line = _line((Day(20, 40), exactly(100, MASS)))

    assert _numbers(line.low)[0] == round((40 - 17) / 83 * 1000, 1)
    assert _numbers(line.high)[0] == round((20 - 17) / 83 * 1000, 1)


def test_without_totals_there_is_no_drawing() -> None:
    """Arms of which nothing was picked make no drawing, and beside others no line."""
    assert totals_plot([Series("Panel", ())], 10, "metric") is None
    plot = totals_plot(
        [Series("Panel", ()), Series("Bar", ((Day.on(3), exactly(9, MASS)),), 1)], 10, "metric"
    )
    assert plot is not None
    assert [(line.series.label, line.shape) for line in plot.lines] == [("Bar", 1)]


def test_the_axis_begins_with_the_picks() -> None:
    """No empty stretch: days before the first pick are left out, and the ticks are round days."""
    plot = totals_plot([Series("Panel", ((Day.on(98), exactly(9, MASS)),))], 134, "metric")

    assert plot is not None
    assert [day for day, _ in plot.ticks] == [98, 112, 126]


def test_ticks_leave_room_for_the_word_at_the_edge() -> None:
    """On a phone a third of the plot is as wide as `day 26` and half a number: the marks keep at least that apart."""
    plot = totals_plot([Series("Edge", ((Day.on(29), exactly(9, MASS)),))], 36, "metric")

    assert plot is not None
    assert plot.ticks == ((28, 200.0), (35, 900.0))


_POINTS = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 5), st.integers(0, 200), st.integers(0, 90), st.booleans()),
    min_size=1,
    max_size=7,
)


@given(_POINTS)
def test_every_path_stays_in_the_box(rows: list[tuple[int, int, int, int, bool]]) -> None:
    """Whatever the totals, no line leaves the drawing, and each goes on to its right edge."""
    low, points = 0, []
    for day, more, grams, wide, open_ in sorted(rows):
        low += grams
        points.append((Day(day, day + more), _grams(low, None if open_ else low + wide)))
    line = _line(*points, last=60)

    assert all(0 <= number <= 1000 for path in (line.low, line.high, line.band) for number in _numbers(path))
    assert _numbers(line.low)[-1] == 1000.0
