"""Yields: the harvest per plant, stem, area, water, electricity, light and day.

In: the harvest, water and light of a run. Out: `HarvestPer`. Never divides by what was not recorded; a ratio of
two intervals is one itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import (
    NOTHING_YET,
    Figure,
    Label,
    Named,
    Per,
    Rate,
    Remark,
    RemarkCode,
    Several,
    Value,
    remark,
)
from sitegen.core.facts.indices import HarvestPer
from sitegen.core.facts.tree import Climate, Harvest, Solution
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Run, Thinning
from sitegen.core.values.quantity import Quantity, counted, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.light import READ
from sitegen.measure.harvest.breakdown import Membership
from sitegen.measure.harvest.parts import RowWeight, weight_of_row
from sitegen.measure.harvest.totals import HELD, HarvestRecords, Part, parts_of
from sitegen.measure.methods import LAMPS, LIGHT, WATER, WEIGHTS, coarse, figure, formula
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN
from sitegen.measure.solution.water import FILLED
from sitegen.measure.stages.looks import sowing_day

CM2_A_M2, LITRE_ML, WEEK = 10_000.0, 1000.0, 7.0


@dataclass(frozen=True, slots=True)
class Denominator:
    """The amount that a yield is divided by, with its rows; None where it is not known, and remarks on the reason."""

    amount: Quantity | None
    rows: Sequence[Source] = ()
    remarks: tuple[Remark, ...] = ()


@formula(
    reads=(
        *WEIGHTS,
        *WATER,
        *LAMPS,
        *LIGHT,
        "picks.day",
        "picks.plants",
        "entries.day",
        "events.day",
        "system.footprint",
    ),
    exact_if={
        **HELD,
        **READ,
        **FILLED,
        "it is not divided by days": ("picks.day", "entries.day", "events.day"),
    },
)
def weight_per(picked: float, amount: float) -> float:
    """Yield for each unit of what went in.

    The total picked over plants, stems, ground, water, electricity, light or days.

    Parameters
    ----------
    picked
        Total picked [g].
    amount
        The divisor, more than 0 [count, m², L, kWh, mol, days or weeks].

    Returns
    -------
    float
        Yield [g a unit].

    Notes
    -----
    ::

        yield = total / amount

    Ground is the footprint of the tubs. Water is all that was poured in, what evaporated included. Light is the sum
    over the run times the footprint. Weights are as picked: fresh, and trimmed as the log says. Weeks of picking run
    from the first pick to the last.

    """
    return picked / amount


@formula(
    reads=(*WEIGHTS, "picks.day", "picks.plants", "tallies.day"),
    exact_if={
        **HELD,
        "all plants that it may be of are in the mean": ("picks.plants",),
        "no plant of the mean was moved on these days": ("picks.day", "tallies.day"),
    },
)
def mean_weight(weights: Sequence[float]) -> float:
    """Mean yield of a plant.

    Over the plants of a group, variety or tub where all their picks were of these plants alone, those that were lost or
    gave nothing to the end included. It is not given while nothing was picked yet from a plant that stands.

    Parameters
    ----------
    weights
        What each plant gave [g].

    Returns
    -------
    float
        Mean [g a plant]; fewer than three plants that were weighed one by one are shown so instead.

    Notes
    -----
    ::

        mean = Σ weight / number of plants

    A plant that changed its tub is left out of the means of groups and tubs.

    """
    return sum(weights) / len(weights)


def ratio(picked: Quantity, amount: Quantity, per: Per) -> Rate | None:
    """A yield carried through both intervals; None where nothing can be divided by."""
    if amount.low <= 0 and (amount.high is None or amount.high <= 0):
        return None
    step = coarse(picked.step / amount.middle, picked.low / amount.middle) if amount.middle else 0.0
    made = propagate(
        weight_per, increasing=[picked], decreasing=[amount], dimension=Dimension.MASS, step=step
    )
    return Rate(made, per) if made.known else None


def _unknown(code: RemarkCode) -> Denominator:
    return Denominator(None, (), (remark(code),))


def _thinned(run: Run, plant: str) -> Thinning | None:
    """The last thinning of a spot since its own sowing."""
    events = [
        e
        for e in run.rows.of(Thinning)
        if e.which and plant in e.which.ids and e.day.last >= sowing_day(run, plant)
    ]
    return max(events, key=lambda event: (event.day, event.source), default=None)


def _stems(run: Run) -> Denominator:
    """Stems left at thinning, where a spot was left more than one.

    `thin_to: 2` leaves two at most: each spot counts from one stem to as many as it was thinned to.
    """
    thinned = [_thinned(run, plant) for plant in run.setup.plant_ids]
    left = [round(e.left.low) if e and e.left else 1 for e in thinned]
    if not any(number > 1 for number in left):
        return _unknown("one_stem_a_spot")
    rows = tuple(event.source for event in thinned if event)
    return Denominator(Quantity(len(left), sum(left), Dimension.COUNT), rows)


def _ground(run: Run) -> Denominator:
    """The ground that the tubs cover [m²]."""
    footprints = [tub.system.footprint for tub in run.setup.tubs]
    areas = [
        propagate(lambda a, b: a * b / CM2_A_M2, increasing=sides, dimension=Dimension.AREA)
        for sides in footprints
        if sides
    ]
    if len(areas) < len(footprints):
        return _unknown("footprint_not_recorded")
    return Denominator(total(areas, Dimension.AREA), (run.setup.at("system"),))


@dataclass(frozen=True, slots=True)
class _Means:
    """Means over sets of plants, from the harvest of one run."""

    members: Membership
    parts: Sequence[Part]
    plants: Mapping[str, Figure]

    def figure(self, name: str, plants: Sequence[str], *, until_move: bool) -> Figure:
        """The mean yield of some plants; one that changed its tub is left out where it counts until then only."""
        moved = tuple(plant for plant in plants if until_move and plant in self.members.moves)
        stayed = [plant for plant in plants if plant not in moved]
        left_out = remark("moved_plants_left_out", plants=moved) if moved else None
        row = self._row(stayed)
        unpicked = tuple(plant for plant in stayed if self._not_yet(plant))
        if not stayed or not self.plants or row.shared:
            return figure(name, None, mean_weight, row.rows, remark("not_kept_by_plant"), left_out)
        if unpicked:
            waiting = remark("nothing_picked_yet_from", plants=unpicked)
            return figure(name, None, mean_weight, row.rows, waiting, left_out)
        how_many = remark("mean_of_plants", n=len(stayed))
        return figure(name, self._value(stayed, row), mean_weight, row.rows, how_many, left_out)

    def _row(self, plants: Sequence[str]) -> RowWeight:
        cell = self.members.cell("", "", plants)
        return weight_of_row(self.parts, cell.certain, cell.possible)

    def _not_yet(self, plant: str) -> bool:
        return NOTHING_YET in self.plants[plant].remarks if plant in self.plants else False

    def _value(self, plants: Sequence[str], row: RowWeight) -> Value:
        """The mean of single plants, else of what they were weighed together."""
        values = [self.plants[plant].value for plant in plants]
        own = [value for value in values if isinstance(value, Quantity)]
        if len(own) == len(plants) and not any(self._row((plant,)).shared for plant in plants):
            return _mean_of(own)
        if row.value is None:
            return None
        n, whole = len(plants), row.value
        return Rate(
            propagate(lambda w: w / n, increasing=[whole], dimension=Dimension.MASS, step=whole.step),
            Per.PLANT,
        )


def _mean_of(values: Sequence[Quantity]) -> Value:
    if len(values) < FEWEST_FOR_A_MEAN:
        return Several(tuple(values)) if len(values) > 1 else values[0]
    step = max(value.step for value in values)
    made = propagate(lambda *w: mean_weight(w), increasing=values, dimension=Dimension.MASS, step=step)
    return Rate(made, Per.PLANT)


def _per(name: str, picked: Figure, divisor: Denominator, per: Per) -> Figure:
    """One yield."""
    path, weight, amount = f"harvest.per.{name}", picked.value, divisor.amount
    if not isinstance(weight, Quantity):
        return figure(path, None, weight_per, picked.rows, *picked.remarks)
    if amount is not None and weight.high is None and amount.high is None:  # it could be anything
        return figure(path, None, weight_per, picked.rows, *picked.remarks, *divisor.remarks)
    value = ratio(weight, amount, per) if amount is not None else None
    rows = (*picked.rows, *divisor.rows) if value else picked.rows
    return figure(path, value, weight_per, rows, *(picked.remarks if value else ()), *divisor.remarks)


def _plants_picked(run: Run) -> Denominator:
    """The plants that a pick names; a pick of some of them only says that there was one."""
    named = {plant for pick in run.rows.picks for plant in pick.which.ids}
    if not named or any(not pick.which.ids for pick in run.rows.picks):
        return _unknown("picked_plants_not_kept")
    return Denominator(counted(len(named)), [pick.source for pick in run.rows.picks])


def _scaled(of: Figure, factor: float, dimension: Dimension) -> Denominator:
    value = of.value
    if not isinstance(value, Quantity):
        return Denominator(None, of.rows, of.remarks)
    return Denominator(replace(value.times(factor), dimension=dimension), of.rows, of.remarks)


def _light(run: Run, climate: Climate) -> Denominator:
    """Light on all tubs [mol]: each tub's sum times its footprint."""
    parts, rows, remarks = [], list[Source](), list[Remark]()
    for tub, known in zip(run.setup.tubs, climate.tubs, strict=True):
        light, footprint = known.light_sum.value, tub.system.footprint
        remarks += known.light_sum.remarks if footprint else (remark("footprint_not_recorded"),)
        rows += known.light_sum.rows
        if isinstance(light, Quantity) and footprint:
            parts.append(
                propagate(
                    lambda mol, a, b: mol * a * b / CM2_A_M2,
                    increasing=[light, *footprint],
                    dimension=Dimension.LIGHT_SUM,
                )
            )
        else:
            parts.append(unknown(Dimension.LIGHT_SUM))
    whole = total(parts, Dimension.LIGHT_SUM)
    return Denominator(whole if whole.low > 0 else None, rows, tuple(remarks))


