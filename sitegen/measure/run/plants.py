"""One row for each plant: its tub, its fate, its harvest.

In: a run, its harvest and milestones. Out: `PlantFacts`. Says only what was kept by plant.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.remark import counted_remark
from sitegen.core.facts.tree import Fate, Harvest, MilestoneFacts, Move, PlantFacts
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Plant
from sitegen.measure.harvest.totals import total_weight
from sitegen.measure.working import figure


def _fate(run: Run, roster: Roster, plant: str) -> Fate:
    lost, ended = roster.lost_on(plant), run.ended
    if lost is not None:
        return Fate("lost", lost.day, lost.what, lost.source)
    meant = ended is not None and (ended.which is None or not ended.which.ids or plant in ended.which.ids)
    if ended is not None and meant and ended.kept is False:
        return Fate("cleared", ended.day, ended.what, ended.source)
    unnamed = counted_remark("lost_plants_not_named", roster.unnamed_losses(run.last_day))
    return Fate("standing", None, remarks=(unnamed,) if unnamed else ())


def _moved(roster: Roster, plant: str) -> Move | None:
    event = roster.moved_on(plant)
    return Move(event.tub, event.day) if event else None


def _harvest(plant: str, harvest: Harvest) -> Figure:
    name = f"plants.{plant}.harvest"
    for named in harvest.by_plant:
        if named.key == plant:
            return replace(named.figure, name=name)
    return figure(name, None, total_weight, (), *harvest.total.remarks)


def _plant(
    run: Run, roster: Roster, plant: Plant, harvest: Harvest, milestones: Sequence[MilestoneFacts]
) -> PlantFacts:
    sown = roster.sown_on(plant.id)
    return PlantFacts(
        plant=plant.id,
        variety=plant.variety,
        tub=plant.tub,
        groups=plant.groups,
        sown=sown.day if sown else None,
        fate=_fate(run, roster, plant.id),
        moved=_moved(roster, plant.id),
        harvest=_harvest(plant.id, harvest),
        milestones=tuple((m.name, a) for m in milestones for a in m.arrivals if a.plant == plant.id),
    )


def plants_of(run: Run, harvest: Harvest, milestones: Sequence[MilestoneFacts]) -> tuple[PlantFacts, ...]:
    """The plants in the order declared."""
    roster = Roster.of(run.setup, run.rows)
    return tuple(_plant(run, roster, plant, harvest, milestones) for plant in run.setup.plants)
