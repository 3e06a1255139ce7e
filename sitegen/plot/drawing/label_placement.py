"""Labels of the day axis, and of points and lines, so that no legend is needed.

In: the axis made by `measure`, point labels, the plot they are drawn in. Out: days below the plot and calendar dates
above it, in the active language; labels right of their point where there is room, spread apart; else above it, the
strong ones first, and left out where they would lie on another. Needs no clock and no zone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from statistics import fmean

from sitegen.core.language.catalogue import active_catalogue, tr
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.site.chart import Frame
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import (
    Align,
    Bar,
    Label,
    PointLabel,
    Row,
    Span,
    Symbol,
    ValueAxis,
    Vertex,
)

_BETWEEN = 10.0  # two dates, in units of the drawing
_SMALLER = 1.0  # dates are a size below days


def day_ticks(axis: DayAxis, frame: Frame) -> tuple[int, ...]:
    """The axis's ticks, thinned to the room of the frame."""
    every = 1
    while len(axis.ticks[::every]) > frame.most_days:
        every += 1
    return axis.ticks[::every]


def day_labels(axis: DayAxis, frame: Frame) -> tuple[Label, ...]:
    """`day 0`, then numbers."""
    texts = ((day, tr("day {n}", n=0) if day == 0 else str(day)) for day in day_ticks(axis, frame))
    return tuple(Label(day, 0.0, text, "center") for day, text in texts)


def date_labels(axis: DayAxis, frame: Frame) -> tuple[Label, ...]:
    """Dates over as many ticks as have room; the year with the first and where it changes."""
    labels: list[Label] = []
    free_from, year = 0.0, 0
    for day in day_ticks(axis, frame):
        when = axis.start.date_of(day)
        if when is None:
            return ()
        text = _short(when) if when.year == year else date_with_year(when)
        width = text_width(text, frame.text - _SMALLER)
        align = _align(axis, frame, day, width)
        left = frame.x(axis, day) - _before(align) * width
        if left < free_from:
            continue
        labels.append(Label(day, 0.0, text, align))
        free_from, year = left + width + _BETWEEN, when.year
    return tuple(labels)


def _align(axis: DayAxis, frame: Frame, day: int, width: float) -> Align:
    """Centred, but never over the unit on the left nor beyond the edge on the right."""
    if day == 0:
        return "left"
    return "right" if frame.x(axis, day) + width / 2 > frame.width else "center"


def _before(align: Align) -> float:
    """The share of a text that lies left of its anchor."""
    return {"left": 0.0, "center": 0.5, "right": 1.0}[align]


def _short(when: date) -> str:
    return _wording().day_of_year(when, short=True).replace(NBSP, " ")


def date_with_year(when: date) -> str:
    """A short date with its year."""
    return _wording().calendar_day(when, short=True).replace(NBSP, " ")


def _wording() -> Wording:
    return Wording(language=active_catalogue().language)


_LINE = 15.0  # from one label to the next, in units of the drawing
_AWAY = 8.0
_ROOM = 19.0  # over a line, for a label that does not touch it
_FAR = 16.0  # a label further from its own point would seem to name another
_SLIDE = 12.0
_TRIES = (-1, 1, -2, 2, 3)  # lines under a point at which a label is tried
_CHARACTER = 0.52  # mean width of a character, in ems; measured on serif and sans faces, with some reserve


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


def kept_inside(fixed: Iterable[Label], plot: Plot) -> tuple[Label, ...]:
    """Labels with a place of their own: one that would run over the right edge ends at its point instead."""
    return tuple(
        replace(label, align="right", dx=-label.dx)
        if label.align == "left" and plot.x(label.day) + label.dx + plot.width(label.text) > plot.frame.width
        else label
        for label in fixed
    )


