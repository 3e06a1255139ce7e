"""Places the names of lines beside their ends, so that no legend is needed.

In: endings (a point and a text) and the frame they are drawn in. Out: labels: right of the point where there is room,
spread apart; else above it, the strong ones first, and left out where they would lie on another.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from sitegen.core.chart import Frame
from sitegen.core.day import DayAxis
from sitegen.plot.picture import Ending, Label

__all__ = ["Area", "place", "text_width"]

_LINE = 15.0  # from one label to the next, in units of the drawing
_AWAY = 8.0
_CHARACTER = 0.52  # mean width of a character, in ems; measured on serif and sans faces, with some reserve


@dataclass(frozen=True, slots=True)
class Area:
    """The plot that labels are placed in: how high it is drawn, and the value at its top."""

    frame: Frame
    axis: DayAxis
    top: float
    height: float

    def x(self, day: float) -> float:
        """From the drawing's left edge."""
        return self.frame.x(self.axis, day)

    def y(self, value: float) -> float:
        """From the plot's upper edge."""
        return self.height * (1 - value / self.top)

    def width(self, text: str) -> float:
        """Of a label."""
        return text_width(text, self.frame.text)


@dataclass(frozen=True, slots=True)
class _Box:
    """A label with the place it takes: left, right and middle."""

    label: Label
    left: float
    right: float
    middle: float


def text_width(text: str, size: float) -> float:
    """About how wide a text is; drawings must not depend on the fonts of a machine."""
    return len(text) * size * _CHARACTER


def place(endings: Iterable[Ending], area: Area) -> tuple[Label, ...]:
    """Labels for as many endings as fit."""
    merged = _merged(endings)
    beside = [e for e in merged if not e.above and _fits_beside(e, area)]
    placed = _spread([_beside(e, area) for e in beside], area)
    rest = (e for e in merged if e not in beside)
    for ending in sorted(rest, key=lambda e: (not e.strong, -e.value)):
        tries = (_near(ending, area, side) for side in (-1, 1))
        free = (box for box in tries if not any(_meet(box, other) for other in placed))
        placed += [box for box in (next(free, None),) if box]
    return tuple(box.label for box in placed)


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


def _beside(ending: Ending, area: Area) -> _Box:
    left = area.x(ending.day) + _AWAY
    label = Label(ending.day, ending.value, ending.text, "left", _AWAY, 0.0)
    return _Box(label, left, left + area.width(ending.text), area.y(ending.value))


def _near(ending: Ending, area: Area, side: int) -> _Box:
    """Over the point (`side` -1) or under it: centred where that is wanted, else ending just before it."""
    x, y, width = area.x(ending.day), area.y(ending.value), area.width(ending.text)
    right = x + width / 2 if ending.above else x - _AWAY
    right = min(max(right, width), area.frame.width)
    middle = min(max(y + side * _LINE, _LINE / 2), area.height - _LINE / 2)
    label = Label(ending.day, ending.value, ending.text, "right", right - x, middle - y)
    return _Box(label, right - width, right, middle)


def _meet(one: _Box, other: _Box) -> bool:
    beside = one.right <= other.left or other.right <= one.left
    return not beside and abs(one.middle - other.middle) < _LINE - 1


def _spread(boxes: Sequence[_Box], area: Area) -> list[_Box]:
    """Labels that stand in one column moved apart, each as near to its point as the others allow."""
    columns: list[list[_Box]] = []
    for box in sorted(boxes, key=lambda b: b.left):
        if columns and box.left < max(other.right for other in columns[-1]):
            columns[-1].append(box)
        else:
            columns.append([box])
    return [box for column in columns for box in _stacked(column, area)]


def _stacked(column: Sequence[_Box], area: Area) -> list[_Box]:
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


def _moved(box: _Box, middle: float) -> _Box:
    return replace(box, middle=middle, label=replace(box.label, dy=box.label.dy + middle - box.middle))
