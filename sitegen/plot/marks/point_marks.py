"""How quantities with flags become marks, and days with gaps become lines.

In: days and quantities. Out: rows for a chart's layers. One rule for every chart: measured is filled;
about, by eye and anything without an upper bound is open; a range is a bar; a gap of more than three weeks
is dotted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.plot.chart_data import Bar, Layers, Span, Symbol, Vertex
from sitegen.plot.scale import Scale

LONGEST_GAP = 21  # days; a common reading of "nobody looked for three weeks", no source
OPEN = "var(--paper)"  # hides what it lies on, as a hollow symbol should
UNWEIGHED = "diamond"
CROSS = "M-1,-1L1,1M-1,1L1,-1"
SHAPES = ("circle", "square", "triangle-up", "triangle-down")  # by tub, or by part
RIM = 4.0  # from the middle of a symbol to its rim, in units of the drawing
_ARROW = 0.12  # how far an open end reaches, as a share of the scale


@dataclass(frozen=True, slots=True)
class Point:
    """One recorded quantity at a day, with the text shown on hover."""

    day: Day
    value: Quantity
    title: str
    shape: str = SHAPES[0]
    shift: float = 0.0

    @property
    def range(self) -> bool:
        """Whether it lies between two bounds."""
        return self.value.high is not None and self.value.high > self.value.low


@dataclass(frozen=True, slots=True)
class Line:
    """Days and values to be joined, under a key that no other line of the chart has."""

    key: str
    corners: tuple[tuple[float, float], ...]

    def segments(self, *, gaps: bool) -> tuple[Vertex, ...]:
        """Its corners, cut into the segments without a gap, or into the gaps alone."""
        joins = [(a, b) for a, b in pairwise(self.corners) if (b[0] - a[0] > LONGEST_GAP) is gaps]
        vertices: list[Vertex] = []
        number = -1
        for start, end in joins:
            if not vertices or gaps or (vertices[-1].day, vertices[-1].value) != start:
                number += 1
                vertices.append(Vertex(f"{self.key} {number}", *start))
            vertices.append(Vertex(f"{self.key} {number}", *end))
        return tuple(vertices)


def shape_of(key: str, keys: Sequence[str]) -> str:
    """The symbol of a tub or part among several."""
    return SHAPES[keys.index(key) % len(SHAPES)] if key in keys else SHAPES[0]


def lines(of: Iterable[Line], *, gaps: bool = False) -> tuple[Vertex, ...]:
    """Lines between readings that are close enough to be joined, or the dotted lines over the gaps."""
    return tuple(vertex for line in of for vertex in line.segments(gaps=gaps))


def layers(points: Iterable[Point], scale: Scale, colour: str) -> Layers:
    """Symbols, bars of ranges and arrows of points that have a lower bound alone."""
    points = tuple(points)
    return {
        "points": (*symbols(points, scale, colour), *unmeasured(points)),
        "ranges": tuple(
            Bar(p.day.middle, scale.of(p.value.low), scale.upper(p.value), p.shift, p.title)
            for p in points
            if p.range
        ),
        "arrows": tuple(
            Bar(p.day.middle, low, low + _ARROW * scale.top, p.shift, trim=RIM)
            for p in points
            if p.value.high is None and p.value.known
            for low in (scale.of(p.value.low),)
        ),
    }


def symbols(points: Iterable[Point], scale: Scale, colour: str) -> tuple[Symbol, ...]:
    """A symbol for each point whose size is known; ranges without a flag have their bar alone."""
    return tuple(
        Symbol(
            point.day.middle,
            scale.of(point.value.middle),
            point.shape,
            colour if point.value.exact else OPEN,
            point.title,
            point.shift,
        )
        for point in points
        if point.value.known and not point.range
    )


def unmeasured(points: Iterable[Point]) -> tuple[Symbol, ...]:
    """An open diamond on the ground for each point with a part whose size nobody measured."""
    return tuple(
        Symbol(p.day.middle, 0.0, UNWEIGHED, OPEN, p.title, p.shift) for p in points if p.value.unweighed
    )


def bars(points: Iterable[Point], scale: Scale) -> tuple[Bar, ...]:
    """A bar from 0 to the lower bound of each point."""
    return tuple(
        Bar(
            p.day.middle,
            0.0,
            scale.of(p.value.low),
            p.shift,
            trim=0.0 if p.value.exact or p.range else RIM,
        )
        for p in points
        if p.value.known
    )


def day_spans(points: Iterable[Point], scale: Scale) -> tuple[Span, ...]:
    """A level bar over the days between which a point belongs."""
    return tuple(
        Span(p.day.first, p.day.last, scale.of(p.value.middle))
        for p in points
        if not p.day.single and p.value.known
    )
