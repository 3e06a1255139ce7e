"""What tests read off a figure: its quantity, its rate, its bounds, the lines of its rows.

In: a `Figure`. Out: values of one type, so that a test compares them whole.
"""

from __future__ import annotations

from typing import Any

from sitegen.core.facts.figure import Figure, Rate
from sitegen.core.values.quantity import Quantity

__all__ = ["amount", "bounds", "lines", "rate"]


def amount(figure: Figure) -> Quantity:
    """The quantity of a figure that has one."""
    assert isinstance(figure.value, Quantity)
    return figure.value


def rate(figure: Figure) -> Quantity:
    """The amount of a figure that is a rate."""
    assert isinstance(figure.value, Rate)
    return figure.value.amount


def bounds(value: object) -> tuple[Any, Any]:
    """Both ends of a quantity, of a rate or of a figure's value."""
    known = value.value if isinstance(value, Figure) else value
    known = known.amount if isinstance(known, Rate) else known
    assert isinstance(known, Quantity)
    return known.low, known.high


def lines(figure: Figure) -> list[int]:
    """The lines of the rows behind a figure."""
    return [source.line for source in figure.rows]
