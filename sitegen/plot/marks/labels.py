"""Places the names of lines beside their ends, so that no legend is needed.

In: endings (a point and a text) and the frame they are drawn in. Out: labels: right of the point where
there is room, spread apart; else above it, the strong ones first, and left out where they would lie on
another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import fmean

from sitegen.core.site.chart import Frame
from sitegen.core.values.day import DayAxis
from sitegen.plot.drawing.picture import Bar, Ending, Label, Mark, Row, Vertex

_LINE = 15.0  # from one label to the next, in units of the drawing
_AWAY = 8.0
_ROOM = 19.0  # over a line, for a label that does not touch it
_FAR = 16.0  # a label further from its own point would seem to name another
_SLIDE = 12.0
_TRIES = (-1, 1, -2, 2, 3)  # lines under a point at which a label is tried
_CHARACTER = 0.52  # mean width of a character, in ems; measured on serif and sans faces, with some reserve


@dataclass(frozen=True, slots=True)
class Area:
    """The plot that labels are placed in: how high it is drawn, and the values at its top and bottom."""

    frame: Frame
    axis: DayAxis
    top: float
    height: float
    bottom: float = 0.0

    def x(self, day: float) -> float:
        """From the drawing's left edge."""
        return self.frame.x(self.axis, day)

    def y(self, value: float) -> float:
        """From the plot's upper edge."""
        return self.height * (self.top - value) / (self.top - self.bottom)

    def width(self, text: str) -> float:
        """Of a label."""
        return text_width(text, self.frame.text)


@dataclass(frozen=True, slots=True)
class Box:
    """A place that is taken, and the label that takes it: left, right, middle, and half its height."""

    label: Label
    left: float
    right: float
    middle: float
    half: float = 7.0
    strong: bool = False


def text_width(text: str, size: float) -> float:
    """About how wide a text is; drawings must not depend on the fonts of a machine."""
    return len(text) * size * _CHARACTER


def kept_inside(fixed: Iterable[Label], area: Area) -> tuple[Label, ...]:
    """Labels with a place of their own: one that would run over the right edge ends at its point instead."""
    return tuple(
        replace(label, align="right", dx=-label.dx)
        if label.align == "left" and area.x(label.day) + label.dx + area.width(label.text) > area.frame.width
        else label
        for label in fixed
    )


def place(
    endings: Iterable[Ending], area: Area, obstacles: Sequence[Box] = (), fixed: Sequence[Label] = ()
) -> tuple[Label, ...]:
    """Labels for as many endings as fit, clear of each other and of the fixed ones, if possible of the obstacles."""
    taken = [_boxed(label, area) for label in fixed]
    merged = sorted(_merged(endings), key=lambda e: (not e.strong, -e.value))
    beside = [e for e in merged if not (e.above or e.before) and _fits_beside(e, area)]
    placed = _near_their_points([_beside(e, area) for e in beside], area)
    for ending in (e for e in merged if e not in beside):
        tries = [box for wording in _wordings(ending) for box in _tries(wording, area)]
        free = [box for box in tries if not any(_meet(box, other) for other in (*placed, *taken))]
        placed += _clearest(free, obstacles)
    return tuple(box.label for box in placed)


def _clearest(free: Sequence[Box], obstacles: Sequence[Box]) -> list[Box]:
    """The first place that meets no obstacle, else the first that meets the fewest; none where none is free."""
    clear = next((box for box in free if not any(_meet(box, other) for other in obstacles)), None)
    if clear is not None or not free:
        return [clear] if clear else []
    return [min(free, key=lambda box: sum(_meet(box, other) for other in obstacles))]


def _boxed(label: Label, area: Area) -> Box:
    """The place that a fixed label takes."""
    x, width = area.x(label.day) + label.dx, area.width(label.text)
    left = {"left": x, "center": x - width / 2, "right": x - width}[label.align]
    return Box(label, left, left + width, area.y(label.value) + label.dy)


def _near_their_points(boxes: Sequence[Box], area: Area) -> list[Box]:
    """Labels beside their points, the first ones first; one that would drive another too far away is left out."""
    placed: list[Box] = []
    for box in _from_both_ends(boxes):
        tried = _spread([*placed, box], area)
        if all(abs(one.label.dy) <= _FAR for one in tried):
            placed = [
                replace(one, middle=one.middle - one.label.dy, label=replace(one.label, dy=0.0))
                for one in tried
            ]
    return _spread(placed, area)


