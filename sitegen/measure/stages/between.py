"""Days from one stage to the next, plant by plant.

In: the arrivals of two stages. Out: a figure. Only plants that were told apart at both; one that had not gone on
when it was last looked at still counts as waiting.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from sitegen.core.facts.figure import Figure, Several, Value
from sitegen.core.facts.remark import remark
from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.findings.finding import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.stages.survival import Observation, kaplan_meier_median
from sitegen.measure.working import figure

FEWEST_FOR_A_MEAN = 3  # fewer values are shown one by one
Pair = tuple[Arrival, Arrival]


def _earliest(arrival: Arrival, day: Day) -> int:
    return arrival.after.first if arrival.after else day.first


def _ends(pair: Pair) -> tuple[int, int] | None:
    """The shortest and the longest time between two stages of a plant; None where the second never came."""
    before, after = pair
    if before.day is None or after.day is None:
        return None
    shortest = _earliest(after, after.day) - before.day.last
    longest = after.day.last - _earliest(before, before.day)
    return max(0, shortest), max(0, longest)


def _waited(pair: Pair) -> int:
    before, after = pair
    since = before.day.last if before.day else 0
    return max(0, after.last_look.last - since) if after.last_look else 0


def _observations(pairs: Sequence[Pair], end: Literal[0, 1]) -> list[Observation]:
    """One observation for each plant, with the shortest or the longest time."""
    return [
        Observation(ends[end], reached=True)
        if (ends := _ends(pair))
        else Observation(_waited(pair), reached=False)
        for pair in pairs
    ]


def _span(low: int, high: int) -> Quantity:
    return Quantity(min(low, high), high, Dimension.DAYS, step=1)


def _value(pairs: Sequence[Pair]) -> Value:
    known = [ends for pair in pairs if (ends := _ends(pair))]
    if 1 < len(known) == len(pairs) < FEWEST_FOR_A_MEAN:
        return Several(tuple(_span(*ends) for ends in known))
    low = kaplan_meier_median(_observations(pairs, 0))
    high = kaplan_meier_median(_observations(pairs, 1))
    return None if low is None or high is None else _span(low, high)


def days_between(before: MilestoneFacts | None, name: str, arrivals: Sequence[Arrival]) -> Figure:
    """Days from the stage before, over the plants that had reached it."""
    path = f"milestones.{name}.since_before"
    if before is None:
        return figure(path, None, kaplan_meier_median, (), remark("no_stage_before"))
    by_plant = {arrival.plant: arrival for arrival in before.arrivals if arrival.day}
    pairs = [(by_plant[a.plant], a) for a in arrivals if a.plant in by_plant]
    if not pairs:
        return figure(path, None, kaplan_meier_median, (), remark("not_kept_by_plant"))
    value = _value(pairs)
    went = sum(after.day is not None for _, after in pairs)
    return figure(
        path,
        value,
        kaplan_meier_median,
        _rows(pairs),
        remark("since_stage", stage=before.label),
        None if value else remark("not_reached_by_half"),
        remark("plants_went_on", n=len(pairs), went=went),
    )


def _rows(pairs: Sequence[Pair]) -> list[Source]:
    return [arrival.source for pair in pairs for arrival in pair if arrival.source]