def place(
    labels: Iterable[PointLabel], plot: Plot, obstacles: Sequence[Box] = (), fixed: Sequence[Label] = ()
) -> tuple[Label, ...]:
    """As many of the labels as fit, clear of each other and of the fixed ones, if possible of the obstacles."""
    taken = [_boxed(label, plot) for label in fixed]
    merged = sorted(_merged(labels), key=lambda e: (not e.strong, -e.value))
    wanted = [e for e in merged if not (e.above or e.before)]
    beside = [e for e in wanted if _fits_beside(e, plot) and not _lies_on_a_point(e, merged, plot)]
    placed = _near_their_points([_beside(e, plot) for e in beside], plot)
    for label in (e for e in merged if e not in beside):
        wordings = [label, replace(label, text=label.short)] if label.short else [label]
        fitting = [wording for wording in wordings if plot.width(wording.text) <= plot.frame.width]
        tries = [box for wording in fitting for box in _tries(wording, plot)]
        free = [box for box in tries if not any(_meet(box, other) for other in (*placed, *taken))]
        placed += _clearest(free, obstacles)
    return tuple(box.label for box in placed)


def _clearest(free: Sequence[Box], obstacles: Sequence[Box]) -> list[Box]:
    """The first place that meets no obstacle, else the first that meets the fewest; none where none is free."""
    clear = next((box for box in free if not any(_meet(box, other) for other in obstacles)), None)
    if clear is not None or not free:
        return [clear] if clear else []
    return [min(free, key=lambda box: sum(_meet(box, other) for other in obstacles))]


def _boxed(label: Label, plot: Plot) -> Box:
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
                replace(one, middle=one.middle - one.label.dy, label=replace(one.label, dy=0.0))
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


def _lies_on_a_point(label: PointLabel, others: Iterable[PointLabel], plot: Plot) -> bool:
    """Whether the text beside a point would cover the point of another label."""
    box = _beside(label, plot)
    return any(
        box.left < plot.x(other.day) < box.right and abs(plot.y(other.value) - box.middle) < box.half
        for other in others
    )


def _beside(label: PointLabel, plot: Plot) -> Box:
    left = plot.x(label.day) + _AWAY
    placed = Label(label.day, label.value, label.text, "left", _AWAY, 0.0)
    return Box(placed, left, left + plot.width(label.text), plot.y(label.value), strong=label.strong)


def _tries(label: PointLabel, plot: Plot) -> list[Box]:
    """The possible positions of a label, the best one first."""
    return _along(label, plot) + [_near(label, plot, lines) for lines in _TRIES]


def _along(label: PointLabel, plot: Plot) -> list[Box]:
    """Over and under a level line, from its end backwards; first under one that has no room over it."""
    since = label.day if label.level_since is None else label.level_since
    room = plot.x(label.day) - plot.x(since) - plot.width(label.text) - 2 * _AWAY
    back = [_SLIDE * step for step in range(int(max(room, 0) / _SLIDE) + 1)]
    sides = (-1, 1) if plot.y(label.value) >= _ROOM else (1, -1)
    return [_near(label, plot, lines, by) for lines in sides for by in back]


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
    return replace(box, middle=middle, label=replace(box.label, dy=box.label.dy + middle - box.middle))


_SYMBOL = 4.0  # half a symbol, in units of the drawing
_STROKE = 1.5  # half a line
_NO_LABEL = Label(0.0, 0.0, "")


def obstacles(layers: Iterable[Sequence[Row]], plot: Plot) -> tuple[Box, ...]:
    """A box for each symbol, bar, level bar of one record, and level or upright line."""
    return tuple(box for rows in layers for box in _boxes(rows, plot))


def _boxes(rows: Sequence[Row], plot: Plot) -> Iterator[Box]:
    for row in rows:
        if isinstance(row, Symbol):
            yield _box(plot, (row.day, row.day), (row.value, row.value), _SYMBOL)
        elif isinstance(row, Bar):
            yield _box(plot, (row.day, row.day), (row.low, row.value), _STROKE)
        elif isinstance(row, Span) and row.title and not row.thickness:
            yield _box(plot, (row.day, row.until), (row.value, row.value), _STROKE)
    corners = [row for row in rows if isinstance(row, Vertex)]
    for one, other in pairwise(corners):
        if one.segment == other.segment and (one.day == other.day or one.value == other.value):
            yield _box(plot, (one.day, other.day), (one.value, other.value), _STROKE)


def _box(plot: Plot, days: tuple[float, float], values: tuple[float, float], margin: float) -> Box:
    ends = sorted(plot.y(value) for value in values)
    middle, half = sum(ends) / 2, (ends[1] - ends[0]) / 2
    return Box(_NO_LABEL, plot.x(days[0]) - margin, plot.x(days[1]) + margin, middle, half + margin)
