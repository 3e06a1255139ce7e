"""Values side by side in the order of time, on one upright scale from 0.

In: columns with their values. Out: `ColumnPlot`: places across per mille, heights per mille of the drawing from its foot.
What is only known as "at least" has an open end, an interval is a bar.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Units
from sitegen.render.drawings.dots import SHAPES
from sitegen.render.drawings.scale import FULL, Scale, scale_to

OPEN_UP = 90.0  # per mille of the line onwards from what is only known as "at least"
_SHORT = 40.0  # per mille: an interval no longer than its own mark is drawn as the mark
_APART = 0.3  # of a column, between the outermost of its values


@dataclass(frozen=True, slots=True)
class Value:
    """One value: its name, and the shape of its mark, counted from 0."""

    value: Quantity
    name: str = ""
    shape: int = 0


@dataclass(frozen=True, slots=True)
class Column:
    """The values of one moment; `label` stands below."""

    label: str
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Upright:
    """A value as it is drawn: from `low` up to `high` where it is an interval, on to `onwards` where it is open."""

    at: float
    low: float
    name: str
    shape: int
    high: float | None = None
    onwards: float | None = None


@dataclass(frozen=True, slots=True)
class ColumnPlot:
    """All columns on one scale. `labels` are those with room, each with its place."""

    marks: tuple[Upright, ...]
    labels: tuple[tuple[str, float], ...]
    scale: Scale

    @property
    def drawn(self) -> frozenset[str]:
        """What a key has to explain: `open`, `interval`."""
        found = {
            "open": any(mark.onwards is not None for mark in self.marks),
            "interval": any(mark.high is not None for mark in self.marks),
        }
        return frozenset(name for name, there in found.items() if there)


def upright_scale(columns: Sequence[Column], units: Units) -> Scale | None:
    """The scale that holds every value, with room for open ends; None where there is no value."""
    values = [each.value for column in columns for each in column.values]
    if not values:
        return None
    largest = max(v.low / (1 - OPEN_UP / FULL) if v.high is None else v.high for v in values)
    return scale_to(largest, values[0].dimension, units)


def column_plot(columns: Sequence[Column], scale: Scale, most_labels: int) -> ColumnPlot:
    """The columns from left to right on a scale; of many, labels without room and repeated ones are left out."""
    width = FULL / max(1, len(columns))
    marks = [mark for i, column in enumerate(columns) for mark in _marks(column, i * width, width, scale)]
    every = -(-len(columns) // most_labels)
    named = [
        (column.label, round((i + 0.5) * width, 1)) for i, column in enumerate(columns) if i % every == 0
    ]
    if every > 1:
        named = [
            each for each, before in zip(named, [("", 0.0), *named], strict=False) if each[0] != before[0]
        ]
    return ColumnPlot(tuple(marks), tuple(named), scale)


def _marks(column: Column, begin: float, width: float, scale: Scale) -> list[Upright]:
    count = len(column.values)
    steps = [0.5 + _APART * (2 * i / (count - 1) - 1) / 2 if count > 1 else 0.5 for i in range(count)]
    return [
        _mark(each, round(begin + step * width, 1), scale)
        for each, step in zip(column.values, steps, strict=True)
    ]


def _mark(each: Value, at: float, scale: Scale) -> Upright:
    low, shape = scale.place(each.value.low), each.shape % SHAPES
    if each.value.high is None:
        return Upright(at, low, each.name, shape, onwards=min(FULL, round(low + OPEN_UP, 1)))
    high = scale.place(each.value.high)
    return Upright(at, low, each.name, shape, high=high if high - low > _SHORT else None)
