"""Days from one stage to the next, over plants that were told apart at both.

In: the arrivals of each stage. Out: a figure for each stage. The order of growth bounds what looks leave open: a plant
can have no full pod before a flower was possible. Only the order that the vocabulary declares is taken for certain. A
plant that had not gone on at its last look still waits.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Several, Value, counted_remark, remark
from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.reference.milestones import stages_before
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN
from sitegen.measure.stages.looks import by_day, sowing_day
from sitegen.measure.stages.survival import Observation, kaplan_meier_median


@dataclass(frozen=True, slots=True)
class Bounds:
    """The first and the last day on which a plant can have reached a stage; no last one where it was not seen to."""

    first: int
    last: int | None


ByPlant = Mapping[tuple[str, str], Bounds]  # by stage and plant


def bounds_in_order(run: Run, stages: Mapping[str, Sequence[Arrival]]) -> ByPlant:
    """The bounds of each plant that was looked at for a stage, narrowed by its other stages.

    A stage is not reached before those that always come first, nor after one that always follows. A log that
    contradicts the order leaves each stage as it was seen.
    """
    kind = run.setup.crop.kind
    looked_at = {
        (name, arrival.plant): arrival
        for name, arrivals in stages.items()
        for arrival in arrivals
        if arrival.day or arrival.after
    }
    seen = {place: _bounds(run, arrival) for place, arrival in looked_at.items()}
    before = {name: stages_before(kind, name) for name in stages}
    found = {}
    for (name, plant), own in seen.items():
        earlier = [(each, plant) for each in before[name] if (each, plant) in seen]
        later = [(each, plant) for each in stages if name in before[each] and (each, plant) in seen]
        first = max([own.first, *(seen[place].first for place in earlier)])
        lasts = [bounds.last for bounds in (own, *map(seen.__getitem__, later)) if bounds.last is not None]
        last = None if own.last is None else min(lasts)
        mine = looked_at[name, plant]
        against = any(_contradict(looked_at[place], mine) for place in earlier) or any(
            _contradict(mine, looked_at[place]) for place in later
        )
        found[name, plant] = own if against or (last is not None and first > last) else Bounds(first, last)
    return found


def _contradict(earlier: Arrival, later: Arrival) -> bool:
    """Whether a plant was seen without a stage at the look that saw a later one, or after it, whatever their days are."""
    if earlier.after is None or later.day is None:
        return False
    return by_day(earlier.after) >= by_day(later.day)


def _bounds(run: Run, arrival: Arrival) -> Bounds:
    own = sowing_day(run, arrival.plant)
    first = own if arrival.known_after is None else max(own, arrival.known_after)
    return Bounds(first, arrival.day.last if arrival.day else None)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two stages of a plant, the first of which it reached."""

    arrivals: tuple[Arrival, Arrival]
    bounds: tuple[Bounds, Bounds]

    @property
    def shortest(self) -> Observation:
        """The time from the first stage at its last day to the second at its first."""
        since = self.bounds[0].last or 0
        return self._time(since, self.bounds[1].first)

    @property
    def longest(self) -> Observation:
        """The time from the first stage at its first day to the second at its last."""
        return self._time(self.bounds[0].first, self.bounds[1].last)

    def _time(self, since: int, until: int | None) -> Observation:
        second = self.bounds[1]
        if until is None or second.last is None:
            return Observation(max(0, second.first - 1 - since), reached=False)
        return Observation(max(0, until - since), reached=True)

    @property
    def reversed(self) -> bool:
        """Whether the second stage was seen before the first was possible: then there is no time between them."""
        last = self.bounds[1].last
        return last is not None and last < self.bounds[0].first and not self.about

    @property
    def about(self) -> bool:
        """Whether a day of either stage is about so much."""
        return any(day.about for a in self.arrivals for day in (a.day, a.after) if day)


def _span(first: int, last: int, *, about: bool) -> Quantity:
    return Quantity(first, last, Dimension.DAYS, about=about, step=1)


def _value(pairs: Sequence[Pair]) -> Value:
    """The median; two plants that both went on are shown one by one."""
    about = any(pair.about for pair in pairs)
    if len(pairs) == FEWEST_FOR_A_MEAN - 1 and all(pair.longest.reached for pair in pairs):
        return Several(tuple(_span(p.shortest.day, p.longest.day, about=about) for p in pairs))
    low = kaplan_meier_median(pair.shortest for pair in pairs)
    high = kaplan_meier_median(pair.longest for pair in pairs)
    return None if low is None or high is None else _span(min(low, high), high, about=about)


def days_since_stage_before(
    before: MilestoneFacts | None, name: str, arrivals: Sequence[Arrival], bounds: ByPlant
) -> Figure:
    """Days from the stage before, over the plants that had reached it and were looked at for this one."""
    path = f"milestones.{name}.since_before"
    if before is None:
        return figure(path, None, kaplan_meier_median, (), remark("no_stage_before"))
    by_plant = {arrival.plant: arrival for arrival in before.arrivals if arrival.day}
    mine = [(by_plant[a.plant], a) for a in arrivals if a.plant in by_plant]
    pairs = [
        Pair(each, (bounds[before.name, each[0].plant], bounds[name, each[1].plant]))
        for each in mine
        if each[1].day or each[1].after
    ]
    if mine and not pairs:
        return figure(path, None, kaplan_meier_median, (), counted_remark("plants_not_looked_at", len(mine)))
    if not pairs:
        return figure(path, None, kaplan_meier_median, (), remark("not_kept_by_plant"))
    mixed_up = [pair for pair in pairs if pair.reversed]
    pairs = [pair for pair in pairs if not pair.reversed]
    turned = counted_remark("plants_in_another_order", len(mixed_up))
    if not pairs:
        return figure(path, None, kaplan_meier_median, (), turned)
    value = _value(pairs)
    went = sum(pair.arrivals[1].day is not None for pair in pairs)
    return figure(
        path,
        value,
        kaplan_meier_median,
        _rows(pairs),
        remark("since_stage", stage=before.label),
        None if value else remark("not_reached_by_half"),
        remark("plants_went_on", n=len(pairs), went=went),
        counted_remark("plants_picked_before", sum(pair.arrivals[1].state == "picked" for pair in pairs)),
        turned,
    )


def _rows(pairs: Sequence[Pair]) -> list[Source]:
    return [arrival.source for pair in pairs for arrival in pair.arrivals if arrival.source]
