"""How fast seedlings came up, as figures.

In: the cumulative counts of a run. Out: `GerminationRate`. Without exact counts, or with sowings on several days,
there is no pace, and the figure says so.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sitegen.core.facts import CountStep, Figure, GerminationRate, Rate, Value
from sitegen.core.figure import Per
from sitegen.core.quantity import Quantity, exactly
from sitegen.core.rows import Deed, Run
from sitegen.core.tongue import tr
from sitegen.core.units import Dimension
from sitegen.measure.emergence import (
    emergence_speed,
    emergence_synchrony,
    emergence_uncertainty,
    emergence_variation,
    half_emergence_time,
    mean_emergence_time,
)
from sitegen.measure.working import figure, remarks

__all__ = ["newly_up", "pace_of"]

TENTH_OF_A_DAY = 0.1  # whole days went in: more decimals would say more than was seen
Counts = Sequence[tuple[float, int]]


def newly_up(
    steps: Sequence[CountStep], sown: int, *, earliest: bool = False
) -> tuple[tuple[float, int], ...]:
    """Days since sowing and how many were newly up; with `earliest`, dated to the count before."""
    found: list[tuple[float, int]] = []
    so_far = 0
    looked: int | None = None  # the latest day that an earlier look cannot have been before
    for step in steps:
        day = step.day.last if not earliest else step.day.first if looked is None else looked
        found.append((max(0, day - sown), max(0, step.count - so_far)))
        so_far = max(so_far, step.count)
        looked = step.day.first if looked is None else max(looked, step.day.first)
    return tuple(found)


def _why_not(run: Run, steps: Sequence[CountStep], up: Quantity | None) -> str:
    days = {event.day for event in run.rows.of(Deed.SOW)}
    if len(days) > 1:
        return tr("sown on several days")
    if not steps or up is None or not up.single:
        return tr("seedlings were not counted")
    return "" if steps[-1].count else tr("nothing came up")


def _sowing_day(run: Run) -> int:
    return next((event.day.first for event in run.rows.of(Deed.SOW)), 0)


def _number(
    value: float | None, dimension: Dimension = Dimension.COUNT, step: float = 0.0
) -> Quantity | None:
    return None if value is None else exactly(value, dimension, step)


def _mean(early: Counts, late: Counts, *, about: bool) -> Quantity | None:
    first, last = mean_emergence_time(early), mean_emergence_time(late)
    if first is None or last is None:
        return None
    return Quantity(min(first, last), last, Dimension.DAYS, about=about, step=TENTH_OF_A_DAY)


def _speed(counts: Counts) -> Rate | None:
    speed = _number(emergence_speed(counts))
    return None if speed is None else Rate(speed, Per.DAY)


def pace_of(run: Run, steps: Sequence[CountStep], up: Quantity | None) -> GerminationRate:
    """The pace of a run's seedlings."""
    why_not, sown = _why_not(run, steps, up), _sowing_day(run)
    late = () if why_not else newly_up(steps, sown)
    early = () if why_not else newly_up(steps, sown, earliest=True)
    rows = [step.source for step in steps]

    def made(name: str, value: Value, formula: Callable[..., object], otherwise: str = "") -> Figure:
        note = why_not or ("" if value is not None else otherwise)
        return figure(f"germination.rate.{name}", value, formula, rows, remarks(note))

    half = _number(half_emergence_time(late), Dimension.DAYS, TENTH_OF_A_DAY)
    few = tr("fewer than two seedlings")
    return GerminationRate(
        mean_time=made(
            "mean_time", _mean(early, late, about=any(s.day.about for s in steps)), mean_emergence_time
        ),
        half_time=made("half_time", half, half_emergence_time, tr("half were up at the first count already")),
        variation=made("variation", _number(emergence_variation(late)), emergence_variation, few),
        speed=made("speed", _speed(late), emergence_speed, tr("seedlings on the day of sowing")),
        synchrony=made("synchrony", _number(emergence_synchrony(late)), emergence_synchrony, few),
        uncertainty=made("uncertainty", _number(emergence_uncertainty(late)), emergence_uncertainty),
    )
