"""The yields of a run as figures.

In: a run, its total, water and light. Out: `HarvestPer`. What a yield cannot be held against is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts import Climate, Figure, Harvest, HarvestPer, Solution
from sitegen.core.figure import Per
from sitegen.core.finding import Source
from sitegen.core.quantity import Quantity, carry, counted, total, unknown
from sitegen.core.rows import Run
from sitegen.core.tongue import tr
from sitegen.core.units import Dimension
from sitegen.measure.crates import Crates
from sitegen.measure.gathered import bounded
from sitegen.measure.working import figure, remarks
from sitegen.measure.yields import area_of, means_by_scope, ratio, stems_of, weight_per

__all__ = ["yields_of"]

LITRE_ML, WEEK, CM2_A_M2 = 1000.0, 7.0, 10_000.0


@dataclass(frozen=True, slots=True)
class Against:
    """What a yield is held against: how much, from where, or why it is not known."""

    amount: Quantity | None
    rows: Sequence[Source] = ()
    note: str = ""


def _per(name: str, picked: Figure, against: Against, per: Per) -> Figure:
    """One yield."""
    path, weight, amount = f"harvest.per.{name}", picked.value, against.amount
    if not isinstance(weight, Quantity):
        return figure(path, None, weight_per, picked.rows, picked.note)
    if amount is not None and weight.high is None and amount.high is None:  # it could be anything
        return figure(path, None, weight_per, picked.rows, remarks(picked.note, against.note))
    value = ratio(weight, amount, per) if amount is not None else None
    rows = (*picked.rows, *against.rows) if value else picked.rows
    return figure(path, value, weight_per, rows, remarks(picked.note if value else "", against.note))


def _stems(run: Run) -> Against:
    found = stems_of(run)
    return Against(*found) if found else Against(None, (), tr("no spot was left more than one stem"))


def _plants_picked(run: Run) -> Against:
    """The plants that a pick names; a pick of some of them only says that there was one."""
    named = {plant for pick in run.rows.picks for plant in pick.which.ids}
    if not named or any(not pick.which.ids for pick in run.rows.picks):
        return Against(None, (), tr("which plants were picked: not kept"))
    return Against(counted(len(named)), [pick.source for pick in run.rows.picks])


def _ground(run: Run) -> Against:
    area, why = area_of(run)
    return Against(area, (run.setup.at("system"),), why)


def _scaled(of: Figure, factor: float, dimension: Dimension) -> Against:
    value = of.value
    if not isinstance(value, Quantity):
        return Against(None, of.rows, of.note)
    made = carry(lambda amount: amount * factor, up=[value], dimension=dimension, step=value.step * factor)
    return Against(made, of.rows, of.note)


def _light(run: Run, climate: Climate) -> Against:
    """Light on all tubs [mol]: each tub's sum times its footprint."""
    parts, rows, notes = [], list[Source](), list[str]()
    for tub, known in zip(run.setup.tubs, climate.tubs, strict=True):
        light, footprint = known.light_sum.value, tub.system.footprint
        notes.append(known.light_sum.note if footprint else tr("footprint: not recorded"))
        rows += known.light_sum.rows
        if isinstance(light, Quantity) and footprint:
            parts.append(
                carry(
                    lambda mol, a, b: mol * a * b / CM2_A_M2,
                    up=[light, *footprint],
                    dimension=Dimension.LIGHT_SUM,
                )
            )
        else:
            parts.append(unknown(Dimension.LIGHT_SUM))
    note = remarks(*dict.fromkeys(notes))
    whole = total(parts, Dimension.LIGHT_SUM)
    return Against(whole if whole.low > 0 else None, rows, note)


def _length(length: Figure) -> Against:
    return _scaled(length, 1.0, Dimension.DAYS)


def _weeks(harvest: Harvest) -> Against:
    days = harvest.timing.picking.value
    if not isinstance(days, Quantity) or not days.high:
        return Against(
            None,
            (),
            tr("picked on one day only") if harvest.first_pick.recorded else tr("no harvest was logged"),
        )
    return Against(
        Quantity(days.low / WEEK, days.high / WEEK, Dimension.COUNT, about=days.about),
        harvest.timing.picking.rows,
    )


def _own(run: Run, harvest: Harvest) -> dict[str, Figure]:
    """What each plant gave, for plants that were never weighed together with others."""
    crates = Crates.of(run)
    taken = bounded(crates.everything, crates.everyone)
    return {
        named.key: named.figure
        for named in harvest.by_plant
        if all(item.scope == {named.key} for item in taken if named.key in item.scope)
    }


def yields_of(run: Run, harvest: Harvest, solution: Solution, climate: Climate, length: Figure) -> HarvestPer:
    """Yields for plants, ground, water, electricity, light and time."""
    picked, setup = harvest.total, run.setup
    groups = [(group, group, plants) for group, plants in setup.groups]
    varieties = [
        (variety, setup.variety_name(variety), [p.id for p in setup.plants if p.variety == variety])
        for variety in setup.variety_ids
    ]
    tubs = [(tub.id, tub.id, [p.id for p in setup.plants if p.tub == tub.id]) for tub in setup.tubs]
    path, own = "harvest.per", _own(run, harvest)
    return HarvestPer(
        stem=_per("stem", picked, _stems(run), Per.STEM),
        plant_picked=_per("plant_picked", picked, _plants_picked(run), Per.PLANT),
        square_metre=_per("square_metre", picked, _ground(run), Per.SQUARE_METRE),
        litre=_per("litre", picked, _scaled(solution.water, 1 / LITRE_ML, Dimension.COUNT), Per.LITRE),
        kilowatt_hour=_per(
            "kilowatt_hour", picked, _scaled(climate.energy, 1.0, Dimension.ENERGY), Per.KILOWATT_HOUR
        ),
        mol=_per("mol", picked, _light(run, climate), Per.MOL),
        day=_per("day", picked, _length(length), Per.DAY),
        week_of_picking=_per("week_of_picking", picked, _weeks(harvest), Per.WEEK),
        by_group=means_by_scope(run, own, groups, f"{path}.by_group"),
        by_variety=means_by_scope(run, own, varieties, f"{path}.by_variety"),
        by_tub=means_by_scope(run, own, tubs, f"{path}.by_tub", tubs=True),
    )
