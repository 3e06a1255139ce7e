"""Quantities: intervals with flags, their sums, and formulas carried through them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.quantity import (
    Quantity,
    counted,
    exactly,
    propagate,
    rounded,
    spanning,
    total,
    unknown,
)
from sitegen.core.values.units import Dimension

MASS, SHARE = Dimension.MASS, Dimension.SHARE
OUNCE = 28.349523125  # g: the avoirdupois ounce, by definition
SIZES = st.floats(0, 1e6)


@st.composite
def quantities(draw: st.DrawFn) -> Quantity:
    """Any recorded mass."""
    low = draw(SIZES)
    width = draw(SIZES)
    bounded = draw(st.booleans())
    return Quantity(
        low,
        low + width if bounded else None,
        MASS,
        about=draw(st.booleans()),
        by_eye=draw(st.booleans()),
        open=0 if bounded else 1,
        step=draw(st.sampled_from([0.0, 0.1, 1.0])),
    )


def test_an_exact_quantity() -> None:
    """One measured number is single, exact and known."""
    weight = exactly(84, MASS, 1)

    assert (weight.single, weight.exact, weight.known, weight.middle, weight.unit) == (
        True,
        True,
        True,
        84,
        "g",
    )


def test_an_unknown_quantity() -> None:
    """What nobody measured has no upper bound, is counted, and is not known."""
    assert unknown(MASS) == Quantity(0.0, None, MASS, unweighed=1)
    assert not unknown(MASS).known


def test_a_flag_makes_it_inexact() -> None:
    """A number with a flag is single, but not exact."""
    weight = Quantity(84, 84, MASS, about=True)

    assert (weight.single, weight.exact) == (True, False)


def test_the_middle_of_an_open_interval() -> None:
    """Without an upper bound the lower one is drawn."""
    assert Quantity(9, None, MASS, open=1).middle == 9
    assert Quantity(8, 9, MASS).middle == 8.5


def test_times() -> None:
    """So many times over, bounds and step grow alike and flags stay."""
    assert Quantity(8, 9, MASS, about=True, step=1).times(3) == Quantity(24, 27, MASS, about=True, step=3)
    assert Quantity(8, None, MASS, open=1).times(2) == Quantity(16, None, MASS, open=1)


def test_two_weighed_and_one_not() -> None:
    """Two weighed picks and one unweighed give at least their sum, and count the one."""
    parts = [exactly(84, MASS, 1), exactly(121, MASS, 1), unknown(MASS)]

    assert total(parts, MASS) == Quantity(205.0, None, MASS, unweighed=1, step=1)


def test_the_sum_of_nothing() -> None:
    """The sum of nothing is an exact 0."""
    assert total([], MASS) == exactly(0, MASS)
    assert total([], MASS).exact


def test_a_sum_is_exact_in_decimals() -> None:
    """Ten tenths are one, whatever binary fractions make of them."""
    assert total([exactly(0.1, MASS)] * 10, MASS).low == 1.0


@given(parts=st.lists(quantities(), max_size=6))
def test_a_sum_holds_every_sum(parts: list[Quantity]) -> None:
    """Lower and upper bounds add up, one missing upper bound is enough, and flags stick."""
    whole = total(parts, MASS)
    highs = [part.high for part in parts if part.high is not None]

    assert whole.low == math.fsum(part.low for part in parts)
    assert whole.high == (math.fsum(highs) if len(highs) == len(parts) else None)
    assert whole.about == any(part.about for part in parts)
    assert whole.step in {0.0, *(part.step for part in parts)}
    assert whole == total(reversed(parts), MASS)


def _share(spoilt: float, good: float) -> float:
    return spoilt / (spoilt + good)


def test_a_formula_at_its_corners() -> None:
    """1-2 spoilt beside 5-6 good are 1/7 to 2/7: each corner once, not numerator and sum apart."""
    share = propagate(
        _share,
        increasing=[Quantity(1, 2, Dimension.COUNT)],
        decreasing=[Quantity(5, 6, Dimension.COUNT)],
        dimension=SHARE,
    )

    assert (share.low, share.high) == (1 / 7, 2 / 7)


def test_a_formula_without_an_upper_bound() -> None:
    """Where what drives it up has no bound, the result has none."""
    share = propagate(_share, increasing=[unknown(Dimension.COUNT)], decreasing=[counted(5)], dimension=SHARE)

    assert (share.low, share.high, share.unweighed) == (0.0, None, 1)


def test_a_formula_over_something_open() -> None:
    """Where what drives it down has no bound, the result goes down to 0."""
    rate = propagate(
        lambda g, litres: g / litres,
        increasing=[exactly(100, MASS)],
        decreasing=[Quantity(5, None, Dimension.VOLUME, open=1)],
        dimension=MASS,
    )

    assert (rate.low, rate.high, rate.open) == (0.0, 20.0, 1)


def test_a_formula_that_divides_by_nothing() -> None:
    """A corner that divides by 0 leaves the result without an upper bound."""
    rate = propagate(
        lambda g, litres: g / litres,
        increasing=[exactly(100, MASS)],
        decreasing=[Quantity(0, 5, Dimension.VOLUME)],
        dimension=MASS,
    )

    assert (rate.low, rate.high) == (20.0, None)


@pytest.mark.parametrize(
    ("value", "kept"),
    [(1 / 3, 0.333333333333), (123456789.123456789, 123456789.123), (-0.0, 0.0), (0.1 + 0.2, 0.3)],
)
def test_rounded(value: float, kept: float) -> None:
    """Stored figures keep twelve significant digits, and are never minus zero."""
    assert (rounded(value), math.copysign(1, rounded(value))) == (kept, 1.0)


@pytest.mark.parametrize(
    ("steps", "step"),
    [
        ((1, 1), 1),
        ((1, 0.1), 0.1),
        ((100, 1), 100),  # 1.2 kg and 84 g
        ((1000, 1), 1000),  # 2 kg and 84 g
        ((OUNCE, OUNCE / 4), OUNCE / 4),
        ((OUNCE, OUNCE / 100), OUNCE / 100),  # 3 oz and 2.25 oz
        ((OUNCE, 1), OUNCE),  # 2 oz and 84 g
        ((OUNCE, OUNCE / 4, 0), OUNCE / 4),
    ],
)
def test_the_step_of_a_sum(steps: tuple[float, ...], step: float) -> None:
    """A sum keeps the finest step of one scale, and only the coarsest where scales were mixed."""
    assert total([exactly(10, MASS, each) for each in steps], MASS).step == step


def test_a_span_has_the_flags_of_all_that_it_covers() -> None:
    """A span is from the lowest to the highest; what is open, by eye or was not weighed in one of them is so in it."""
    one = Quantity(20, 24, Dimension.MASS, step=1)
    other = Quantity(12, None, Dimension.MASS, about=True, open=1, unweighed=2, step=5)

    assert spanning([one, other]) == Quantity(
        12, None, Dimension.MASS, about=True, open=1, unweighed=2, step=5
    )
    assert spanning([one]) == one
