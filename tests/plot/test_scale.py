"""Scales: round ticks from 0, number_text numbers, units that suit the size."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.plot.scale import Units, Use, number_text, scale_around, scale_for, unit_for


@pytest.mark.parametrize(
    ("largest", "texts"),
    [
        (19, ["0", "5", "10", "15", "20"]),
        (20, ["0", "5", "10", "15", "20"]),
        (21, ["0", "10", "20", "30"]),
        (0.7, ["0", "0.2", "0.4", "0.6", "0.8"]),
        (0, ["0"]),
    ],
)
def test_ticks_are_round(largest: float, texts: list[str]) -> None:
    """Few ticks, a round step apart, the last at or over the largest value."""
    scale = scale_for("length", "metric", [exactly(largest, Dimension.LENGTH)])

    assert [tick.text for tick in scale.ticks] == texts


@given(st.floats(0.001, 1e6))
def test_a_scale_holds_its_values(largest: float) -> None:
    """The largest value lies on the scale, and at most five ticks do."""
    scale = scale_for("length", "metric", [Quantity(0, largest, Dimension.LENGTH)])

    assert scale.top >= scale.of(largest)
    assert 2 <= len(scale.ticks) <= 5


def test_room_is_left_over_the_largest_value() -> None:
    """A label over the uppermost point needs a place."""
    scale = scale_for("length", "metric", [exactly(20, Dimension.LENGTH)], room=0.12)

    assert (scale.top, scale.ticks[-1].value) == (22.4, 20)


@pytest.mark.parametrize(
    ("use", "units", "largest", "symbol"),
    [
        ("mass", "metric", 1999, "g"),
        ("mass", "metric", 2000, "kg"),
        ("mass", "us", 1000, "oz"),
        ("mass", "us", 1400, "lb"),
        ("water", "metric", 999, "ml"),
        ("water", "us", 20000, "gal"),
        ("dose", "us", 20, "tsp"),
        (Dimension.MASS_DOSE, "metric", 20, "g/L"),
    ],
)
def test_the_unit_suits_the_size(use: Use, units: Units, largest: float, symbol: str) -> None:
    """Large amounts take the larger unit; a dimension without a ladder keeps its own."""
    assert unit_for(use, units, largest).symbol == symbol


def test_numbers_are_plain() -> None:
    """No exponent, no separator, no needless zeros."""
    assert [number_text(number) for number in (0, 0.25, 1500, 100000, 2.5)] == [
        "0",
        "0.25",
        "1500",
        "100000",
        "2.5",
    ]


def test_a_scale_around_values_ends_in_round_ticks() -> None:
    """Temperatures from 19 to 24 degrees stand on ticks from 15 or so, never from 0."""
    scale = scale_around("warmth", "metric", [19, 24], 8)

    assert (scale.bottom, [tick.text for tick in scale.ticks]) == (16, ["16", "18", "20", "22", "24", "26"])


@given(st.lists(st.floats(-40, 60), min_size=1))
def test_a_scale_around_values_holds_them_and_is_never_narrow(values: list[float]) -> None:
    """Readings that hardly differ are not drawn as if they did."""
    scale = scale_around("warmth", "us", values, 8)

    assert scale.bottom <= scale.of(min(values)) + 1e-6
    assert scale.of(max(values)) <= scale.top + 1e-6
    assert scale.top - scale.bottom >= 8 * 9 / 5 - 1e-6
