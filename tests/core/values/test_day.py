"""Days, how day 0 is dated, and the axis."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.day import Day, DayAxis, Start

SOWN = dt.date(2025, 9, 14)
DATED = Start(SOWN, "day")
MONTH = Start(dt.date(2025, 9, 1), "month")


@pytest.mark.parametrize(
    ("day", "text", "middle"),
    [
        (Day.on(26), "26", 26),
        (Day(33, 38), "33-38", 35.5),
        (Day.on(36, about=True), "about 36", 36),
        (Day(0, 59, before=True), "before 60", 59),
    ],
)
def test_a_day_in_words(day: Day, text: str, middle: float) -> None:
    """A day is said as it was written, and drawn at its middle."""
    assert (str(day), day.middle) == (text, middle)


def test_before_a_day_stands_beside_it() -> None:
    """A day "before 60" is a span from day 0 with its place beside day 59; a span written from day 0 begins on day 0."""
    before, span = Day(0, 59, before=True), Day(0, 59)

    assert sorted([Day.on(60), before, Day.on(58), Day.on(0), span]) == [
        Day.on(0),
        span,
        Day.on(58),
        before,
        Day.on(60),
    ]
    assert (before.key, span.key) == ((59, 59), (0, 59))


def test_day_ten_is_ten_days_later() -> None:
    """Day 0 is the start, day 10 ten days later (P23)."""
    assert (DATED.date_of(0), DATED.date_of(10)) == (SOWN, dt.date(2025, 9, 24))
    assert DATED.day_of(dt.date(2025, 10, 19)) == Day.on(35)


@given(number=st.integers(-400, 4000))
def test_there_and_back(number: int) -> None:
    """The day of the date of a day is that day, across leap years and changes of the clock."""
    date = DATED.date_of(number)

    assert date is not None
    assert DATED.day_of(date) == Day.on(number)


def test_a_start_dated_to_the_month() -> None:
    """Where only the month is known, a date is a span of days, and a day has no date."""
    assert MONTH.day_of(dt.date(2025, 10, 19)) == Day(19, 48)
    assert MONTH.date_of(5) is None
    assert MONTH.latest == dt.date(2025, 9, 30)


def test_the_last_day_of_february() -> None:
    """A month's last day is the calendar's."""
    assert Start(dt.date(2024, 2, 1), "month").latest == dt.date(2024, 2, 29)


def test_an_unknown_start() -> None:
    """Without a start no date has a day, and no day a date."""
    assert (Start().day_of(SOWN), Start().date_of(3), Start().latest) == (None, None, None)


def test_days_between() -> None:
    """From one span to another it is as short as their near ends and as long as their far ends."""
    assert Day(33, 38).span_since(Day(10, 12)) == Day(21, 28)
    assert Day.on(40, about=True).span_since(Day.on(10)) == Day(30, 30, about=True)


@pytest.mark.parametrize(("last", "end"), [(0, 14), (1, 14), (14, 14), (15, 28), (64, 70), (70, 70)])
def test_the_axis_ends_with_a_whole_step(last: int, end: int) -> None:
    """The axis ends with the first fortnight that holds the last day."""
    assert DayAxis.covering(last, DATED).end == end


@given(last=st.integers(0, 2000))
def test_the_axis_holds_every_day(last: int) -> None:
    """Each day lies on the axis, in order, under at most eleven labels until three years are over."""
    axis = DayAxis.covering(last, DATED)

    assert 0 <= axis.share(0) <= axis.share(last) <= 1
    assert axis.ticks[0] == 0
    assert last > 1120 or len(axis.ticks) <= 11


def test_beyond_the_axis() -> None:
    """What lies outside the axis is drawn at its end."""
    axis = DayAxis.covering(20, DATED)

    assert (axis.share(-3), axis.share(14), axis.share(400)) == (0.0, 0.5, 1.0)
