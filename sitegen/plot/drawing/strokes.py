"""What labels have to keep off: the marks of a drawing as strokes.

In: the rows of a chart's layers, and the plot they are drawn in. Out: a `Stroke` for each symbol, bar, level bar and
piece of a line. Tinted areas are grounds that text may stand on, and so is the grid.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple, Protocol

from sitegen.plot.chart_data import Bar, Row, Span, Symbol, Vertex

_SYMBOL = 5.0  # half a symbol with its rim, in units of the drawing
_LINE = 1.5  # half a line
_BAR = 3.0  # half the broadest bar
_COLUMN = 32.0  # width of a column: about half a label
_ARROWS = ("arrows", "open-ends")  # layers whose bars end in a head


class _Plot(Protocol):
    def x(self, day: float) -> float:
        """From the drawing's left edge."""

    def y(self, value: float) -> float:
        """From the plot's upper edge."""


class Stroke(NamedTuple):
    """A straight stroke from one end to the other, and half its width, in units of the drawing."""

    x: float
    y: float
    x2: float
    y2: float
    half: float = 0.0

    def crosses(self, left: float, right: float, top: float, bottom: float) -> bool:
        """Whether any of it lies in a box: the stroke's line is clipped at the sides of the box, grown by half its width.

        References
        ----------
        Liang and Barsky (1984), A new concept and method for line clipping, ACM Transactions on Graphics 3(1).

        """
        across, down = self.x2 - self.x, self.y2 - self.y
        begin, end = 0.0, 1.0
        for step, room in (
            (-across, self.x - left + self.half),
            (across, right + self.half - self.x),
            (-down, self.y - top + self.half),
            (down, bottom + self.half - self.y),
        ):
            if step == 0:
                if room <= 0:
                    return False
            elif step < 0:
                begin = max(begin, room / step)
            else:
                end = min(end, room / step)
        return begin < end


class Marks:
    """Strokes by the columns of the drawing that they pass through: a label asks for those of its own columns."""

    def __init__(self, strokes: Iterable[Stroke]) -> None:
        self._columns: dict[int, list[Stroke]] = {}
        for stroke in strokes:
            left, right = sorted((stroke.x, stroke.x2))
            for column in _columns(left - stroke.half, right + stroke.half):
                self._columns.setdefault(column, []).append(stroke)

    def cross(self, left: float, right: float, top: float, bottom: float) -> bool:
        """Whether any of them lies in a box."""
        return any(
            stroke.crosses(left, right, top, bottom)
            for column in _columns(left, right)
            for stroke in self._columns.get(column, ())
        )


def _columns(left: float, right: float) -> range:
    return range(int(left // _COLUMN), int(right // _COLUMN) + 1)


def strokes(layers: Mapping[str, Sequence[Row]], plot: _Plot) -> tuple[Stroke, ...]:
    """The strokes of all layers, by the name of the layer."""
    return tuple(stroke for name, rows in layers.items() for stroke in _strokes(name, rows, plot))


def _strokes(name: str, rows: Sequence[Row], plot: _Plot) -> Iterator[Stroke]:
    for row in rows:
        if isinstance(row, Symbol):
            yield _dot(plot.x(row.day) + row.shift, plot.y(row.value))
        elif isinstance(row, Bar):
            x, top = plot.x(row.day) + row.shift, plot.y(row.value)
            yield Stroke(x, plot.y(row.low), x, top, _BAR if row.title else _LINE)
            if name.endswith(_ARROWS):
                yield _dot(x, top)
        elif isinstance(row, Span):
            half = row.thickness / 2 or (_BAR if row.title else _LINE)
            yield Stroke(plot.x(row.day), plot.y(row.value), plot.x(row.until), plot.y(row.value), half)
    corners = [row for row in rows if isinstance(row, Vertex)]
    for one, other in pairwise(corners):
        if one.segment == other.segment:
            ends = plot.x(one.day), plot.y(one.value), plot.x(other.day), plot.y(other.value)
            yield Stroke(*ends, _LINE)


def _dot(x: float, y: float) -> Stroke:
    return Stroke(x, y, x, y, _SYMBOL)
