"""Days of a sensor put together."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.indices import DailyRange
from sitegen.core.site.chart import NARROW, WIDE, Frame
from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.plot.marks.sensor_days import DayGroup, days_a_bar, grouped_days, segments, spans_of
from tests.plot.builders import sampled


@pytest.mark.parametrize(
    ("last", "frame", "days"),
    [(66, WIDE, 1), (66, NARROW, 1), (120, NARROW, 2), (180, WIDE, 2), (180, NARROW, 3)],
)
def test_bars_stand_apart(last: int, frame: Frame, days: int) -> None:
    """A bar holds as many days as it takes for bars not to touch."""
    assert days_a_bar(DayAxis.covering(last, Start()), frame) == days


def test_a_mean_weighs_every_sample_the_same() -> None:
    """A day with few samples counts for less."""
    days = (DailyRange(4, 18, 20, 22, 10), DailyRange(5, 19, 23, 30, 20))

    assert DayGroup.of(days) == DayGroup(4, 5, 18, 22, 30, 30)


def test_a_gap_begins_a_new_group_and_a_new_segment() -> None:
    """Days 0 to 2 and 4 to 5, two a group."""
    found = segments(grouped_days(sampled(0, 5, 21, without=(3,)), 2))

    assert [(segment, s.first, s.last) for segment, s in found] == [(0, 0, 1), (0, 2, 2), (1, 4, 5)]


def test_days_that_follow_one_another_are_a_span() -> None:
    """As the description says them."""
    assert spans_of([3, 4, 5, 9]) == (Day(3, 5), Day(9, 9))


@given(st.sets(st.integers(0, 60), min_size=1), st.integers(1, 5))
def test_nothing_is_lost_by_putting_days_together(days: set[int], most: int) -> None:
    """Every sample is in one group, and no group holds a day without samples."""
    ranges = [DailyRange(day, day, day + 1, day + 2, 3) for day in sorted(days)]
    found = grouped_days(ranges, most)

    assert [day for s in found for day in range(s.first, s.last + 1)] == sorted(days)
    assert sum(s.samples for s in found) == 3 * len(days)
    assert all(s.last - s.first < most for s in found)
    assert math.isclose(sum(s.mean * s.samples for s in found), sum(3 * (day + 1) for day in days))
