"""Days of a sensor: a bar from the lowest to the highest sample of each, a line through the means, and words.

In: daily ranges and a scale. Out: rows for the layers of a chart, and sentences. Days are grouped where bars would touch;
a group never holds a day without samples, and a part of a day is never among whole ones: its bar is lighter, and it has
no mean.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.indices import DailyRange
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import FRAMES, WIDE, Frame
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Bar, Layers, Vertex
from sitegen.plot.chart_type import QuantityText
from sitegen.plot.scale import Scale, number_text

_DAYS_APART, _NARROWLY = 5.0, 4.0  # from one bar to the next, in units of the drawing
# Decimals that such sensors tell apart; common practice, no source.
_DECIMALS = {Dimension.TEMPERATURE: 1, Dimension.SHARE: 0, Dimension.PRESSURE: 2}
_MOST_GAPS = 4  # more of them are counted


@dataclass(frozen=True, slots=True)
class DayGroup:
    """One day of samples, or several that follow one another; parts of days are not among whole ones."""

    first: int
    last: int
    low: float
    mean: float
    high: float
    samples: int
    whole: bool = True

    @classmethod
    def of(cls, days: Sequence[DailyRange]) -> DayGroup:
        """The range over all samples, and their mean: each sample weighs the same."""
        samples = sum(day.samples for day in days)
        return cls(
            days[0].day,
            days[-1].day,
            min(day.low for day in days),
            days[0].mean if len(days) == 1 else math.fsum(d.mean * d.samples for d in days) / samples,
            max(day.high for day in days),
            samples,
            days[0].whole,
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

    def values(self, scale: Scale) -> str:
        """Its range, mean and samples in words."""
        low, mean, high = (_short(value, scale) for value in (self.low, self.mean, self.high))
        if not self.whole:
            return tr(
                "{low} to {high} {unit} ({samples}, part of the day)",
                low=low,
                high=high,
                unit=scale.unit.symbol,
                samples=tr_n("{n} reading", "{n} readings", self.samples),
            )
        return tr(
            "{low} to {high} {unit}, mean {mean} ({samples})",
            low=low,
            high=high,
            unit=scale.unit.symbol,
            mean=mean,
            samples=tr_n("{n} reading", "{n} readings", self.samples),
        )


def day_range_layers(
    key: str, days: Iterable[DailyRange], scale: Scale, axis: DayAxis, frame: Frame, shift: float
) -> Layers:
    """As many bars as stand apart in a frame, and a line through the means, which breaks at every gap.

    A part of a day has a lighter bar, and no mean.
    """
    groups = grouped_days(days, days_a_bar(axis, frame))
    whole = [group for group in groups if group.whole]

    def bars(of: Iterable[DayGroup]) -> tuple[Bar, ...]:
        return tuple(
            Bar(g.middle, scale.of(g.low), scale.of(g.high), shift, f"{g.name}: {g.values(scale)}")
            for g in of
        )

    return {
        f"{key}-days": bars(whole),
        f"{key}-parts": bars(group for group in groups if not group.whole),
        f"{key}-means": tuple(
            Vertex(f"{key} {segment}", g.middle, scale.of(g.mean)) for segment, g in segments(whole)
        ),
    }


def days_a_bar(axis: DayAxis, frame: Frame) -> int:
    """The number of days a bar must hold so that bars do not touch."""
    apart = _DAYS_APART if frame.width >= WIDE.width else _NARROWLY
    return max(1, math.ceil(axis.end * apart / frame.inner))


def grouped_days(days: Iterable[DailyRange], most: int) -> tuple[DayGroup, ...]:
    """At most so many days a group, which begins anew after a day without samples, and where parts of days begin."""
    groups: list[list[DailyRange]] = []
    for day in days:
        last = groups[-1][-1] if groups else None
        if last and len(groups[-1]) < most and day.day == last.day + 1 and day.whole == last.whole:
            groups[-1].append(day)
        else:
            groups.append([day])
    return tuple(DayGroup.of(group) for group in groups)


def segments(groups: Iterable[DayGroup]) -> Iterator[tuple[int, DayGroup]]:
    """Each group with the number of its segment of a line: a new one after every gap."""
    segment, before = 0, None
    for group in groups:
        segment += before is not None and group.first - before.last > 1
        yield segment, group
        before = group


def spans_of(days: Iterable[int]) -> tuple[Day, ...]:
    """Days that follow one another, as spans."""
    spans: list[Day] = []
    for day in days:
        if spans and day == spans[-1].last + 1:
            spans[-1] = Day(spans[-1].first, day)
        else:
            spans.append(Day.on(day))
    return tuple(spans)


def days_description(
    what: str, days: Sequence[DailyRange], scale: Scale, axis: DayAxis, say: QuantityText
) -> str:
    """The lowest and the highest sample, how to read the bars, and the days without samples."""
    found = days_found(what, days, scale, say)
    parts = _parts(sum(not day.whole for day in days))
    return " ".join(filter(None, (found, _how_to_read(axis), parts, _gaps({day.day for day in days}, axis))))


def days_found(what: str, days: Sequence[DailyRange], scale: Scale, say: QuantityText) -> str:
    """The lowest and the highest sample."""
    coldest, warmest = min(days, key=lambda d: d.low), max(days, key=lambda d: d.high)
    return tr(
        "{what}: lowest {low} on day {coldest}, highest {high} on day {warmest}; logged by a "
        "sensor on {days}.",
        what=opening(what),
        low=_sample(coldest.low, scale, say),
        coldest=coldest.day,
        high=_sample(warmest.high, scale, say),
        warmest=warmest.day,
        days=tr_n("{n} day", "{n} days", len(days)),
    )


def _how_to_read(axis: DayAxis) -> str:
    """The meaning of the bars; several days share one where that is so in any frame."""
    if any(days_a_bar(axis, frame) > 1 for frame in FRAMES):
        return tr(
            "Each bar runs from the day's lowest reading to its highest, and the line joins the "
            "daily means. Days too close together share a bar."
        )
    return tr(
        "Each bar runs from the day's lowest reading to its highest, and the line joins the daily means."
    )


def _parts(number: int) -> str:
    """The number of days with few samples."""
    if not number:
        return ""
    return tr_n(
        "{n} day has few readings: drawn lighter, without a mean.",
        "{n} days have few readings: drawn lighter, without a mean.",
        number,
    )


def _gaps(sampled: set[int], axis: DayAxis) -> str:
    without = [day for day in range(axis.last + 1) if day not in sampled]
    if not without:
        return tr("No day is missing.")
    spans = spans_of(without)
    if len(spans) > _MOST_GAPS:
        return tr_n(
            "No readings on {n} day of {whole}.",
            "No readings on {n} days of {whole}.",
            len(without),
            whole=axis.last + 1,
        )
    return tr_n(
        "No readings on day {days}.",
        "No readings on days {days}.",
        len(without),
        days=listed([str(span) for span in spans]),
    )


def _sample(canonical: float, scale: Scale, say: QuantityText) -> str:
    """A value with its unit; a temperature in that of the other system too."""
    dimension = scale.unit.dimension
    if dimension is Dimension.TEMPERATURE:
        decimals = _DECIMALS[dimension]
        return say(exactly(round(canonical, decimals), dimension, 10**-decimals))
    return f"{_short(canonical, scale)} {scale.unit.symbol}"


def _short(canonical: float, scale: Scale) -> str:
    """A value with the decimals that such a sensor resolves."""
    return number_text(round(scale.of(canonical), _DECIMALS[scale.unit.dimension]))
