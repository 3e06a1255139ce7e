"""The day axis: labels that fit, dates that need no clock."""

from __future__ import annotations

from datetime import date

from sitegen.core.site.chart import NARROW, WIDE
from sitegen.core.values.day import DayAxis, Start
from sitegen.plot.drawing.day_labels import date_labels, day_labels, day_ticks

AUTUMN = Start(date(2025, 12, 14), "day")


def test_a_narrow_drawing_labels_fewer_days() -> None:
    """Six labels at most, evenly apart."""
    axis = DayAxis.covering(120, AUTUMN)

    assert day_ticks(axis, WIDE) == (0, 14, 28, 42, 56, 70, 84, 98, 112, 126)
    assert day_ticks(axis, NARROW) == (0, 28, 56, 84, 112)


def test_day_0_says_what_the_numbers_are() -> None:
    """The first label carries the word."""
    assert [label.text for label in day_labels(DayAxis.covering(28, AUTUMN), NARROW)] == [
        "day 0",
        "7",
        "14",
        "21",
        "28",
    ]


def test_a_new_year_is_named() -> None:
    """The year stands with the first date and where it changes."""
    texts = [label.text for label in date_labels(DayAxis.covering(84, AUTUMN), WIDE)]

    assert texts == ["14 Dec 2025", "28 Dec", "11 Jan 2026", "25 Jan", "8 Feb", "22 Feb", "8 Mar"]


def test_a_start_known_by_its_month_has_no_dates() -> None:
    """Nothing is dated more exactly than it was recorded."""
    start = Start(date(2025, 9, 1), "month")

    assert date_labels(DayAxis.covering(56, start), WIDE) == ()
