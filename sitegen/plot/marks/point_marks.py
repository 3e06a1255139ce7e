"""Items grouped by a key; points and the lines that join them.

In: recorded quantities with their days, and a scale. Out: rows for the layers of a chart. A day that is not one certain
day has no symbol: a level bar stands for it, from the first day that it can be to the last.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.plot.chart_data import Area, Bar, Layers, Span, Symbol, Vertex
from sitegen.plot.chart_type import Layer
from sitegen.plot.scale import Scale

Key = TypeVar("Key", bound=Hashable)
Item = TypeVar("Item")


def grouped(items: Iterable[Item], key: Callable[[Item], Key]) -> dict[Key, list[Item]]:
    """The items of each key, in the order in which keys and items come."""
    found: dict[Key, list[Item]] = {}
    for item in items:
        found.setdefault(key(item), []).append(item)
    return found


LONGEST_GAP = 21  # days; a common reading of "nobody looked for three weeks", no source
OPEN = "var(--paper)"  # hides what it lies on, as a hollow symbol should
UNWEIGHED = "diamond"
CROSS = "M-1,-1L1,1M-1,1L1,-1"
SHAPES = ("circle", "square", "triangle-up", "triangle-down")  # by tub, or by part
RIM = 4.0  # from the middle of a symbol to its rim, in units of the drawing
_ARROW = 0.12  # how far an open end reaches, as a share of the scale


def day_layers(colour: str, prefix: str = "") -> tuple[Layer, ...]:
    """The layers of points whose day is uncertain: boxes, level bars, broken bars where the size is uncertain too."""
    return (
        Layer("area", f"{prefix}boxes", colour, opacity=0.3),
        Layer("span", f"{prefix}spans", colour, width=5, opacity=0.6),
        Layer("span", f"{prefix}open-spans", colour, width=5, opacity=0.6, dash=(3, 3)),
    )


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
class Corner:
    """A value in a line, at a day: from the first day that it can be to the last."""

    begin: float
    end: float
    value: float

    @classmethod
    def on(cls, day: Day, value: float) -> Corner:
        """A value at a day as recorded."""
        return cls(*day.reach, value)


@dataclass(frozen=True, slots=True)
class Line:
    """Days and values to be joined, under a key that no other line of the chart has."""

    key: str
    corners: tuple[Corner, ...]

    def segments(self, *, gaps: bool) -> tuple[Vertex, ...]:
        """Its corners, cut into the segments without a gap, or into the gaps alone.

        A line ends where an uncertain day begins, goes on where it ends, and joins nothing that may be the other way
        round.
        """
        vertices: list[Vertex] = []
        number = -1
        for one, other in pairwise(self.corners):
            apart = other.begin - one.end
            if apart < 0 or (apart > LONGEST_GAP) is not gaps:
                continue
            start = (one.end, one.value)
            if not vertices or gaps or (vertices[-1].day, vertices[-1].value) != start:
                number += 1
                vertices.append(Vertex(f"{self.key} {number}", *start))
            vertices.append(Vertex(f"{self.key} {number}", other.begin, other.value))
        return tuple(vertices)


def shape_of(key: str, keys: Sequence[str]) -> str:
    """The symbol of a tub or part among several."""
    return SHAPES[keys.index(key) % len(SHAPES)] if key in keys else SHAPES[0]


def lines(of: Iterable[Line], *, gaps: bool = False) -> tuple[Vertex, ...]:
    """Lines between readings that are close enough to be joined, or the dotted lines over the gaps."""
    return tuple(vertex for line in of for vertex in line.segments(gaps=gaps))


def layers(points: Iterable[Point], scale: Scale, colour: str) -> Layers:
    """Symbols, bars of ranges and arrows of points that have a lower bound alone; level bars for uncertain days."""
    points = tuple(points)
    certain = [point for point in points if point.day.exact]
    return {
        "points": (*_symbols(certain, scale, colour), *_unmeasured(certain)),
        "ranges": tuple(
            Bar(p.day.first, scale.of(p.value.low), scale.upper(p.value), p.shift, p.title)
            for p in certain
            if p.range
        ),
        "arrows": tuple(arrow for point in points for arrow in _arrows(point, scale)),
        **_over_days([point for point in points if not point.day.exact], scale),
    }


def _symbols(points: Iterable[Point], scale: Scale, colour: str) -> tuple[Symbol, ...]:
    """A symbol for each point whose size is known; ranges without a flag have their bar alone."""
    return tuple(
        Symbol(
            point.day.first,
            scale.of(point.value.middle),
            point.shape,
            colour if point.value.exact else OPEN,
            point.title,
            point.shift,
        )
        for point in points
        if point.value.known and not point.range
    )


def _unmeasured(points: Iterable[Point]) -> tuple[Symbol, ...]:
    """An open diamond on the ground for each point with a part whose size nobody measured."""
    return tuple(
        Symbol(p.day.first, 0.0, UNWEIGHED, OPEN, p.title, p.shift) for p in points if p.value.unweighed
    )


def _arrows(point: Point, scale: Scale) -> Iterator[Bar]:
    """Upwards from a lower bound: at its day, or at both ends of the days that it can be."""
    if point.value.known and point.value.high is None:
        low = scale.of(point.value.low)
        for day in dict.fromkeys(point.day.reach):
            yield Bar(day, low, low + _ARROW * scale.top, point.shift, trim=RIM)


def _over_days(points: Sequence[Point], scale: Scale) -> Layers:
    """Points of uncertain days: a range is a box, any other size a level bar."""
    sized = [point for point in points if point.value.known]
    return {
        "boxes": tuple(
            Area(*p.day.reach, scale.of(p.value.low), scale.upper(p.value), p.title) for p in sized if p.range
        ),
        "spans": tuple(
            Span(*p.day.reach, scale.of(p.value.low), p.title) for p in sized if p.value.exact and not p.range
        ),
        "open-spans": (
            *(
                Span(*p.day.reach, scale.of(p.value.low), p.title)
                for p in sized
                if not p.range and not p.value.exact
            ),
            *(Span(*p.day.reach, 0.0, p.title) for p in points if p.value.unweighed),
        ),
    }


def bars(points: Iterable[Point], scale: Scale) -> Layers:
    """A bar from 0 to the lower bound of each point; of an uncertain day a box as broad as that may be."""
    known = [point for point in points if point.value.known]
    return {
        "bars": tuple(
            Bar(
                p.day.first,
                0.0,
                scale.of(p.value.low),
                p.shift,
                trim=0.0 if p.value.exact or p.range else RIM,
            )
            for p in known
            if p.day.exact
        ),
        "bar-boxes": tuple(Area(*p.day.reach, 0.0, scale.of(p.value.low)) for p in known if not p.day.exact),
    }
