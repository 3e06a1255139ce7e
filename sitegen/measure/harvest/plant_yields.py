"""The harvest of each plant of a set, as statistics: how many plants, mean, range and standard deviation.

In: the harvest of a run. Out: `Statistics` of a group, variety or tub. Only plants whose picks were all kept apart have
a value of their own; a mean is also given where all picks lie inside the set. Zero is no yield of a plant that still
grows, and a weight for several plants is never split.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import NO_FIGURE, NOTHING_YET, Figure, Remark, counted_remark, remark
from sitegen.core.facts.indices import Statistics
from sitegen.core.facts.tree import Harvest
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.quantity import Quantity, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.breakdown import Membership, shared_remarks, weight_remarks
from sitegen.measure.harvest.parts import INSIDE, OF_PLANTS, RowWeight, weight_of_row
from sitegen.measure.harvest.totals import HarvestRecords, Part, parts_of
from sitegen.measure.methods import coarse, figure, formula
from sitegen.measure.plant_statistics import (
    deviation_figure,
    mean_figure,
    number_of_plants,
    range_figure,
)
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN

Said = Sequence[Remark | None]


@formula(reads=OF_PLANTS, exact_if=INSIDE)
def mean_weight(picked: float, plants: int) -> float:
    """Mean yield of a plant.

    Over the plants of a group, variety or tub where all their picks were of these plants alone, those that were lost or
    gave nothing to the end included. There is none while
    nothing was picked yet from a plant that still grows.

    Parameters
    ----------
    picked
        What all of them gave [g].
    plants
        How many they are [count].

    Returns
    -------
    float
        Mean [g a plant].

    Notes
    -----
    ::

        mean = Σ weight / number of plants

    A plant that changed its tub is left out of the means of groups and tubs.

    """
    return picked / plants


@formula(reads=OF_PLANTS, exact_if=INSIDE)
def weight_per_spot_of_set(picked: Quantity, spots: int) -> Quantity:
    """Harvest per spot of a group, variety or tub.

    What the plants gave over their spots, those whose plant was lost included. What was weighed together with other
    plants may be theirs in any part.

    Parameters
    ----------
    picked
        What all of them gave [g].
    spots
        How many they are [count].

    Returns
    -------
    Quantity
        Harvest per spot [g].

    Notes
    -----
    ::

        yield = weight of the set / spots

    A plant that changed its tub is left out of groups and tubs, with its spot.

    """
    step = coarse(picked.step / spots, picked.low / spots)
    return propagate(lambda w: w / spots, increasing=[picked], dimension=Dimension.MASS, step=step)


@dataclass(frozen=True, slots=True)
class PlantYields:
    """The harvest of one run by plant, for statistics over sets of its plants."""

    records: HarvestRecords
    members: Membership
    parts: Sequence[Part]
    plants: Mapping[str, Figure]

    @classmethod
    def of(cls, run: Run, harvest: Harvest) -> PlantYields:
        """Of the harvest of a run."""
        records = HarvestRecords.of(run)
        plants = {named.key: named.figure for named in harvest.by_plant}
        return cls(records, Membership.of(records), parts_of(records.everything), plants)

    def statistics(self, name: str, plants: Sequence[str], moved: Sequence[str] = ()) -> Statistics:
        """Of some plants, without those that moved; nothing without a harvest."""
        if not self.plants:
            return Statistics()
        left_out = remark("moved_plants_left_out", plants=tuple(moved)) if moved else None
        stayed = [plant for plant in plants if plant not in moved]
        waiting = tuple(plant for plant in stayed if NOTHING_YET in self.plants[plant].remarks)
        nothing_yet = remark("nothing_picked_yet_from", plants=waiting) if waiting else None
        row = self._row(stayed)
        kept = {plant: value for plant in stayed if (value := self._own(plant)) is not None}
        values, rows = list(kept.values()), self._rows(kept)
        others = counted_remark("plants_not_weighed", len(stayed) - len(waiting) - len(kept))
        said = (others, nothing_yet, left_out)
        inside = bool(stayed) and not row.shared and not waiting
        if inside and len(kept) < len(stayed) and row.value is not None:
            number = number_of_plants(name, len(stayed), row.rows, left_out)
            mean = _mean_of_row(name, row, row.value, len(stayed), left_out)
        elif len(kept) >= FEWEST_FOR_A_MEAN and not waiting:
            number = number_of_plants(name, len(kept), rows, *said)
            mean = mean_figure(name, values, rows, *said)
        else:
            few = remark("fewer_than_three_plants") if inside else remark("not_kept_by_plant")
            mean = figure(f"{name}.mean", None, mean_weight, row.rows, nothing_yet or few, left_out)
            if not kept:
                return Statistics(mean=mean)
            number = number_of_plants(name, len(kept), rows, *said)
        if not kept:
            return Statistics(number, mean)
        return Statistics(
            number,
            mean,
            range_figure(name, values, rows, *said),
            deviation_figure(name, values, rows, *said),
        )

    def per_spot(self, name: str, plants: Sequence[str], moved: Sequence[str] = ()) -> Figure:
        """The yield of a spot, without those whose plant was moved; no figure without a harvest."""
        if not self.plants:
            return NO_FIGURE
        left_out = remark("moved_plants_left_out", plants=tuple(moved)) if moved else None
        stayed = [plant for plant in plants if plant not in moved]
        row = self._row(stayed)
        own = [self.plants[plant] for plant in stayed]
        if not stayed or (row.untouched and any(NOTHING_YET in each.remarks for each in own)):
            nothing = NOTHING_YET if stayed else None
            return figure(name, None, weight_per_spot_of_set, (), nothing, left_out)
        rows = row.rows or [source for each in own for source in each.rows]
        value = None if row.value is None else weight_per_spot_of_set(row.value, len(stayed))
        return figure(
            name,
            value,
            weight_per_spot_of_set,
            rows,
            remark("mean_of_plants", n=len(stayed)),
            *weight_remarks(row.own, row.bounded),
            *shared_remarks(row.shared, frozenset(stayed), self.records),
            left_out,
        )

    def _row(self, plants: Sequence[str]) -> RowWeight:
        cell = self.members.cell("", "", plants)
        return weight_of_row(self.parts, cell.certain, cell.possible)

    def _own(self, plant: str) -> Quantity | None:
        """The weight of a plant of which all picks were kept apart."""
        value = self.plants[plant].value
        return value if isinstance(value, Quantity) and not self._row((plant,)).shared else None

    def _rows(self, plants: Mapping[str, Quantity]) -> list[Source]:
        return [row for plant in plants for row in self.plants[plant].rows]


def _mean_of_row(name: str, row: RowWeight, whole: Quantity, plants: int, left_out: Remark | None) -> Figure:
    """The mean of plants of which some were weighed together."""
    mean = propagate(
        lambda weight: mean_weight(weight, plants),
        increasing=[whole],
        dimension=Dimension.MASS,
        step=coarse(whole.step / plants, whole.low / plants),
    )
    how_many = remark("mean_of_plants", n=plants)
    return figure(f"{name}.mean", mean, mean_weight, row.rows, how_many, left_out)
