"""Running totals: staircases of the least and of the most that there was by a day.

In: amounts or totals with their days. Out: `Sums`, `RunningTotal`, rows for the layers of a chart, names. An amount of an
uncertain day is in the most from the first day that it can be, and in the least from the last.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Area, Bar, Layers, PointLabel, Vertex
from sitegen.plot.chart_type import Layer
from sitegen.plot.marks.point_marks import RIM, grouped
from sitegen.plot.scale import Scale

Steps = tuple[tuple[float, Quantity], ...]
_OPEN_END = 0.14  # of the scale


def total_layers_of(colour: str, width: float) -> tuple[Layer, ...]:
    """The layers that totals are drawn in."""
    return (
        Layer("area", "bands", colour, opacity=0.22),
        Layer("line", "upper", colour, width=1, dash=(4, 3)),
        Layer("line", "steps", colour, width=width),
        Layer("line", "more-steps", colour, width=width, dash=(12, 3)),
        Layer("arrow", "open-ends", colour),
    )


@dataclass(frozen=True, slots=True)
class Sums:
    """The total from each day on: the least that it was then, and the most; `uncertain` are the days between the two."""

    least: Steps
    most: Steps
    uncertain: tuple[tuple[float, float], ...] = ()

    def level(self, day: float) -> float:
        """The least that it was at the end of a day, in canonical units."""
        return next((q.low for since, q in reversed(self.least) if since <= day), 0.0)

    def so_far(self, day: float) -> Quantity | None:
        """The total at the end of a day; a lower bound while something may or may not have been added yet."""
        known = next((q for since, q in reversed(self.least) if since <= day), None)
        open_ended = any(first <= day < last for first, last in self.uncertain)
        return replace(known, high=None) if known and open_ended else known


def summed(amounts: Iterable[tuple[Day, Quantity]], dimension: Dimension) -> Sums:
    """The sums of amounts."""
    known = tuple(amounts)
    return Sums(
        _sums_by_day(((day.reach[1], amount) for day, amount in known), dimension),
        _sums_by_day(((day.reach[0], amount) for day, amount in known), dimension),
        _uncertain(day for day, _ in known),
    )


def _sums_by_day(amounts: Iterable[tuple[float, Quantity]], dimension: Dimension) -> Steps:
    """The sum so far at the end of each day that something was added on."""
    by_day = grouped(amounts, lambda each: each[0])
    so_far: list[tuple[float, Quantity]] = []
    for day in sorted(by_day):
        before = [so_far[-1][1]] if so_far else []
        so_far.append((day, total([*before, *(amount for _, amount in by_day[day])], dimension)))
    return tuple(so_far)


def read_off(totals: Sequence[tuple[Day, Quantity]]) -> Sums:
    """Totals that were read off, each of which holds all before it in their order.

    Each is reached when all up to it certainly are, and may be reached as soon as it or any later one may be.
    """
    ends = accumulate((day.reach[1] for day, _ in totals), max)
    begins = [*accumulate((day.reach[0] for day, _ in reversed(totals)), min)][::-1]
    values = [value for _, value in totals]
    return Sums(
        tuple(dict(zip(ends, values, strict=True)).items()),
        tuple(dict(zip(begins, values, strict=True)).items()),
        _uncertain(day for day, _ in totals),
    )


def _uncertain(days: Iterable[Day]) -> tuple[tuple[float, float], ...]:
    return tuple(dict.fromkeys(day.reach for day in days if not day.exact))


@dataclass(frozen=True, slots=True)
class RunningTotal:
    """One running total, drawn on to `until`; `short` is a short name."""

    key: str
    name: str
    sums: Sums
    until: float
    short: str = ""

    @property
    def last(self) -> Quantity:
        """The total at its end."""
        return self.sums.least[-1][1]


def layers(totals: Sequence[RunningTotal], scale: Scale) -> Layers:
    """Lower and upper lines, the bands between them, and an arrow at the end of each total that is open upwards."""
    return {
        "bands": tuple(band for each in totals for band in _bands(each.sums, scale)),
        "steps": _lower_steps(totals[:1], scale),
        "more-steps": _lower_steps(totals[1:], scale),
        "upper": tuple(vertex for each in totals for vertex in _upper_steps(each, scale)),
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
        for corner in _staircase([(day, scale.of(q.low)) for day, q in each.sums.least], each.until)
    )


def _staircase(corners: list[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Corners of a line that rises upright on each day."""
    height, stairs = 0.0, []
    for day, value in corners:
        stairs += [(day, height), (day, value)]
        height = value
    return [*stairs, (until, height)] if corners and until > corners[-1][0] else stairs


def _upper_steps(of: RunningTotal, scale: Scale) -> Iterator[Vertex]:
    """As far as there is an upper bound that differs from the lower one; broken where nothing bounds the total."""
    most = of.sums.most
    if not of.sums.uncertain and not any(q.high is not None and q.high > q.low for _, q in most):
        return
    height: float | None = 0.0
    number = 0
    for day, q in most:
        if height is not None and (day != most[0][0] or q.high is not None):
            yield Vertex(_segment(of.key, number), day, height)
        if q.high is None:
            number += height is not None
            height = None
        else:
            height = scale.of(q.high)
            yield Vertex(_segment(of.key, number), day, height)
    if height is not None and of.until > most[-1][0]:
        yield Vertex(_segment(of.key, number), of.until, height)


def _segment(key: str, number: int) -> str:
    return f"{key} {number}" if number else key


def _bands(sums: Sums, scale: Scale) -> Iterator[Area]:
    """From the least to the most over the days on which an amount may or may not have been added."""
    days = sorted(
        {day for day, _ in (*sums.least, *sums.most)} | {end for days in sums.uncertain for end in days}
    )
    for begin, end in pairwise(days):
        if not any(first <= begin and end <= last for first, last in sums.uncertain):
            continue
        most = next((q.high for since, q in reversed(sums.most) if since <= begin), 0.0)
        low = scale.of(sums.level(begin))
        if most is not None and (high := scale.of(most)) > low:
            yield Area(begin, end, low, high)


def headroom(totals: Iterable[RunningTotal]) -> float:
    """The share of the largest total that is needed over it: for a name, or for an arrow with its head."""
    return 0.22 if any(each.last.high is None for each in totals) else 0.12


def names(totals: Sequence[RunningTotal], scale: Scale) -> tuple[PointLabel, ...]:
    """The name of each total, at its end or along its last level."""
    return tuple(
        PointLabel(
            each.until,
            scale.upper(each.last),
            each.name,
            strong=True,
            level_since=next(d for d, q in each.sums.least if scale.upper(q) == scale.upper(each.last)),
            short=each.short,
        )
        for each in totals
    )
