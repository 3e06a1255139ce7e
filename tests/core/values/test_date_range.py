"""Stretches of dates."""

from __future__ import annotations

from datetime import date

from sitegen.core.values.day import DateRange

D = date


def test_both_ends_belong_to_a_stretch() -> None:
    """A day before the first or after the last is outside; without an end, nothing is."""
    held = DateRange(D(2025, 1, 2), D(2025, 1, 4))

    assert [held.contains(D(2025, 1, day)) for day in range(1, 6)] == [False, True, True, True, False]
    assert DateRange().contains(D(2025, 1, 1))


def test_what_two_stretches_have_in_common() -> None:
    """The later begin and the earlier end; what has no end takes that of the other."""
    one, other = DateRange(D(2025, 1, 2), None), DateRange(D(2025, 1, 1), D(2025, 1, 9))

    assert one.intersection(other) == other.intersection(one) == DateRange(D(2025, 1, 2), D(2025, 1, 9))
    assert DateRange().intersection(DateRange()) == DateRange()
