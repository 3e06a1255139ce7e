"""Days of an experiment (day 0 is sowing, "day 10" is ten days later), and ranges of dates.

In: day numbers and dates. Out: `Day` (a span of whole days with a flag), `Start` (the date of day 0), `DayAxis` (the
scale of every drawing of an experiment), `DateRange` (open or closed on either side). Never looks at the clock.
"""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import total_ordering
from itertools import accumulate
from typing import Literal

# Years whose dates are read: far from the ends of the calendar, where counting on or back is no longer possible.
YEARS = range(1900, 2200)
ABOUT = (
    2  # days either way over which "about" a day is drawn, since the log gives no bounds; custom, no source
)
AXIS_STEP = 14  # days; coarse, so that most new entries of the log leave the axis unchanged


def is_counted(date: dt.date) -> bool:
    """Whether the year of a date is one of those that are read."""
    return date.year in YEARS


@total_ordering
@dataclass(frozen=True, slots=True)
class Day:
    """A day as recorded: `first` = `last` for one day, a span for "33-38".

    "before 40" is the span from day 0 to day 39 with the flag `before`: it was written about its end, and has its
    place there.
    """

    first: int
    last: int
    about: bool = False
    before: bool = False

    @classmethod
    def on(cls, number: int, *, about: bool = False) -> Day:
        """One day."""
        return cls(number, number, about)

    @property
    def single(self) -> bool:
        """Whether it is one day."""
        return self.first == self.last

    @property
    def exact(self) -> bool:
        """Whether it is one certain day."""
        return self.first == self.last and not self.about

    @property
    def reach(self) -> tuple[float, float]:
        """The first and the last day that it can be, as drawn: "about" a day reaches a little to both sides."""
        if not self.about:
            return float(self.first), float(self.last)
        return float(max(self.first - ABOUT, min(self.first, 0))), float(self.last + ABOUT)

    @property
    def middle(self) -> float:
        """The point to draw: the end of "before 40", the middle of any other span."""
        return float(self.last) if self.before else (self.first + self.last) / 2

    @property
    def key(self) -> tuple[int, int]:
        """The sort key: the first possible day, then the last; the last alone for "before 40"."""
        return self.last if self.before else self.first, self.last

    @property
    def order(self) -> tuple[int, int, bool, bool]:
        """The key by which days compare."""
        return (*self.key, self.about, self.before)

    def __lt__(self, other: Day) -> bool:
        return self.order < other.order

    def span_since(self, earlier: Day) -> Day:
        """Days from `earlier` to this, as a span: shortest to longest."""
        return Day(self.first - earlier.last, self.last - earlier.first, self.about or earlier.about)

    def __str__(self) -> str:
        if self.before:
            return f"before {self.last + 1}"
        span = str(self.first) if self.single else f"{self.first}-{self.last}"
        return f"about {span}" if self.about else span


def in_turn(days: Sequence[Day]) -> list[Day]:
    """Spans narrowed to the days on which they can follow one another."""
    firsts = accumulate((day.first for day in days), max)
    lasts = [*accumulate((day.last for day in reversed(days)), min)][::-1]
    return [
        replace(day, first=first, last=last) for day, first, last in zip(days, firsts, lasts, strict=True)
    ]


@dataclass(frozen=True, slots=True)
class Start:
    """The date of day 0, which may be known to the day, to the month, to the year, or not at all."""

    date: dt.date | None = None
    precision: Literal["day", "month", "year", "unknown"] = "unknown"

    @property
    def latest(self) -> dt.date | None:
        """The last date that day 0 can have been."""
        if self.date is None or self.precision == "day":
            return self.date
        if self.precision == "year":
            return self.date.replace(month=12, day=31)
        return self.date.replace(day=calendar.monthrange(self.date.year, self.date.month)[1])

    def date_of(self, number: int) -> dt.date | None:
        """The calendar date of a day; None unless the start is dated to the day."""
        if self.date is None or self.precision != "day":
            return None
        return self.date + dt.timedelta(days=number)

    def day_of(self, when: dt.date, *, about: bool = False) -> Day | None:
        """The day of a date: a span where only the month of the start is known, None where nothing is."""
        if self.date is None or self.latest is None:
            return None
        return Day((when - self.latest).days, (when - self.date).days, about)


@dataclass(frozen=True, slots=True)
class DayAxis:
    """The scale from day 0, or from `begin`, to `end`, the last day rounded up to whole steps."""

    last: int
    end: int
    start: Start
    begin: int = 0

    @classmethod
    def covering(cls, last: int, start: Start) -> DayAxis:
        """The axis that ends with the first whole step after `last`."""
        steps = max(1, -(-max(last, 1) // AXIS_STEP))
        return cls(last, steps * AXIS_STEP, start)

    def share(self, day: float) -> float:
        """The position of a day on the axis, from 0 to 1."""
        return min(1.0, max(0.0, (day - self.begin) / (self.end - self.begin)))

    @property
    def ticks(self) -> tuple[int, ...]:
        """The days with a label: every 7, 14, 28 or 56 days, at most ten of them."""
        step = next((s for s in (7, 14, 28, 56) if (self.end - self.begin) / s <= 10), 112)
        return tuple(range(-(-self.begin // step) * step, self.end + 1, step))


@dataclass(frozen=True, slots=True)
class DateRange:
    """The first and the last day, both included; None where a side is open."""

    since: date | None = None
    until: date | None = None

    def contains(self, day: date) -> bool:
        """Whether a day is in the range."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)

    def intersection(self, other: DateRange) -> DateRange:
        """The days in both ranges."""
        since = max((day for day in (self.since, other.since) if day), default=None)
        until = min((day for day in (self.until, other.until) if day), default=None)
        return DateRange(since, until)
