"""What a label should not lie on: the symbols and the level and upright stretches of a chart.

In: a chart's layers, and where they are drawn. Out: boxes. Sloping lines are left out: a label crosses them
legibly.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from sitegen.plot.labels import Area, Box
from sitegen.plot.picture import Bar, Label, Mark, Row, Vertex

__all__ = ["obstacles"]

_SYMBOL = 4.0  # half a symbol, in units of the drawing
_STROKE = 1.5  # half a line
_NO_LABEL = Label(0.0, 0.0, "")


def obstacles(layers: Iterable[Sequence[Row]], area: Area) -> tuple[Box, ...]:
    """A box for each symbol, bar, and level or upright stretch."""
    return tuple(box for rows in layers for box in _boxes(rows, area))


def _boxes(rows: Sequence[Row], area: Area) -> Iterator[Box]:
    for row in rows:
        if isinstance(row, Mark):
            yield _box(area, (row.day, row.day), (row.value, row.value), _SYMBOL)
        elif isinstance(row, Bar):
            yield _box(area, (row.day, row.day), (row.low, row.value), _STROKE)
    corners = [row for row in rows if isinstance(row, Vertex)]
    for one, other in pairwise(corners):
        if one.piece == other.piece and (one.day == other.day or one.value == other.value):
            yield _box(area, (one.day, other.day), (one.value, other.value), _STROKE)


def _box(area: Area, days: tuple[float, float], values: tuple[float, float], margin: float) -> Box:
    ends = sorted(area.y(value) for value in values)
    middle, half = sum(ends) / 2, (ends[1] - ends[0]) / 2
    return Box(_NO_LABEL, area.x(days[0]) - margin, area.x(days[1]) + margin, middle, half + margin)
