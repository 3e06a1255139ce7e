"""Amounts as bars on one scale."""

from __future__ import annotations

from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.render.drawings.lengths import Length, lengths


def grams(low: float, high: float | None) -> Quantity:
    """A range of a weight."""
    return Quantity(low, high, Dimension.MASS)


def test_bars_are_per_cents_of_the_longest() -> None:
    """The longest amount fills the width, half of it half (by definition of a scale from nothing)."""
    assert lengths([exactly(0.5, Dimension.MASS), exactly(0.25, Dimension.MASS)]) == (
        Length(100, 0, open=False),
        Length(50, 0, open=False),
    )


def test_what_is_not_sure_is_a_part_of_its_own() -> None:
    """A range is sure as far as its lower end; what lies between the ends may be."""
    assert lengths([grams(600, 1000), grams(500, 500)]) == (
        Length(60, 40, open=False),
        Length(50, 0, open=False),
    )


def test_an_open_end_keeps_its_room() -> None:
    """Beside a lower bound no bar reaches the edge, so that it can be seen to go on: 6 of 100 are left (no source)."""
    assert lengths([grams(1000, 1000), grams(500, None)]) == (
        Length(94, 0, open=False),
        Length(47, 0, open=True),
    )


def test_nothing_known_is_no_bar() -> None:
    """A value that is not known has none, and where all gave nothing there is no scale."""
    assert lengths([unknown(Dimension.MASS), None, grams(2, 2)]) == (None, None, Length(100, 0, open=False))
    assert lengths([grams(0, 0), grams(0, 0)]) == (None, None)
