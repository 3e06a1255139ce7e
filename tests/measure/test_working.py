"""Steps of quotients."""

from __future__ import annotations

import pytest

from sitegen.measure.methods import coarse


@pytest.mark.parametrize(
    ("step", "value", "coarsened"),
    [
        (0.25, 171, 1),
        (0.003, 4.13, 0.01),
        (1, 171, 1),
        (0.1, 54, 0.1),
        (0.6, 1.67, 0.1),
        (5, 0, 5),
        (0, 3, 0),
    ],
)
def test_coarse(step: float, value: float, coarsened: float) -> None:
    """A power of ten not below the step, with two digits of the value left."""
    assert coarse(step, value) == pytest.approx(coarsened)
