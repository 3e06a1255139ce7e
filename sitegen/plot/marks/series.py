"""How a quantity with flags becomes marks, and days with gaps become lines.

In: days and quantities. Out: rows for a chart's layers. One rule for every chart: measured is filled;
about, by eye and anything without an upper bound is open; a range is a bar; a gap of more than three weeks
is dashed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.plot.drawing.picture import Bar, Mark, Span, Vertex
from sitegen.plot.drawing.scale import Scale

Say = Callable[[Quantity], str]

LONGEST_GAP = 21  # days; a common reading of "nobody looked for three weeks", no source
OPEN = "var(--paper)"  # hides what it lies on, as a hollow symbol should
UNWEIGHED = "diamond"
SHAPES = ("circle", "square", "triangle-up", "triangle-down")  # by tub, or by part
RIM = 4.0  # from the middle of a symbol to its rim, in units of the drawing
_ARROW = 0.12  # how far an open end reaches, as a share of the scale


@dataclass(frozen=True, slots=True)
class Point:
    """One recorded quantity at a day, with what is said of it on hover."""

    day: Day
    value: Quantity
    say: str
    shape: str = SHAPES[0]
    shift: float = 0.0

    @property
    def filled(self) -> bool:
        """Whether it was measured: one number, neither about nor by eye."""
        return self.value.exact


@dataclass(frozen=True, slots=True)
class Line:
    """Days and values to be joined, under a key that no other line of the chart has."""

    key: str
    corners: tuple[tuple[float, float], ...]

    def pieces(self, *, gaps: bool) -> tuple[Vertex, ...]:
        """Its corners, cut into the stretches without a gap, or into the gaps alone."""
        joins = [(a, b) for a, b in pairwise(self.corners) if (b[0] - a[0] > LONGEST_GAP) is gaps]
        vertices: list[Vertex] = []
        piece = -1
        for start, end in joins:
            if not vertices or gaps or (vertices[-1].day, vertices[-1].value) != start:
                piece += 1
                vertices.append(Vertex(f"{self.key} {piece}", *start))
            vertices.append(Vertex(f"{self.key} {piece}", *end))
        return tuple(vertices)


def shape_of(key: str, keys: Sequence[str]) -> str:
    """The symbol of a tub or part among several."""
    return SHAPES[keys.index(key) % len(SHAPES)] if key in keys else SHAPES[0]


def solid(lines: Iterable[Line]) -> tuple[Vertex, ...]:
    """The stretches in which somebody looked often enough to join the readings."""
    return tuple(vertex for line in lines for vertex in line.pieces(gaps=False))


def dotted(lines: Iterable[Line]) -> tuple[Vertex, ...]:
    """The gaps, which are drawn dashed: nobody knows how the line ran."""
    return tuple(vertex for line in lines for vertex in line.pieces(gaps=True))


def marks(points: Iterable[Point], scale: Scale, colour: str) -> tuple[Mark, ...]:
    """A symbol for each point whose size is known; ranges without a flag have their bar alone."""
    return tuple(
        Mark(
            point.day.middle,
            scale.of(point.value.middle),
            point.shape,
            colour if point.filled else OPEN,
            point.say,
            point.shift,
        )
        for point in points
        if point.value.known and not _is_range(point.value)
    )


def ranges(points: Iterable[Point], scale: Scale) -> tuple[Bar, ...]:
    """A bar from the lower to the upper bound of each range."""
    return tuple(
        Bar(p.day.middle, scale.of(p.value.low), scale.of(p.value.high), p.shift, p.say)
        for p in points
        if p.value.high is not None and _is_range(p.value)
    )


def bars(points: Iterable[Point], scale: Scale) -> tuple[Bar, ...]:
    """A bar from 0 to what each point was at least; its symbol tells it in words."""
    return tuple(
        Bar(
            p.day.middle,
            0.0,
            scale.of(p.value.low),
            p.shift,
            trim=0.0 if p.filled or _is_range(p.value) else RIM,
        )
        for p in points
        if p.value.known
    )


def arrows(points: Iterable[Point], scale: Scale) -> tuple[Bar, ...]:
    """An arrow upwards from each point that has a lower bound alone."""
    return tuple(
        Bar(
            p.day.middle, scale.of(p.value.low), scale.of(p.value.low) + _ARROW * scale.top, p.shift, trim=RIM
        )
        for p in points
        if p.value.high is None and p.value.known
    )


def day_spans(points: Iterable[Point], scale: Scale) -> tuple[Span, ...]:
    """A lying bar over the days between which a point belongs."""
    return tuple(
        Span(p.day.first, p.day.last, scale.of(p.value.middle))
        for p in points
        if not p.day.single and p.value.known
    )


def unmeasured(points: Iterable[Point]) -> tuple[Mark, ...]:
    """An open diamond on the ground for each point with a part whose size nobody measured."""
    return tuple(
        Mark(p.day.middle, 0.0, UNWEIGHED, OPEN, p.say, p.shift) for p in points if p.value.unweighed
    )


def _is_range(value: Quantity) -> bool:
    return value.high is not None and value.high > value.low
