"""Student's distribution, against scipy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t

from sitegen.measure.across.student import point_with_tail, upper_tail

FREEDOM = st.floats(1, 500)


@given(st.floats(0, 40), FREEDOM)
def test_the_upper_tail(point: float, freedom: float) -> None:
    """The chance of a larger value is that of scipy, whole or not as the degrees of freedom are."""
    assert upper_tail(point, freedom) == pytest.approx(t.sf(point, freedom), rel=1e-9, abs=1e-12)


@given(st.sampled_from((0.005, 0.025, 0.05, 0.2)), FREEDOM)
def test_the_point_with_a_tail(tail: float, freedom: float) -> None:
    """The point with so much beyond it is that of scipy."""
    assert point_with_tail(tail, freedom) == pytest.approx(t.isf(tail, freedom), rel=1e-8)


@pytest.mark.parametrize(
    ("freedom", "limit"),
    [(1, 12.7062), (2, 4.3027), (3, 3.1824), (4, 2.7764), (5, 2.5706), (6, 2.4469), (9, 2.2622)],
)
def test_published_limits(freedom: int, limit: float) -> None:
    """The two-sided limits of 95 % as tables of Student's t print them (four decimals)."""
    assert round(point_with_tail(0.025, freedom), 4) == limit
