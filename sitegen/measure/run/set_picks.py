"""The picks of a group, variety or tub: first and last day, running total, yields for what its tubs took.

In: a run with its harvest, water and light. Out: `SetPicks` and the running total of each set. A pick that may be of
other plants too is never said to be of the set: a day becomes a span, a total an interval.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Per, Remark, counted_remark, remark
from sitegen.core.facts.indices import SetPicks, SetTotal
from sitegen.core.facts.tree import Climate, Solution
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.breakdown import Cell, Membership, shared_remarks, weight_remarks
from sitegen.measure.harvest.parts import running_weights, weight_of_row
from sitegen.measure.harvest.plant_yields import PlantYields
from sitegen.measure.harvest.totals import HOLDING, HarvestRecords, Weighing, in_order, running_parts
from sitegen.measure.harvest.yields import LITRE_ML, Denominator, ground, per, scaled, weight_per
from sitegen.measure.methods import Column, Conditions, figure, formula
from sitegen.measure.run.axis import first_day, last_day, meet
from sitegen.measure.solution.shared import shared_remark

_DAYS: tuple[Column, ...] = ("picks.day", "picks.plants")
_SURE: Conditions = {
    "another day is as early, or as late": ("picks.day",),
    "a pick that was surely theirs is as early, or as late": ("picks.plants",),
}


@formula(reads=_DAYS, exact_if=_SURE)
def first_pick_of_set(sure: Sequence[Day], perhaps: Sequence[Day]) -> Day | None:
    """First pick of a group, variety or tub.

    The first pick that was surely of its plants. An earlier one that may have been of them too makes it a span of days.

    Parameters
    ----------
    sure
        The days of picks of these plants alone [day].
    perhaps
        Those of picks of which some may be of them [day].

    Returns
    -------
    Day or None
        The day, or the days that it can be; None where no pick was surely of them.

    Notes
    -----
    ::

        first = min(sure, perhaps) to min(sure)

    """
    first = first_day(sure)
    if first is None:
        return None
    earlier = [day for day in perhaps if day.first < first.first]
    if not earlier:
        return first
    about = first.about or any(day.about for day in earlier)
    return Day(min(day.first for day in earlier), first.last, about)


@formula(reads=_DAYS, exact_if=_SURE)
def last_pick_of_set(sure: Sequence[Day], perhaps: Sequence[Day]) -> Day | None:
    """Last pick of a group, variety or tub.

    The last pick that was surely of its plants. A later one that may have been of them too makes it a span of days.

    Parameters
    ----------
    sure
        The days of picks of these plants alone [day].
    perhaps
        Those of picks of which some may be of them [day].

    Returns
    -------
    Day or None
        The day, or the days that it can be; None where no pick was surely of them.

    Notes
    -----
    ::

        last = max(sure) to max(sure, perhaps)

    """
    last = last_day(sure)
    if last is None:
        return None
    later = [day for day in perhaps if day.last > last.last]
    if not later:
        return last
    about = last.about or any(day.about for day in later)
    return Day(last.first, max(day.last for day in later), about)


@dataclass(frozen=True, slots=True)
class Picked:
    """The harvest of one run, for its sets."""

    run: Run
    records: HarvestRecords
    members: Membership
    yields: PlantYields
    solution: Solution
    climate: Climate

    @classmethod
    def of(cls, run: Run, yields: PlantYields, solution: Solution, climate: Climate) -> Picked:
        """Of the harvest of a run."""
        return cls(run, yields.records, yields.members, yields, solution, climate)

    def picks(self, name: str, plants: Sequence[str], moved: Sequence[str], left: Remark | None) -> SetPicks:
        """Of some plants; `moved` are those that count until their move, as `left` says."""
        if not self.records.everything:
            return SetPicks()
        cell = self._cell(plants, moved)
        of_tubs = self._of_tubs(f"{name}.picks", plants)
        return SetPicks(
            self._day(f"{name}.picks.first", cell, left, first=True),
            self._day(f"{name}.picks.last", cell, left, first=False),
            self.yields.per_spot(f"{name}.picks.per_spot", plants, moved),
            *of_tubs,
        )

    def cumulative(self, plants: Sequence[str], moved: Sequence[str]) -> tuple[SetTotal, ...]:
        """The running total after each weight that may be of these plants."""
        return tuple(self._totals(self._cell(plants, moved)))

    def _cell(self, plants: Sequence[str], moved: Sequence[str]) -> Cell:
        return self.members.cell("", "", plants, until_move=bool(moved))

    def _totals(self, cell: Cell) -> Iterator[SetTotal]:
        days = {pick.source: pick.day for pick in self.records.picks}
        days |= {tally.source: tally.day for tally in self.records.tallies}
        everything = self.records.everything
        totals = running_weights(running_parts(everything), cell.certain, cell.possible)
        for item, so_far in zip(in_order(everything), totals, strict=True):
            if cell.possible(item):
                yield SetTotal(days[item.source], so_far, item.source)

    def _day(self, name: str, cell: Cell, left: Remark | None, *, first: bool) -> Figure:
        """The first or the last pick."""
        picks = [(self.records.weighing(pick), pick.day) for pick in self.records.picks]
        sure = [(item.source, day) for item, day in picks if cell.certain(item)]
        perhaps = [
            (item.source, day) for item, day in picks if cell.possible(item) and not cell.certain(item)
        ]
        found = first_pick_of_set if first else last_pick_of_set
        value = found([day for _, day in sure], [day for _, day in perhaps])
        if value is None:
            nothing = remark("picked_with_others_only" if perhaps else "no_pick_of_set")
            return figure(name, None, found, (row for row, _ in perhaps), nothing, left)
        alone = found([day for _, day in sure], [])
        beyond = [row for row, day in perhaps if _goes_beyond(day, alone, first=first)]
        rows = [*(row for row, day in sure if meet(day, alone)), *beyond]
        others = counted_remark("picks_perhaps_of_others", len(beyond))
        return figure(name, value, found, rows, others, left)

    def _of_tubs(self, name: str, plants: Sequence[str]) -> tuple[Figure, Figure, Figure]:
        """What stood in the tubs of these plants, for the ground, the water and the electricity of these tubs."""
        tubs = frozenset(plant.tub for plant in self.run.setup.plants if plant.id in plants)
        picked = self._picked_from(tubs, plants)
        waters = [tub.water for tub in self.solution.tubs if tub.key in tubs]
        energies = [tub.energy for tub in self.climate.tubs if tub.key in tubs]
        made = (
            ("square_metre", ground(self.run, tubs), Per.SQUARE_METRE),
            ("litre", _sum(waters, 1 / LITRE_ML, Dimension.COUNT), Per.LITRE),
            ("kilowatt_hour", _sum(energies, 1.0, Dimension.ENERGY), Per.KILOWATT_HOUR),
        )
        first, second, third = (per(f"{name}.{end}", picked, divisor, unit) for end, divisor, unit in made)
        return first, second, third

    def _picked_from(self, tubs: frozenset[str], plants: Sequence[str]) -> Figure:
        """What was picked from plants while they stood in some tubs; nothing where others began in them too."""
        setup = self.run.setup
        alone = all(plant.id in plants for plant in setup.plants if plant.tub in tubs)
        shared = [why for tub in setup.tubs if tub.id in tubs if (why := shared_remark(self.run, tub.id))]
        if not alone or shared:
            return figure("", None, weight_per, (), *(shared or [remark("tub_of_several_sets")]))
        stays = _Stays.of(self.run, tubs)

        def certain(item: Weighing) -> bool:
            return all(stays.held(plant, item) is True for plant in self.members.givers[item.source])

        def possible(item: Weighing) -> bool:
            return any(stays.held(plant, item) is not False for plant in self.members.givers[item.source])

        parts = self.yields.parts
        row = weight_of_row(parts, certain, possible)
        if row.untouched:
            return figure("", None, weight_per, (), remark("no_pick_of_set"))
        inside = frozenset(plants) | stays.came
        moves = remark("whole_tub_with_moves", plants=stays.moved) if stays.moved else None
        said = (
            *weight_remarks(row.own, row.bounded),
            *shared_remarks(row.shared, inside, self.records),
            moves,
        )
        return figure("", row.value, weight_per, row.rows, *said)


def _goes_beyond(day: Day, sure: Day | None, *, first: bool) -> bool:
    """Whether a pick may have been earlier than the first that is sure, or later than the last."""
    return sure is not None and (day.first < sure.first if first else day.last > sure.last)


def _sum(parts: Iterable[Figure], factor: float, dimension: Dimension) -> Denominator:
    """What several tubs took; not known where that of one is not."""
    found = [scaled(part, factor, dimension) for part in parts]
    rows = [row for each in found for row in each.rows]
    remarks = tuple(dict.fromkeys(said for each in found for said in each.remarks))
    amounts = [each.amount for each in found if each.amount is not None]
    if len(amounts) < len(found):
        return Denominator(None, rows, remarks)
    return Denominator(total(amounts, dimension), rows, remarks)


@dataclass(frozen=True, slots=True)
class _Stays:
    """When each plant stood in some tubs: its tubs in order, each with the day on which it came there."""

    tubs: frozenset[str]
    stays: dict[str, tuple[tuple[str, Day], ...]]

    @classmethod
    def of(cls, run: Run, tubs: frozenset[str]) -> _Stays:
        """Of the plants of a run."""
        stays = {plant.id: [(plant.tub, Day.on(0))] for plant in run.setup.plants}
        for event in sorted(run.rows.of(Deed.MOVE), key=lambda each: each.entry):
            for plant in event.which.ids if event.which else ():
                stays[plant].append((event.tub, event.day))
        return cls(tubs, {plant: tuple(each) for plant, each in stays.items()})

    @property
    def came(self) -> frozenset[str]:
        """The plants that ever stood in the tubs."""
        return frozenset(
            plant for plant, stays in self.stays.items() if any(tub in self.tubs for tub, _ in stays)
        )

    @property
    def moved(self) -> tuple[str, ...]:
        """The plants that were moved into the tubs or out of them."""
        return tuple(
            plant for plant, stays in self.stays.items() if len({tub in self.tubs for tub, _ in stays}) > 1
        )

    def held(self, plant: str, item: Weighing) -> bool | None:
        """Whether a plant stood in the tubs when a weight of it was picked; None where that cannot be told."""
        first, last, _ = item.order
        stays = self.stays[plant]
        ends = [*(day.last for _, day in stays[1:]), None]
        inside = {
            tub in self.tubs
            for (tub, came), end in zip(stays, ends, strict=True)
            if (came.first <= last or len(stays) == 1)
            and (item.holds in HOLDING or end is None or first < end)
        }
        return inside.pop() if len(inside) == 1 else None
