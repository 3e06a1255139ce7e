"""A row of dots for each arm, a dot for each plant, all on one scale from 0.

In: rows with their values. Out: `DotPlot`: places along the width per mille, and heights in units of the drawing. What is
only known as "at least" has an open end, an interval is a bar. A template draws it: nothing here knows words, colours or
markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Units
from sitegen.render.drawings.scale import FULL, Scale, scale_to

DOT = 40.0  # per mille that a dot takes at 320 px, with the paper around it
OPEN = 65.0  # per mille of the line onwards from what is only known as "at least"
SHAPES = 4  # arms that differ by the shape of their marks; a fifth has that of the first
_TOP, _LANE, _MEAN = 9, 14, 15  # to the uppermost lane, from lane to lane, from the lowest lane to the mean
_BELOW = 9


@dataclass(frozen=True, slots=True)
class Point:
    """One value with its name: a plant and what it gave."""

    value: Quantity
    name: str = ""


@dataclass(frozen=True, slots=True)
class DotRow:
    """One arm: its label, its values and their mean.

    `note` stands beside the label, `address` is what the label leads to, `shape` counts from 0: rows of one arm have
    one shape.
    """

    label: str
    points: tuple[Point, ...]
    mean: Quantity | None = None
    note: str = ""
    address: str = ""
    shape: int = 0


@dataclass(frozen=True, slots=True)
class Mark:
    """A value on the scale: at one place, or from `at` to `until`; `onwards` is the end of the line of an open one."""

    at: float
    y: int
    name: str = ""
    until: float | None = None
    onwards: float | None = None
    lane: int = 0

    @property
    def begins(self) -> float:
        """The first place that it takes."""
        return self.at - DOT / 2

    @property
    def ends(self) -> float:
        """The last place that it takes."""
        last = self.at if self.until is None else self.until
        return max(last + DOT / 2, last if self.onwards is None else self.onwards)


@dataclass(frozen=True, slots=True)
class RowMarks:
    """A row as it is drawn, `height` high."""

    row: DotRow
    shape: int
    dots: tuple[Mark, ...]
    mean: Mark | None
    height: int


@dataclass(frozen=True, slots=True)
class DotPlot:
    """All rows on one scale."""

    rows: tuple[RowMarks, ...]
    scale: Scale

    @property
    def drawn(self) -> frozenset[str]:
        """What a key has to explain: `open`, `interval`, `mean`."""
        marks = [mark for row in self.rows for mark in (*row.dots, row.mean) if mark is not None]
        found = {
            "open": any(mark.onwards is not None for mark in marks),
            "interval": any(mark.until is not None for mark in marks),
            "mean": any(row.mean is not None for row in self.rows),
        }
        return frozenset(name for name, there in found.items() if there)


def dot_plot(rows: Sequence[DotRow], units: Units) -> DotPlot | None:
    """The rows on the scale that holds them all; None where there is no value."""
    values = [value for row in rows for value in _values(row)]
    if not values:
        return None
    # An open end has to have room before the end of the scale.
    largest = max(v.low / (1 - OPEN / FULL) if v.high is None else v.high for v in values)
    scale = scale_to(largest, values[0].dimension, units)
    return DotPlot(tuple(_row(row, scale) for row in rows), scale)


def _values(row: DotRow) -> Iterator[Quantity]:
    yield from (point.value for point in row.points)
    if row.mean is not None:
        yield row.mean


def _row(row: DotRow, scale: Scale) -> RowMarks:
    marks = _in_lanes(_mark(point, scale) for point in row.points)
    lanes = 1 + max((mark.lane for mark in marks), default=0)
    lowest = _TOP + _LANE * (lanes - 1)
    dots = tuple(_at_height(mark, lowest - _LANE * mark.lane) for mark in marks)
    mean = None
    if row.mean is not None:
        mean = _at_height(_mark(Point(row.mean), scale), lowest + _MEAN)
    height = (lowest if mean is None else mean.y) + _BELOW
    return RowMarks(row, row.shape % SHAPES, dots, mean, height)


def _mark(point: Point, scale: Scale) -> Mark:
    value = point.value
    at = scale.place(value.low)
    if value.high is None:
        return Mark(at, 0, point.name, onwards=min(FULL, round(at + OPEN, 1)))
    until = scale.place(value.high)
    return Mark(at, 0, point.name, until=until if until > at else None)


def _at_height(mark: Mark, y: int) -> Mark:
    return replace(mark, y=y)


def _in_lanes(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """From left to right, each in the lowest lane in which it touches none before it."""
    ends: list[float] = []
    placed: list[Mark] = []
    for mark in sorted(marks, key=lambda each: (each.at, each.ends)):
        lane = next((i for i, end in enumerate(ends) if mark.begins >= end), len(ends))
        ends[lane : lane + 1] = [mark.ends]
        placed.append(replace(mark, lane=lane))
    return tuple(placed)
