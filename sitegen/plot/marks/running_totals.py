"""Running totals by day, as steps with an upper line and an end that stays open.

In: totals of a quantity at days, in order. Out: rows for a chart's layers. A total that nothing bounds from above
keeps its lower line and ends in an arrow.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.grouping import grouped
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Vertex
from sitegen.plot.marks.point_marks import RIM
from sitegen.plot.scale import Scale

_ARROW = 0.14  # of the scale


@dataclass(frozen=True, slots=True)
class RunningTotal:
    """One running total: sums at days, drawn on to `until`; `short` is a short name."""

    key: str
    name: str
    sums: tuple[tuple[float, Quantity], ...]
    until: float
    short: str = ""

    @property
    def last(self) -> Quantity:
        """The total at its end."""
        return self.sums[-1][1]


def sums_by_day(
    amounts: Iterable[tuple[float, Quantity]], dimension: Dimension
) -> tuple[tuple[float, Quantity], ...]:
    """The sum so far at the end of each day that something was added on."""
    by_day = grouped(amounts, lambda each: each[0])
    so_far: list[tuple[float, Quantity]] = []
    for day in sorted(by_day):
        before = [so_far[-1][1]] if so_far else []
        so_far.append((day, total([*before, *(amount for _, amount in by_day[day])], dimension)))
    return tuple(so_far)


def layers(totals: Sequence[RunningTotal], scale: Scale) -> Layers:
    """Lower and upper lines, and an arrow at the end of each total that nothing bounds from above."""
    return {
        "steps": _lower_steps(totals[:1], scale),
        "more-steps": _lower_steps(totals[1:], scale),
        "upper": _upper_steps(totals, scale),
        "open-ends": tuple(
            Bar(each.until, low, low + _ARROW * scale.top, trim=RIM)
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
        for corner in _staircase([(day, scale.of(so_far.low)) for day, so_far in each.sums], each.until)
    )


def _upper_steps(totals: Iterable[RunningTotal], scale: Scale) -> tuple[Vertex, ...]:
    """As far as there is an upper bound that differs from the lower one."""
    found: list[Vertex] = []
    for each in totals:
        bounded = [(day, scale.of(q.high)) for day, q in each.sums if q.high is not None]
        if any(q.high is not None and q.high > q.low for _, q in each.sums):
            until = each.until if len(bounded) == len(each.sums) else bounded[-1][0]
            found += [Vertex(each.key, *corner) for corner in _staircase(bounded, until)]
    return tuple(found)


def _staircase(corners: list[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Corners of a line that rises upright on each day."""
    height, stairs = 0.0, []
    for day, value in corners:
        stairs += [(day, height), (day, value)]
        height = value
    return [*stairs, (until, height)] if corners and until > corners[-1][0] else stairs


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
            level_since=next(d for d, q in each.sums if scale.upper(q) == scale.upper(each.last)),
            short=each.short,
        )
        for each in totals
    )
