"""Running totals as step lines on one scale of days and one of amounts.

In: series of totals by day. Out: `TotalsPlot`: paths in a box of 1000 by 1000 that stretches with the page, places per
mille. A total that is an interval has a band between its bounds, one that is only "at least" an open end. On a day that
is a span the lower bound rises at its end, and the upper one at its beginning. No words, colours or markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Units
from sitegen.render.drawings.dots import SHAPES
from sitegen.render.drawings.scale import FULL, Scale, scale_to

OPEN_UP = 90.0  # per mille of the line onwards from what is only known as "at least"
_BEFORE = 3  # days of the axis before the first total
_STEPS = (1, 2, 7, 14, 28, 56)  # days between two ticks
_MOST_TICKS = 3  # steps over all: the word and the day at the edge need a third of a plot on a phone

Step = tuple[float, float]  # from a day on, a value


@dataclass(frozen=True, slots=True)
class Series:
    """The totals of one arm in the order of days; `shape` is that of its marks, counted from 0."""

    label: str
    points: tuple[tuple[Day, Quantity], ...]
    shape: int = 0


@dataclass(frozen=True, slots=True)
class TotalLine:
    """A series as it is drawn: its lower bound, its upper bound and the band between them, its end.

    `high` and `band` are empty where the total is one number; `onwards` is how far an open end goes up.
    """

    series: Series
    shape: int
    low: str
    high: str
    band: str
    end: float
    onwards: float | None


@dataclass(frozen=True, slots=True)
class TotalsPlot:
    """All series; `ticks` are days with their places, heights are measured from the top."""

    lines: tuple[TotalLine, ...]
    scale: Scale
    ticks: tuple[tuple[int, float], ...]

    @property
    def drawn(self) -> frozenset[str]:
        """What a key has to explain: `open`, `band`."""
        found = {
            "open": any(line.onwards is not None for line in self.lines),
            "band": any(line.band for line in self.lines),
        }
        return frozenset(name for name, there in found.items() if there)


def totals_plot(series: Sequence[Series], last_day: int, units: Units) -> TotalsPlot | None:
    """The series up to the last day of a run; None where there is no total."""
    known = [each for each in series if each.points]
    values = [value for each in known for _, value in each.points]
    if not values:
        return None
    largest = max(v.low / (1 - OPEN_UP / FULL) if v.high is None else v.high for v in values)
    scale = scale_to(largest, values[0].dimension, units)
    days = [day for each in known for day, _ in each.points]
    begin = max(0, min(day.first for day in days) - _BEFORE)
    axis = _Axis(begin, max(last_day, begin + 1, *(day.last for day in days)), scale)
    return TotalsPlot(tuple(axis.line(each) for each in known), scale, tuple(axis.ticks()))


@dataclass(frozen=True, slots=True)
class _Axis:
    """The days from `begin` to `end`, and the scale of amounts."""

    begin: int
    end: int
    scale: Scale

    def x(self, day: float) -> float:
        """The place of a day."""
        share = (day - self.begin) / (self.end - self.begin)
        return round(FULL * min(1.0, max(0.0, share)), 1)

    def y(self, value: float) -> float:
        """The height of an amount, from the top."""
        return round(FULL - self.scale.place(value), 1)

    def ticks(self) -> Iterator[tuple[int, float]]:
        """Round days with their places."""
        step = next((s for s in _STEPS if (self.end - self.begin) / s <= _MOST_TICKS), 112)
        for day in range(-(-self.begin // step) * step, self.end + 1, step):
            yield day, self.x(day)

    def line(self, series: Series) -> TotalLine:
        """A series between its bounds."""
        lows = _steps((day.last, value.low) for day, value in series.points)
        _, last = series.points[-1]
        bounded = [(day.first, value.high) for day, value in series.points]
        highs = _steps((day, high) for day, high in bounded if high is not None)
        until = next((day for day, high in bounded if high is None), None)
        inexact = any(value.high != value.low for _, value in series.points) or any(
            not day.single for day, _ in series.points
        )
        high = self.path(highs, self.end if until is None else until) if inexact and highs else ""
        band = self.band(lows, highs, self.end if until is None else until) if high else ""
        end = self.y(last.low)
        onwards = max(0.0, round(end - OPEN_UP, 1)) if last.high is None else None
        return TotalLine(series, series.shape % SHAPES, self.path(lows, self.end), high, band, end, onwards)

    def path(self, steps: Sequence[Step], until: float) -> str:
        """A step line from nothing to a day."""
        parts = [f"M{self.x(steps[0][0])} {self.y(0)}"]
        parts += [f"H{self.x(day)}V{self.y(value)}" for day, value in steps if day <= until]
        return "".join([*parts, f"H{self.x(until)}"])

    def band(self, lows: Sequence[Step], highs: Sequence[Step], until: float) -> str:
        """The area between two step lines."""
        above = [(day, value) for day, value in highs if day <= until]
        below = [(day, value) for day, value in lows if day <= until]
        if not above:
            return ""
        parts = [f"M{self.x(above[0][0])} {self.y(0)}"]
        parts += [f"H{self.x(day)}V{self.y(value)}" for day, value in above]
        parts.append(f"H{self.x(until)}")
        before = [0.0, *(value for _, value in below)]
        parts.append(f"V{self.y(before[-1])}")
        for (day, _), value in zip(reversed(below), reversed(before[:-1]), strict=True):
            parts.append(f"H{self.x(day)}V{self.y(value)}")
        return "".join([*parts, "Z"])


def _steps(points: Iterable[Step]) -> list[Step]:
    """One value a day, in the order of days: the last said of a day, and of an earlier one that was said later."""
    found: list[Step] = []
    for day, value in points:
        at = max(day, found[-1][0]) if found else day
        if found and found[-1][0] == at:
            found[-1] = (at, value)
        else:
            found.append((at, value))
    return found
