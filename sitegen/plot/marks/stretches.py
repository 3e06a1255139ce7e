"""Days of a sensor put together, so that their bars stand apart however long a run was.

In: daily ranges, the day axis and a frame. Out: stretches of days that follow one another. Nothing is bridged: a
stretch never holds a day without samples.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.indices import DailyRange
from sitegen.core.language.catalogue import tr
from sitegen.core.site.chart import WIDE, Frame
from sitegen.core.values.day import Day, DayAxis

_APART, _NARROWLY = 5.0, 4.0  # from one bar to the next, in units of the drawing


@dataclass(frozen=True, slots=True)
class Stretch:
    """One day of samples, or several that follow one another."""

    first: int
    last: int
    low: float
    mean: float
    high: float
    samples: int

    @classmethod
    def of(cls, days: Sequence[DailyRange]) -> Stretch:
        """The range over all samples, and their mean: each sample weighs the same."""
        samples = sum(day.samples for day in days)
        return cls(
            days[0].day,
            days[-1].day,
            min(day.low for day in days),
            days[0].mean if len(days) == 1 else math.fsum(d.mean * d.samples for d in days) / samples,
            max(day.high for day in days),
            samples,
        )

    @property
    def middle(self) -> float:
        """Where it is drawn."""
        return (self.first + self.last) / 2

    @property
    def name(self) -> str:
        """`Day 4`, `Days 4-5`."""
        if self.first == self.last:
            return tr("Day {day}", day=self.first)
        return tr("Days {first}-{last}", first=self.first, last=self.last)


def days_a_bar(axis: DayAxis, frame: Frame) -> int:
    """How many days a bar must hold for bars to stand apart."""
    apart = _APART if frame.width >= WIDE.width else _NARROWLY
    return max(1, math.ceil(axis.end * apart / frame.inner))


def together(days: Iterable[DailyRange], most: int) -> tuple[Stretch, ...]:
    """At most so many days a stretch, which begins anew after a day without samples."""
    groups: list[list[DailyRange]] = []
    for day in days:
        if groups and len(groups[-1]) < most and day.day == groups[-1][-1].day + 1:
            groups[-1].append(day)
        else:
            groups.append([day])
    return tuple(Stretch.of(group) for group in groups)


def pieces(stretches: Iterable[Stretch]) -> Iterator[tuple[int, Stretch]]:
    """Each stretch with the number of its piece: a new one after every gap."""
    piece, before = 0, None
    for stretch in stretches:
        piece += before is not None and stretch.first - before.last > 1
        yield piece, stretch
        before = stretch


def runs_of(days: Iterable[int]) -> tuple[Day, ...]:
    """Days that follow one another, as spans."""
    spans: list[Day] = []
    for day in days:
        if spans and day == spans[-1].last + 1:
            spans[-1] = Day(spans[-1].first, day)
        else:
            spans.append(Day.on(day))
    return tuple(spans)
