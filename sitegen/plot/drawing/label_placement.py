"""Labels of points and lines, so that no legend is needed.

In: point labels, the plot they are drawn in, the strokes that they keep off. Out: labels right of their point where there
is room, spread apart; else near it, the strong ones first; left out where they would lie on a mark or another label.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from statistics import fmean
from typing import NamedTuple

from sitegen.core.site.chart import Frame
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import Label, PointLabel, ValueAxis
from sitegen.plot.drawing.strokes import Marks, Stroke

_LINE = 15.0  # from one label to the next, in units of the drawing
_AWAY = 8.0
_ROOM = 19.0  # over a line, for a label that does not touch it
_FAR = 16.0  # a label further from its own point would seem to name another
_SLIDE = 12.0
_TRIES = (-1, 1, -2, 2)  # lines under a point at which a label is tried

# Widths of characters, in ems: those of DejaVu at the x-height that themes ask for, the broadest face that they name.
_NARROW, _LOWER, _DIGIT, _CAPITAL, _BROAD = 0.34, 0.54, 0.58, 0.68, 0.88
_THIN, _WIDE = frozenset("fijlrt.,:;'()[]-·\N{NO-BREAK SPACE} "), frozenset("mwMW%–—")


@dataclass(frozen=True, slots=True)
class Plot:
    """The plot that labels are placed in: its frame and axes, and how high it is drawn."""

    frame: Frame
    days: DayAxis
    values: ValueAxis
    height: float

    def x(self, day: float) -> float:
        """From the drawing's left edge."""
        return self.frame.x(self.days, day)

    def y(self, value: float) -> float:
        """From the plot's upper edge."""
        return self.height * (self.values.top - value) / (self.values.top - self.values.bottom)

    def width(self, text: str) -> float:
        """Of a label."""
        return text_width(text, self.frame.text)


class Box(NamedTuple):
    """A place that is taken, and the label that takes it: left, right, middle, and half its height."""

    label: Label
    left: float
    right: float
    middle: float
    half: float = 7.0
    strong: bool = False


def text_width(text: str, size: float) -> float:
    """About how wide a text is; drawings must not depend on the fonts of a machine."""
    return size * _ems(text)


@lru_cache(maxsize=1024)  # a label is tried at many places
def _ems(text: str) -> float:
    return sum(_em(character) for character in text)


def _em(character: str) -> float:
    if character in _THIN:
        return _NARROW
    if character in _WIDE:
        return _BROAD
    return _CAPITAL if character.isupper() else _DIGIT if character.isdigit() else _LOWER


def kept_inside(fixed: Iterable[Label], plot: Plot) -> tuple[Label, ...]:
    """Labels with a place of their own: one that would run over the right edge ends at its point instead."""
    return tuple(
        replace(label, align="right", dx=-label.dx)
        if label.align == "left" and plot.x(label.day) + label.dx + plot.width(label.text) > plot.frame.width
        else label
        for label in fixed
    )


def place(
    labels: Iterable[PointLabel], plot: Plot, marks: Sequence[Stroke] = (), fixed: Sequence[Label] = ()
) -> tuple[Label, ...]:
    """As many of the labels as fit, clear of each other, of the fixed ones and of the marks."""
    kept_off, taken = Marks(marks), [boxed(label, plot) for label in fixed]
    merged = sorted(_merged(labels), key=lambda e: (not e.strong, -e.value))
    wanted = [e for e in merged if not (e.above or e.before)]
    beside = {_beside(e, plot): e for e in wanted if _fits_beside(e, plot)}
    free = [box for box in beside if _clear(box, taken, kept_off)]
    placed = [box for box in _near_their_points(free, plot) if _clear(box, taken, kept_off)]
    done = [beside[box] for box in free]
    for label in (e for e in merged if e not in done):
        wordings = [label, replace(label, text=label.short)] if label.short else [label]
        fitting = [wording for wording in wordings if plot.width(wording.text) <= plot.frame.width]
        tries = (box for wording in fitting for box in _tries(wording, plot))
        found = next((box for box in tries if _clear(box, (*placed, *taken), kept_off)), None)
        placed += [found] if found else []
    return tuple(box.label for box in placed)


def _clear(box: Box, others: Iterable[Box], marks: Marks) -> bool:
    """Whether a label lies on no other and on no mark."""
    if any(_meet(box, other) for other in others):
        return False
    return not marks.cross(box.left, box.right, box.middle - box.half, box.middle + box.half)


def boxed(label: Label, plot: Plot) -> Box:
    """The place that a fixed label takes."""
    x, width = plot.x(label.day) + label.dx, plot.width(label.text)
    left = {"left": x, "center": x - width / 2, "right": x - width}[label.align]
    return Box(label, left, left + width, plot.y(label.value) + label.dy)


