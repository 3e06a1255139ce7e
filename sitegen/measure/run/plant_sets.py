"""Groups, varieties and tubs, each measured as one: losses, seeds that came up, stages, sizes and yields.

In: a run, its germination, growth, harvest and stages. Out: `PlantSets`. Only readings of one plant by itself count: a
height that is true of each plant is no spread of heights. A plant that was moved leaves its group and its tub on that
day, and enters no other; a variety keeps it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import (
    NO_FIGURE,
    Figure,
    Label,
    Named,
    Per,
    Remark,
    Share,
    counted_remark,
    remark,
)
from sitegen.core.facts.indices import PlantSetFacts, PlantSets, SetStageFacts, Statistics
from sitegen.core.facts.tree import (
    Climate,
    Germination,
    Growth,
    Harvest,
    MilestoneFacts,
    PlotPoint,
    Solution,
)
from sitegen.core.findings.source import Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Event, Run, SeedlingCount
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.measure.germination.counts import counts_of, scope_of
from sitegen.measure.germination.first_seedling import first_day_of_spots
from sitegen.measure.growth.growth import largest_reading
from sitegen.measure.harvest.plant_days import Standing
from sitegen.measure.harvest.plant_yields import PlantYields
from sitegen.measure.harvest.yields import Denominator, per
from sitegen.measure.methods import figure, formula
from sitegen.measure.plant_statistics import statistics_of
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.set_picks import Picked
from sitegen.measure.run.tastes import tastes_of
from sitegen.measure.stages.set_stages import stages_of_set


@formula(reads=("events.plants",))
def lost_plants(named: int, unnamed: int, plants: int) -> Quantity:
    """Plants lost.

    Plants of a group, variety or tub that the log records as lost; one that was moved counts until its move.

    Parameters
    ----------
    named
        Lost by name [count].
    unnamed
        Lost in the run without a name [count].
    plants
        Plants of the set [count].

    Returns
    -------
    Quantity
        From those named to those that may have been lost [count].

    Notes
    -----
    ::

        lost = named to min(plants, named + unnamed)

    """
    return Quantity(named, min(plants, named + unnamed), counted(0).dimension, step=1)


@dataclass(frozen=True, slots=True)
class _PlantSet:
    """A set of plants, and the day on which a plant left it."""

    path: str
    key: str
    label: Label
    plants: tuple[str, ...]
    left: Mapping[str, Event]

    @property
    def name(self) -> str:
        """The path of its facts."""
        return f"sets.{self.path}.{self.key}"

    def holds(self, plant: str, day: Day) -> bool:
        """Whether a plant certainly belongs to it on a day."""
        moved = self.left.get(plant)
        return plant in self.plants and (moved is None or day.last < moved.day.first)

    @property
    def remark(self) -> Remark | None:
        """Names the plants that left it."""
        moved = tuple(plant for plant in self.plants if plant in self.left)
        return remark("moved_plants_until_move", plants=moved) if moved else None


def _sets(run: Run) -> Iterator[tuple[_PlantSet, ...]]:
    """Sets of each kind, in the order of `PlantSets`; none of a kind of which one has all plants."""
    setup, roster = run.setup, Roster.of(run.setup, run.rows)
    moves = {plant: move for plant in setup.plant_ids if (move := roster.moved_on(plant)) is not None}

    def made(
        path: str, members: Mapping[str, Sequence[str]], left: Mapping[str, Event]
    ) -> tuple[_PlantSet, ...]:
        label = setup.variety_name if path == "by_variety" else str
        found = [
            _PlantSet(path, key, Label(label(key)), tuple(plants), left)
            for key, plants in members.items()
            if plants
        ]
        apart = len(found) > 1 or any(set(one.plants) != set(setup.plant_ids) for one in found)
        return tuple(found) if apart else ()

    yield made("by_group", dict(setup.groups), moves)
    yield made(
        "by_variety", {v: [p.id for p in setup.plants if p.variety == v] for v in setup.variety_ids}, {}
    )
    yield made("by_tub", {t.id: [p.id for p in setup.plants if p.tub == t.id] for t in setup.tubs}, moves)


def _lost(run: Run, roster: Roster, plants: _PlantSet) -> Figure:
    lost = [
        event
        for plant in plants.plants
        if (event := roster.lost_on(plant)) and plants.holds(plant, event.day)
    ]
    unnamed = roster.unnamed_losses(run.last_day)
    value = lost_plants(len(lost), unnamed, len(plants.plants))
    return figure(
        f"{plants.name}.lost",
        value,
        lost_plants,
        [event.source for event in lost],
        remark("of_plants", n=len(plants.plants)),
        counted_remark("lost_plants_not_named", unnamed),
        plants.remark,
    )


def _germination(germination: Germination, plants: _PlantSet) -> Figure:
    """Seeds that came up, where every spot of the set was sown and counted by itself."""
    name, spots = f"{plants.name}.germination", {spot.key: spot.figure for spot in germination.by_spot}
    own = [spots[plant] for plant in plants.plants if plant in spots]
    shares = [each.value for each in own if isinstance(each.value, Share)]
    rows = [row for each in own for row in each.rows]
    if len(shares) < len(plants.plants):
        return figure(name, None, wilson_interval, rows, remark("spots_not_counted"))
    share = share_of(sum(each.part for each in shares), sum(each.whole for each in shares))
    return figure(name, share, wilson_interval, rows)


def _emergence(run: Run, plants: _PlantSet) -> Figure:
    """The first seedling, by the counts of this set alone while its plants belonged to it."""

    def held(event: SeedlingCount) -> bool:
        return all(plants.holds(spot, event.day) for spot in scope_of(event, run) & set(plants.plants))

    counts = [event for event in counts_of(run) if held(event)]
    return first_day_of_spots(f"{plants.name}.emergence", run, plants.plants, counts)


def _apart(points: Sequence[PlotPoint]) -> list[PlotPoint]:
    """Readings of one plant by itself, taken alike: to the topmost leaf, where there are any."""
    of: dict[tuple[Source, Quantity], set[str]] = {}
    for point in points:
        of.setdefault((point.source, point.value), set()).add(point.subject)
    single = [point for point in points if len(of[point.source, point.value]) == 1]
    return [point for point in single if not point.at] or single


def _sizes(name: str, points: Sequence[PlotPoint], plants: _PlantSet) -> Statistics:
    """Over the largest reading of each plant while it belonged to the set."""
    held = [point for point in _apart(points) if plants.holds(point.subject, point.day)]
    largest = {plant: largest_reading([p for p in held if p.subject == plant]) for plant in plants.plants}
    known = [point for point in largest.values() if point is not None]
    if not known:
        return Statistics()
    missing = counted_remark("plants_not_measured", len(plants.plants) - len(known))
    return statistics_of(
        name, [point.value for point in known], [point.source for point in known], missing, plants.remark
    )


def _a_plant_and_day(harvest: Harvest, standing: Standing | None, plants: _PlantSet) -> Figure:
    """The harvest of a set over the days that its plants stood in it; no figure without a harvest."""
    name = f"{plants.name}.plant_day"
    rows: tuple[Named, ...] = getattr(harvest, plants.path)
    picked = next((row.figure for row in rows if row.key == plants.key), None)
    if picked is None or standing is None:
        return NO_FIGURE
    days, ended = standing.days(plants.plants, plants.left)
    return per(name, picked, Denominator(days, ended), Per.PLANT_AND_DAY)


def _stages(run: Run, plants: _PlantSet, milestones: Sequence[MilestoneFacts]) -> tuple[SetStageFacts, ...]:
    left = {plant: event.day for plant, event in plants.left.items()}
    return stages_of_set(run, plants.name, plants.plants, left, milestones, plants.remark)


def plant_sets_of(
    run: Run,
    germination: Germination,
    growth: Growth,
    harvest: Harvest,
    milestones: Sequence[MilestoneFacts],
    solution: Solution,
    climate: Climate,
) -> PlantSets:
    """Every set that the set-up names, unless it is the only one of its kind and has all plants."""
    roster, standing, yields = Roster.of(run.setup, run.rows), Standing.of(run), PlantYields.of(run, harvest)
    picked = Picked.of(run, yields, solution, climate)
    sizes = {"height": growth.heights, "spread": growth.spreads, "leaves": growth.leaves}

    def measured(plants: _PlantSet) -> PlantSetFacts:
        moved = tuple(plant for plant in plants.plants if plant in plants.left)
        return PlantSetFacts(
            plants.key,
            plants.label,
            plants.plants,
            _lost(run, roster, plants),
            _germination(germination, plants),
            _emergence(run, plants),
            **{name: _sizes(f"{plants.name}.{name}", points, plants) for name, points in sizes.items()},
            harvest=yields.statistics(f"{plants.name}.harvest", plants.plants, moved),
            plant_day=_a_plant_and_day(harvest, standing, plants),
            picks=picked.picks(plants.name, plants.plants, moved, plants.remark),
            stages=_stages(run, plants, milestones),
            cumulative=picked.cumulative(plants.plants, moved),
            tastes=tastes_of(run, plants.path, plants.key, plants.label.name, plants.plants),
        )

    return PlantSets(*(tuple(map(measured, sets)) for sets in _sets(run)))