def _from_both_ends(boxes: Sequence[Box]) -> list[Box]:
    """Strong labels, then the highest, the lowest, the second highest, and so on inwards."""
    strong = [box for box in boxes if box.strong]
    weak = [box for box in boxes if not box.strong]
    inwards = [weak[i // 2] if i % 2 == 0 else weak[-1 - i // 2] for i in range(len(weak))]
    return [*strong, *inwards]


def _merged(endings: Iterable[Ending]) -> list[Ending]:
    """Endings at one point share a label."""
    found: dict[tuple[float, float, bool, bool], Ending] = {}
    for ending in endings:
        key = (ending.day, ending.value, ending.strong, ending.above)
        same = found.get(key)
        found[key] = replace(ending, text=f"{same.text}, {ending.text}") if same else ending
    return list(found.values())


def _fits_beside(ending: Ending, area: Area) -> bool:
    return area.x(ending.day) + _AWAY + area.width(ending.text) <= area.frame.width


def _beside(ending: Ending, area: Area) -> Box:
    left = area.x(ending.day) + _AWAY
    label = Label(ending.day, ending.value, ending.text, "left", _AWAY, 0.0)
    return Box(label, left, left + area.width(ending.text), area.y(ending.value), strong=ending.strong)


def _wordings(ending: Ending) -> list[Ending]:
    return [ending, replace(ending, text=ending.brief)] if ending.brief else [ending]


def _tries(ending: Ending, area: Area) -> list[Box]:
    """Where a label may stand, the best place first."""
    return _along(ending, area) + [_near(ending, area, lines) for lines in _TRIES]


def _along(ending: Ending, area: Area) -> list[Box]:
    """Over and under a level line, from its end backwards; first under one that has no room over it."""
    since = ending.day if ending.since is None else ending.since
    room = area.x(ending.day) - area.x(since) - area.width(ending.text) - 2 * _AWAY
    back = [_SLIDE * step for step in range(int(max(room, 0) / _SLIDE) + 1)]
    sides = (-1, 1) if area.y(ending.value) >= _ROOM else (1, -1)
    return [_near(ending, area, lines, by) for lines in sides for by in back]


def _near(ending: Ending, area: Area, lines: int, back: float = 0.0) -> Box:
    """So many lines under the point (over it: below 0): centred where that is wanted, else ending just before it."""
    x, y, width = area.x(ending.day), area.y(ending.value), area.width(ending.text)
    right = x + width / 2 if ending.above else x - _AWAY - back
    right = min(max(right, width), area.frame.width)
    middle = min(max(y + lines * _LINE, _LINE / 2), area.height - _LINE / 2)
    label = Label(ending.day, ending.value, ending.text, "right", right - x, middle - y)
    return Box(label, right - width, right, middle)


def _meet(one: Box, other: Box) -> bool:
    beside = one.right <= other.left or other.right <= one.left
    return not beside and abs(one.middle - other.middle) < one.half + other.half


def _spread(boxes: Sequence[Box], area: Area) -> list[Box]:
    """Labels that stand in one column moved apart, each as near to its point as the others allow."""
    columns: list[list[Box]] = []
    for box in sorted(boxes, key=lambda b: b.left):
        if columns and box.left < max(other.right for other in columns[-1]):
            columns[-1].append(box)
        else:
            columns.append([box])
    return [box for column in columns for box in _stacked(column, area)]


def _stacked(column: Sequence[Box], area: Area) -> list[Box]:
    """One column: where its labels would overlap, they share out their distances (isotonic regression)."""
    ordered = sorted(column, key=lambda b: (b.middle, b.label.text))
    wanted = [box.middle - index * _LINE for index, box in enumerate(ordered)]
    ceiling, floor = _LINE / 2, area.height - _LINE / 2 - (len(ordered) - 1) * _LINE
    places = [max(ceiling, min(place, floor)) for place in _rising(wanted)]
    return [
        _moved(box, place + index * _LINE)
        for index, (box, place) in enumerate(zip(ordered, places, strict=True))
    ]


def _rising(values: Sequence[float]) -> list[float]:
    """The never-falling values nearest to those given, by pooling neighbours that are out of order."""
    pools: list[list[float]] = []
    for value in values:
        pools.append([value])
        while len(pools) > 1 and fmean(pools[-2]) > fmean(pools[-1]):
            last = pools.pop()
            pools[-1] += last
    return [fmean(pool) for pool in pools for _ in pool]


def _moved(box: Box, middle: float) -> Box:
    return replace(box, middle=middle, label=replace(box.label, dy=box.label.dy + middle - box.middle))


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
