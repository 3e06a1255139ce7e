"""Items grouped by a key.

In: items and a function that gives their key. Out: the items of each key.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Span, Symbol, Vertex
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


_OPEN_END = 0.14  # of the scale


@dataclass(frozen=True, slots=True)
class RunningTotal:
    """One running total: sums at days, drawn on to `until`; `short` is a short name."""

    key: str
    name: str
    sums: tuple[tuple[float, Quantity], ...]
    until: float
    short: str = ""

    @property
    def last(self) -> Quantity:
        """The total at its end."""
        return self.sums[-1][1]


def sums_by_day(
    amounts: Iterable[tuple[float, Quantity]], dimension: Dimension
) -> tuple[tuple[float, Quantity], ...]:
    """The sum so far at the end of each day that something was added on."""
    by_day = grouped(amounts, lambda each: each[0])
    so_far: list[tuple[float, Quantity]] = []
    for day in sorted(by_day):
        before = [so_far[-1][1]] if so_far else []
        so_far.append((day, total([*before, *(amount for _, amount in by_day[day])], dimension)))
    return tuple(so_far)


def total_layers(totals: Sequence[RunningTotal], scale: Scale) -> Layers:
    """Lower and upper lines, and an arrow at the end of each total that nothing bounds from above."""
    return {
        "steps": _lower_steps(totals[:1], scale),
        "more-steps": _lower_steps(totals[1:], scale),
        "upper": _upper_steps(totals, scale),
        "open-ends": tuple(
            Bar(each.until, low, low + _OPEN_END * scale.top, trim=RIM)
            for each in totals
            if each.last.high is None
            for low in (scale.of(each.last.low),)
        ),
    }


def _lower_steps(totals: Iterable[RunningTotal], scale: Scale) -> tuple[Vertex, ...]:
    """From 0, a step up on each day, level to the end."""
    return tuple(
        Vertex(each.key, *corner)
        for each in totals
        for corner in _staircase([(day, scale.of(so_far.low)) for day, so_far in each.sums], each.until)
    )


def _upper_steps(totals: Iterable[RunningTotal], scale: Scale) -> tuple[Vertex, ...]:
    """As far as there is an upper bound that differs from the lower one."""
    found: list[Vertex] = []
    for each in totals:
        bounded = [(day, scale.of(q.high)) for day, q in each.sums if q.high is not None]
        if any(q.high is not None and q.high > q.low for _, q in each.sums):
            until = each.until if len(bounded) == len(each.sums) else bounded[-1][0]
            found += [Vertex(each.key, *corner) for corner in _staircase(bounded, until)]
    return tuple(found)


def _staircase(corners: list[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Corners of a line that rises upright on each day."""
    height, stairs = 0.0, []
    for day, value in corners:
        stairs += [(day, height), (day, value)]
        height = value
    return [*stairs, (until, height)] if corners and until > corners[-1][0] else stairs


def headroom(totals: Iterable[RunningTotal]) -> float:
    """The share of the largest total that is needed over it: for a name, or for an arrow with its head."""
    return 0.22 if any(each.last.high is None for each in totals) else 0.12


def total_names(totals: Sequence[RunningTotal], scale: Scale) -> tuple[PointLabel, ...]:
    """The name of each total, at its end or along its last level."""
    return tuple(
        PointLabel(
            each.until,
            scale.upper(each.last),
            each.name,
            strong=True,
            level_since=next(d for d, q in each.sums if scale.upper(q) == scale.upper(each.last)),
            short=each.short,
        )
        for each in totals
    )