def _weeks(harvest: Harvest) -> Denominator:
    days = harvest.timing.picking.value
    if not isinstance(days, Quantity) or not days.high:
        return _unknown("picked_on_one_day" if harvest.first_pick.recorded else "no_harvest")
    return Denominator(
        Quantity(days.low / WEEK, days.high / WEEK, Dimension.COUNT, about=days.about),
        harvest.timing.picking.rows,
    )


def yields_of(run: Run, harvest: Harvest, solution: Solution, climate: Climate, length: Figure) -> HarvestPer:
    """Yields for plants, ground, water, electricity, light and time."""
    picked, setup = harvest.total, run.setup
    records = HarvestRecords.of(run)
    plants_by_id = {named.key: named.figure for named in harvest.by_plant}
    mean = _Means(Membership.of(records), parts_of(records.everything), plants_by_id)

    def means(
        path: str, plants: Mapping[str, Sequence[str]], *, until_move: bool = True
    ) -> tuple[Named, ...]:
        """The mean of each group of plants, variety or tub."""
        return tuple(
            Named(
                key,
                Label(setup.variety_name(key) if path == "by_variety" else key),
                mean.figure(f"harvest.per.{path}.{key}", members, until_move=until_move),
            )
            for key, members in plants.items()
        )

    varieties = {v: [p.id for p in setup.plants if p.variety == v] for v in setup.variety_ids}
    tubs = {tub.id: [p.id for p in setup.plants if p.tub == tub.id] for tub in setup.tubs}
    return HarvestPer(
        stem=_per("stem", picked, _stems(run), Per.STEM),
        plant_picked=_per("plant_picked", picked, _plants_picked(run), Per.PLANT),
        square_metre=_per("square_metre", picked, _ground(run), Per.SQUARE_METRE),
        litre=_per("litre", picked, _scaled(solution.water, 1 / LITRE_ML, Dimension.COUNT), Per.LITRE),
        kilowatt_hour=_per(
            "kilowatt_hour", picked, _scaled(climate.energy, 1.0, Dimension.ENERGY), Per.KILOWATT_HOUR
        ),
        mol=_per("mol", picked, _light(run, climate), Per.MOL),
        day=_per("day", picked, _scaled(length, 1.0, Dimension.DAYS), Per.DAY),
        week_of_picking=_per("week_of_picking", picked, _weeks(harvest), Per.WEEK),
        by_group=means("by_group", dict(setup.groups)),
        by_variety=means("by_variety", varieties, until_move=False),
        by_tub=means("by_tub", tubs),
    )