def _near_their_points(boxes: Sequence[Box], plot: Plot) -> list[Box]:
    """Labels beside their points, the first ones first; one that would drive another too far away is left out."""
    placed: list[Box] = []
    for box in _from_both_ends(boxes):
        tried = _spread([*placed, box], plot)
        if all(abs(one.label.dy) <= _FAR for one in tried):
            placed = [
                one._replace(middle=one.middle - one.label.dy, label=replace(one.label, dy=0.0))
                for one in tried
            ]
    return _spread(placed, plot)


def _from_both_ends(boxes: Sequence[Box]) -> list[Box]:
    """Strong labels, then the highest, the lowest, the second highest, and so on inwards."""
    strong = [box for box in boxes if box.strong]
    weak = [box for box in boxes if not box.strong]
    inwards = [weak[i // 2] if i % 2 == 0 else weak[-1 - i // 2] for i in range(len(weak))]
    return [*strong, *inwards]


def _merged(labels: Iterable[PointLabel]) -> list[PointLabel]:
    """Labels of one point are one."""
    found: dict[tuple[float, float, bool, bool], PointLabel] = {}
    for label in labels:
        key = (label.day, label.value, label.strong, label.above)
        same = found.get(key)
        found[key] = replace(label, text=f"{same.text}, {label.text}") if same else label
    return list(found.values())


def _fits_beside(label: PointLabel, plot: Plot) -> bool:
    return plot.x(label.day) + _AWAY + plot.width(label.text) <= plot.frame.width


def _beside(label: PointLabel, plot: Plot) -> Box:
    left = plot.x(label.day) + _AWAY
    placed = Label(label.day, label.value, label.text, "left", _AWAY, 0.0)
    return Box(placed, left, left + plot.width(label.text), plot.y(label.value), strong=label.strong)


def _tries(label: PointLabel, plot: Plot) -> Iterator[Box]:
    """The possible positions of a label, the best one first: along its line, before its point, over it, after it."""
    yield from _along(label, plot)
    for tried in (label, replace(label, above=True)):
        yield from (_near(tried, plot, lines) for lines in _TRIES)
    if not label.before and _fits_beside(label, plot):
        yield from _after(label, plot)


def _after(label: PointLabel, plot: Plot) -> list[Box]:
    """Beside the point, so many lines lower or higher, inside the plot."""
    box = _beside(label, plot)
    middles = (box.middle + lines * _LINE for lines in _TRIES)
    return [_moved(box, middle) for middle in middles if _LINE / 2 <= middle <= plot.height - _LINE / 2]


def _along(label: PointLabel, plot: Plot) -> Iterator[Box]:
    """Over and under a level line, from its end backwards; first under one that has no room over it."""
    since = label.day if label.level_since is None else label.level_since
    room = plot.x(label.day) - plot.x(since) - plot.width(label.text) - 2 * _AWAY
    steps = range(int(max(room, 0) / _SLIDE) + 1)
    sides = (-1, 1) if plot.y(label.value) >= _ROOM else (1, -1)
    return (_near(label, plot, lines, _SLIDE * step) for lines in sides for step in steps)


def _near(label: PointLabel, plot: Plot, lines: int, back: float = 0.0) -> Box:
    """So many lines under the point (over it: below 0): centred where that is wanted, else ending just before it."""
    x, y, width = plot.x(label.day), plot.y(label.value), plot.width(label.text)
    right = x + width / 2 if label.above else x - _AWAY - back
    right = min(max(right, width), plot.frame.width)
    middle = min(max(y + lines * _LINE, _LINE / 2), plot.height - _LINE / 2)
    placed = Label(label.day, label.value, label.text, "right", right - x, middle - y)
    return Box(placed, right - width, right, middle)


def _meet(one: Box, other: Box) -> bool:
    beside = one.right <= other.left or other.right <= one.left
    return not beside and abs(one.middle - other.middle) < one.half + other.half


def _spread(boxes: Sequence[Box], plot: Plot) -> list[Box]:
    """Labels in one column moved apart, each as near to its point as the others allow."""
    columns: list[list[Box]] = []
    for box in sorted(boxes, key=lambda b: b.left):
        if columns and box.left < max(other.right for other in columns[-1]):
            columns[-1].append(box)
        else:
            columns.append([box])
    return [box for column in columns for box in _stacked(column, plot)]


def _stacked(column: Sequence[Box], plot: Plot) -> list[Box]:
    """One column: where its labels would overlap, they share out their distances (isotonic regression)."""
    ordered = sorted(column, key=lambda b: (b.middle, b.label.text))
    wanted = [box.middle - index * _LINE for index, box in enumerate(ordered)]
    ceiling, floor = _LINE / 2, plot.height - _LINE / 2 - (len(ordered) - 1) * _LINE
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
    return box._replace(middle=middle, label=replace(box.label, dy=box.label.dy + middle - box.middle))
