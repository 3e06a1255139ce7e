"""Running totals by day, as steps with a band and an end that stays open.

In: totals of a quantity at days, in order. Out: layers of a chart. A total that nothing bounds from above
keeps its lower line and ends in an arrow.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.drawing.picture import Bar, Ending, Vertex
from sitegen.plot.drawing.scale import Scale
from sitegen.plot.marks.series import RIM

_ARROW = 0.14  # of the scale


@dataclass(frozen=True, slots=True)
class Run:
    """One running total: `totals` at days, drawn on to `until`; `brief` is a short name."""

    key: str
    name: str
    totals: tuple[tuple[float, Quantity], ...]
    until: float
    brief: str = ""

    @property
    def last(self) -> Quantity:
        """The total at its end."""
        return self.totals[-1][1]

    @property
    def level_since(self) -> float:
        """The day from which the line that carries the name runs level."""
        return next(day for day, so_far in self.totals if _upper(so_far) == _upper(self.last))


def accumulated(
    amounts: Iterable[tuple[float, Quantity]], dimension: Dimension
) -> tuple[tuple[float, Quantity], ...]:
    """The sum so far at the end of each day that something was added on."""
    by_day: dict[float, list[Quantity]] = defaultdict(list)
    for day, amount in amounts:
        by_day[day].append(amount)
    so_far: list[tuple[float, Quantity]] = []
    for day in sorted(by_day):
        before = [so_far[-1][1]] if so_far else []
        so_far.append((day, total([*before, *by_day[day]], dimension)))
    return tuple(so_far)


def steps(runs: Iterable[Run], scale: Scale) -> tuple[Vertex, ...]:
    """The lower line of each run: from 0, a step up on each day, level to its end."""
    return tuple(
        Vertex(run.key, day, value)
        for run in runs
        for day, value in _staircase([(d, scale.of(q.low)) for d, q in run.totals], run.until)
    )


def band(runs: Iterable[Run], scale: Scale) -> tuple[Vertex, ...]:
    """The upper line of each run, as far as there is one that differs from the lower."""
    found: list[Vertex] = []
    for run in runs:
        bounded = [(d, scale.of(q.high)) for d, q in run.totals if q.high is not None]
        if any(q.high is not None and q.high > q.low for _, q in run.totals):
            until = run.until if len(bounded) == len(run.totals) else bounded[-1][0]
            found += [Vertex(run.key, *corner) for corner in _staircase(bounded, until)]
    return tuple(found)


def room(runs: Iterable[Run]) -> float:
    """The share of the largest total that is needed over it: for a name, or for an arrow with its head."""
    return 0.22 if any(run.last.high is None for run in runs) else 0.12


def open_ends(runs: Iterable[Run], scale: Scale) -> tuple[Bar, ...]:
    """An arrow at the end of each run that nothing bounds from above."""
    return tuple(
        Bar(run.until, scale.of(run.last.low), scale.of(run.last.low) + _ARROW * scale.top, trim=RIM)
        for run in runs
        if run.last.high is None
    )


def endings(runs: Sequence[Run], scale: Scale) -> tuple[Ending, ...]:
    """The name of each run, at its end or along its last level."""
    return tuple(
        Ending(
            run.until,
            scale.of(_upper(run.last)),
            run.name,
            strong=True,
            since=run.level_since,
            brief=run.brief,
        )
        for run in runs
    )


def _upper(quantity: Quantity) -> float:
    """The bound that is drawn uppermost."""
    return quantity.low if quantity.high is None else quantity.high


def _staircase(corners: list[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Corners of a line that rises upright on each day."""
    height, stairs = 0.0, []
    for day, value in corners:
        stairs += [(day, height), (day, value)]
        height = value
    return [*stairs, (until, height)] if corners and until > corners[-1][0] else stairs
