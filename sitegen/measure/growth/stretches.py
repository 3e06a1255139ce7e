"""Undisturbed stretches: the days between cuts over which a rate of growth means something.

In: the readings of a plant, the events of its run. Out: the longest stretch of readings that no cut lies between. A
prune, a pick, a loss and a new sowing of a plant end a stretch, also where the log does not say which plants they were
of. A plant leaves the comparisons of its group with its move.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.tree import PlotPoint
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Pick, Rows, Run, Tally, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, total, unknown
from sitegen.core.values.units import Dimension

Series = tuple[PlotPoint, ...]


@dataclass(frozen=True, slots=True)
class Disturbance:
    """Days on one of which, or on all of which, a plant was cut; `last` is infinite for a routine without an end."""

    first: float
    last: float

    def between(self, earlier: Day, later: Day) -> bool:
        """Whether it can lie between two readings, or on the day of one: which of the two came first is not known."""
        return self.last >= earlier.first and self.first <= later.last


Cuts = Mapping[str, tuple[Disturbance, ...]]  # of each plant


def placed(points: Iterable[PlotPoint]) -> Series:
    """The readings whose day has a lower bound: one from "before day 40" lies nowhere in a series."""
    return tuple(point for point in points if not point.day.before)


def may_be_of(plant: str, which: Which | None) -> bool:
    """Whether a record can be about a plant: one that names no plants can be about each."""
    if which is None or not which.named:
        return which is None or not which.nobody
    return plant in which.ids


def cuts_of(run: Run) -> Cuts:
    """All days on which each plant was cut, or may have been."""
    roster = Roster.of(run.setup, run.rows)
    return {plant: _disturbances(run.rows, roster, plant) for plant in run.setup.plant_ids}


def _disturbances(rows: Rows, roster: Roster, plant: str) -> tuple[Disturbance, ...]:

    def concerned(which: Which | None, tubs: Iterable[str], day: Day) -> bool:
        if which is not None and which.named:
            return plant in which.ids
        return may_be_of(plant, which) and _in_tub(plant, tubs, day, roster)

    sown = [event.day for event in rows.of(Deed.SOW) if may_be_of(plant, event.which)]
    found = [day for day in sown if day.first > sown[0].last]
    found += [e.day for e in rows.of(Deed.PRUNE, Deed.LOST) if concerned(e.which, (e.tub,), e.day)]
    found += [pick.day for pick in rows.picks if concerned(pick.which, pick.tubs, pick.day)]
    routines = [
        Disturbance(routine.day.first, routine.until.last if routine.until else math.inf)
        for routine in rows.routines
        if routine.what == "prune" and concerned(None, (routine.tub,), routine.day)
    ]
    return (*(Disturbance(day.first, day.last) for day in found), *routines, *_unlogged_picks(rows, plant))


def _in_tub(plant: str, tubs: Iterable[str], day: Day, roster: Roster) -> bool:
    """Whether a plant can stand in one of these tubs on a day; in each, where none is said."""
    said = {tub for tub in tubs if tub}
    return not said or bool(said & {roster.tub_of(plant, number) for number in (day.first, day.last)})


def _unlogged_picks(rows: Rows, plant: str) -> Iterator[Disturbance]:
    """The days in which picks lie that only a running total knows of: none before the first that was logged."""
    since = min((pick.day.first for pick in rows.picks), default=0)
    for tally in rows.tallies:
        if may_be_of(plant, tally.which):
            if _exceeds_its_picks(tally, rows.picks):
                yield Disturbance(min(since, tally.day.first), tally.day.last)
            since = tally.day.first


def _exceeds_its_picks(tally: Tally, picks: Iterable[Pick]) -> bool:
    """Whether a running total holds more than the picks that it may cover come to at most."""
    dimension = tally.amount.dimension
    covered = [_size(pick, dimension) for pick in picks if pick.day.first <= tally.day.last]
    most = total(covered, dimension).high
    return (
        most is not None and tally.amount.low > most + (tally.amount.step + sum(q.step for q in covered)) / 2
    )


def _size(pick: Pick, dimension: Dimension) -> Quantity:
    if dimension is not Dimension.COUNT:
        return pick.weight
    return unknown(dimension) if pick.count is None else counted(pick.count)


def _runs(series: Series, cuts: Sequence[Disturbance]) -> Iterator[Series]:
    """Readings that follow on each other without a cut between them."""
    if not series:
        return
    begun = 0
    for place, (before, after) in enumerate(pairwise(series), 1):
        if any(cut.between(before.day, after.day) for cut in cuts):
            yield series[begun:place]
            begun = place
    yield series[begun:]


def longest_stretch(series: Series, cuts: Sequence[Disturbance]) -> Series:
    """The stretch with the most days, at least, from its first reading to its last; of equals the earliest."""
    return max(_runs(series, cuts), key=lambda s: s[-1].day.span_since(s[0].day).first, default=())


def until_moved(series: Series, run: Run, plant: str) -> Series:
    """The readings of a plant from before the day on which it was moved to another tub."""
    move = Roster.of(run.setup, run.rows).moved_on(plant)
    return series if move is None else tuple(point for point in series if point.day.last < move.day.first)
