"""Days by arm, a row for each stage, all on one scale of days.

In: rows with the days of each arm. Out: `SpansPlot`: places along the width per mille, heights in units of the drawing. A
day that is a span is a bar; one that is only known as "by day 40" has an open end before it. No words, colours or markup.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.values.day import Day
from sitegen.render.drawings.dots import OPEN, SHAPES
from sitegen.render.drawings.scale import FULL

_TOP, _LANE, _BELOW = 7, 14, 3  # to the first lane, from lane to lane, below the last one
_BEFORE, _AFTER = 4, 4  # days of the axis before the first mark and after the last one
_STEPS = (1, 2, 7, 14, 28, 56)  # days between two ticks
_MOST_TICKS = 5


@dataclass(frozen=True, slots=True)
class DaySpan:
    """The day of one arm with its name; `shape` is that of its marks, counted from 0."""

    day: Day
    name: str = ""
    shape: int = 0


@dataclass(frozen=True, slots=True)
class SpanRow:
    """One stage: its label, and the days of the arms that have one."""

    label: str
    spans: tuple[DaySpan, ...]


@dataclass(frozen=True, slots=True)
class SpanMark:
    """A day as it is drawn: at one place, or from `at` to `until`; `since` is the begin of the line of an open one."""

    at: float
    y: int
    shape: int
    name: str
    until: float | None = None
    since: float | None = None


@dataclass(frozen=True, slots=True)
class SpanMarks:
    """A row as it is drawn, `height` high."""

    label: str
    marks: tuple[SpanMark, ...]
    height: int


@dataclass(frozen=True, slots=True)
class SpansPlot:
    """All rows on one scale; `ticks` are days with their places."""

    rows: tuple[SpanMarks, ...]
    ticks: tuple[tuple[int, float], ...]

    @property
    def drawn(self) -> frozenset[str]:
        """What a key has to explain: `open`, `interval`."""
        marks = [mark for row in self.rows for mark in row.marks]
        found = {
            "open": any(mark.since is not None for mark in marks),
            "interval": any(mark.until is not None for mark in marks),
        }
        return frozenset(name for name, there in found.items() if there)


def spans_plot(rows: Sequence[SpanRow]) -> SpansPlot | None:
    """The rows that have a day; None where none has."""
    known = [row for row in rows if row.spans]
    days = [span.day for row in known for span in row.spans]
    if not days:
        return None
    begin = max(0, min(day.last if is_by(day) else day.first for day in days) - _BEFORE)
    axis = _Axis(begin, max(day.last for day in days) + _AFTER)
    return SpansPlot(tuple(axis.row(row) for row in known), tuple(axis.ticks()))


def is_by(day: Day) -> bool:
    """Whether only its end is known: it may have been any day since sowing."""
    return day.first <= 0 < day.last


@dataclass(frozen=True, slots=True)
class _Axis:
    begin: int
    end: int

    def place(self, day: int) -> float:
        share = (day - self.begin) / (self.end - self.begin)
        return round(FULL * min(1.0, max(0.0, share)), 1)

    def ticks(self) -> Iterator[tuple[int, float]]:
        step = next((s for s in _STEPS if (self.end - self.begin) / s <= _MOST_TICKS), 112)
        for day in range(-(-self.begin // step) * step, self.end + 1, step):
            yield day, self.place(day)

    def row(self, row: SpanRow) -> SpanMarks:
        marks = tuple(self.mark(span, _TOP + _LANE * i) for i, span in enumerate(row.spans))
        return SpanMarks(row.label, marks, _TOP + _LANE * (len(marks) - 1) + _BELOW)

    def mark(self, span: DaySpan, y: int) -> SpanMark:
        shape, last = span.shape % SHAPES, self.place(span.day.last)
        if is_by(span.day):
            return SpanMark(last, y, shape, span.name, since=max(0.0, round(last - OPEN, 1)))
        first = self.place(span.day.first)
        return SpanMark(first, y, shape, span.name, until=last if last > first else None)
