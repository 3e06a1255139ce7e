"""Amounts as bars on one scale, from nothing on.

In: quantities. Out: a `Length` for each, in per cent of the longest; it makes no markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.values.quantity import Quantity

ONWARDS = 6.0  # per cent that show an open end; how much more it was is not known


@dataclass(frozen=True, slots=True)
class Length:
    """One amount: so much is sure, so much more may be, and whether it goes on from there."""

    sure: float
    may: float
    open: bool


def lengths(values: Sequence[object]) -> tuple[Length | None, ...]:
    """A bar for each value; None for one that is no known quantity, and for all where nothing is more than none."""
    known = [value if isinstance(value, Quantity) and value.known else None for value in values]
    longest = max((_end(value) for value in known if value), default=0.0)
    if longest <= 0:
        return tuple(None for _ in known)
    room = 100 - ONWARDS if any(value and value.high is None for value in known) else 100.0
    return tuple(_length(value, room / longest) if value else None for value in known)


def _end(value: Quantity) -> float:
    return value.low if value.high is None else value.high


def _length(value: Quantity, scale: float) -> Length:
    may = 0.0 if value.high is None else (value.high - value.low) * scale
    return Length(round(value.low * scale, 2), round(may, 2), value.high is None)
