"""Which days of a run a chart draws."""

from __future__ import annotations

import pytest

from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.plot.stretch import begins, ends, stretch, stretch_note

AXIS = DayAxis.covering(140, Start())


@pytest.mark.parametrize(("first", "day"), [(0, 0), (46, 0), (58, 56), (57, 0), (98, 84), (100, 98)])
def test_an_axis_begins_late_where_a_third_of_it_would_be_empty(first: int, day: int) -> None:
    """In steps of the axis, two days at least before the first mark."""
    assert begins(first, AXIS) == day


@pytest.mark.parametrize(
    ("last", "day"), [(140, 140), (90, 140), (83, 140), (82, 84), (58, 70), (54, 56), (55, 70)]
)
def test_an_axis_ends_early_where_a_third_of_it_would_be_empty(last: int, day: int) -> None:
    """In steps of the axis, two days at least after the last mark."""
    assert ends(last, AXIS) == day


def test_an_uncertain_day_is_drawn_whole() -> None:
    """The stretch reaches as far as its bounds do."""
    assert stretch([Day.on(20), Day(52, 56)], AXIS) == (0, 70)
    assert stretch([Day.on(70), Day(58, 60)], AXIS) == (56, 84)


def test_what_is_left_out_is_said() -> None:
    """A chart over all days needs no sentence."""
    assert stretch_note(0, 140, AXIS) == ""
    assert stretch_note(0, 70, AXIS) == "Only days 0 to 70 are drawn; there are no readings outside them."
