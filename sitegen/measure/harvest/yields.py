"""Yields: the harvest per plant, stem, area, water, electricity, light, day and plant-day.

In: the harvest, water and light of a run. Out: `HarvestPer`. Never divides by what was not recorded; a ratio of
two intervals is one itself.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Figure, Per, Rate, Remark, RemarkCode, remark
from sitegen.core.facts.indices import HarvestPer
from sitegen.core.facts.tree import Climate, Harvest, Solution
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run, Thinning
from sitegen.core.values.quantity import Quantity, counted, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.light import ALIKE, READ
from sitegen.measure.harvest.plant_days import Standing
from sitegen.measure.harvest.totals import HELD
from sitegen.measure.methods import LAMPS, LIGHT, WATER, WEIGHTS, coarse, figure, formula
from sitegen.measure.solution.shared import shared_remark
from sitegen.measure.solution.water import FILLED
from sitegen.measure.stages.looks import sowing_day

CM2_A_M2, LITRE_ML, GRAMS_A_KILOGRAM, WEEK = 10_000.0, 1000.0, 1000.0, 7.0


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
        "it is not divided by the plants picked": ("picks.plants",),
    },
)
def weight_per(picked: float, amount: float) -> float:
    """Yield for each unit of what went in.

    The total picked over plants, stems, ground, water, electricity, light, days or plant-days.

    Parameters
    ----------
    picked
        Total picked [g].
    amount
        The divisor, more than 0 [count, m², L, kWh, mol, days, weeks or plant-days].

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

    Of a group, variety or tub, ground, water and electricity are those of its tubs, and the weight is that of all plants
    while they stood there. There is none where plants of another one stood there from the start.

    Where a tub was shared with another run nothing is divided by ground, water, electricity or light: two crops grew
    from them.

    """
    return picked / amount


@formula(reads=(*WEIGHTS, *LAMPS), exact_if={**HELD, **ALIKE})
def energy_per_weight(energy: float, picked: float) -> float:
    """Electricity for a kilogram picked.

    Parameters
    ----------
    energy
        Electricity for light over the run [kWh].
    picked
        Total picked, more than 0 [g].

    Returns
    -------
    float
        Electricity [kWh/kg].

    Notes
    -----
    ::

        electricity = 1000 · energy / total

    It is the yield for the electricity turned over. Pumps and fans are in neither.

    References
    ----------
    By definition of the quantities.

    """
    return GRAMS_A_KILOGRAM * energy / picked


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


def ground(run: Run, tubs: Collection[str] = ()) -> Denominator:
    """The ground that tubs cover [m²]: all, unless some are named."""
    footprints = [tub.system.footprint for tub in run.setup.tubs if not tubs or tub.id in tubs]
    areas = [
        propagate(lambda a, b: a * b / CM2_A_M2, increasing=sides, dimension=Dimension.AREA)
        for sides in footprints
        if sides
    ]
    if len(areas) < len(footprints):
        return _unknown("footprint_not_recorded")
    return Denominator(total(areas, Dimension.AREA), (run.setup.at("system"),))


def per(path: str, picked: Figure, divisor: Denominator, unit: Per) -> Figure:
    """One yield of the total or of a part of it."""
    weight, amount = picked.value, divisor.amount
    if not isinstance(weight, Quantity):
        return figure(path, None, weight_per, picked.rows, *picked.remarks)
    if amount is not None and weight.high is None and amount.high is None:  # it could be anything
        return figure(path, None, weight_per, picked.rows, *picked.remarks, *divisor.remarks)
    value = ratio(weight, amount, unit) if amount is not None else None
    rows = (*picked.rows, *divisor.rows) if value else picked.rows
    return figure(path, value, weight_per, rows, *(picked.remarks if value else ()), *divisor.remarks)


def _plants_picked(run: Run) -> Denominator:
    """The plants that a pick names; a pick of some of them only says that there was one."""
    named = {plant for pick in run.rows.picks for plant in pick.which.ids}
    if not named or any(not pick.which.ids for pick in run.rows.picks):
        return _unknown("picked_plants_not_kept")
    return Denominator(counted(len(named)), [pick.source for pick in run.rows.picks])


def scaled(of: Figure, factor: float, dimension: Dimension) -> Denominator:
    """A figure times a factor, as the amount that a yield is divided by."""
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


def _standing(run: Run) -> Denominator:
    """The days that the plants of the run stood."""
    standing = Standing.of(run)
    if standing is None:
        return _unknown("no_entry")
    return Denominator(*standing.days(run.setup.plant_ids, {}))


def _energy(picked: Figure, energy: Figure, shared: Remark | None) -> Figure:
    """The electricity for what was picked: as much as the yield for the electricity says, turned over."""
    path, weight, used = "harvest.per.kilogram", picked.value, energy.value
    if shared is not None:
        return figure(path, None, energy_per_weight, picked.rows, shared)
    if not isinstance(weight, Quantity) or not isinstance(used, Quantity):
        missing = picked if not isinstance(weight, Quantity) else energy
        return figure(path, None, energy_per_weight, missing.rows, *missing.remarks)
    remarks, value = (*picked.remarks, *energy.remarks), None
    if weight.high is None or weight.high > 0:
        typical = energy_per_weight(used.middle, weight.middle) if weight.middle else 0.0
        parts = [q.step / q.middle for q in (used, weight) if q.middle]
        step = typical * max(parts, default=0.0)
        value = propagate(
            energy_per_weight,
            increasing=[used],
            decreasing=[weight],
            dimension=Dimension.ENERGY,
            step=coarse(step, typical),
        )
    if value is None or (value.low == 0 and value.high is None):
        return figure(path, None, energy_per_weight, picked.rows, *(remarks or (remark("nothing_weighed"),)))
    return figure(path, Rate(value, Per.KILOGRAM), energy_per_weight, (*picked.rows, *energy.rows), *remarks)


def yields_of(run: Run, harvest: Harvest, solution: Solution, climate: Climate, length: Figure) -> HarvestPer:
    """Yields for plants, ground, water, electricity, light and time."""
    picked, shared = harvest.total, shared_remark(run)

    def made(name: str, divisor: Denominator, unit: Per) -> Figure:
        return per(f"harvest.per.{name}", picked, divisor, unit)

    def of_tub(name: str, divisor: Denominator, unit: Per) -> Figure:
        """One yield of what a tub takes: none where it is shared, since two crops grew from it."""
        if shared is None:
            return made(name, divisor, unit)
        return figure(f"harvest.per.{name}", None, weight_per, picked.rows, shared)

    return HarvestPer(
        stem=made("stem", _stems(run), Per.STEM),
        plant_picked=made("plant_picked", _plants_picked(run), Per.PLANT),
        square_metre=of_tub("square_metre", ground(run), Per.SQUARE_METRE),
        litre=of_tub("litre", scaled(solution.water, 1 / LITRE_ML, Dimension.COUNT), Per.LITRE),
        kilowatt_hour=of_tub(
            "kilowatt_hour", scaled(climate.energy, 1.0, Dimension.ENERGY), Per.KILOWATT_HOUR
        ),
        kilogram=_energy(picked, climate.energy, shared),
        mol=of_tub("mol", _light(run, climate), Per.MOL),
        day=made("day", scaled(length, 1.0, Dimension.DAYS), Per.DAY),
        plant_day=made("plant_day", _standing(run), Per.PLANT_AND_DAY),
        week_of_picking=made("week_of_picking", _weeks(harvest), Per.WEEK),
    )
