"""Groups, varieties and tubs, each measured as one: losses, seeds that came up, and sizes as statistics.

In: a run, its germination and growth. Out: `PlantSets`. Only readings of one plant by itself count: a height that is
true of each plant is no spread of heights. A plant that was moved to another tub leaves its group and its tub on that
day, and enters no other; a variety keeps it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean, stdev

from sitegen.core.facts.figure import Figure, Label, Remark, Several, Share, Value, counted_remark, remark
from sitegen.core.facts.indices import PlantSetFacts, PlantSets, Statistics
from sitegen.core.facts.tree import Germination, Growth, PlotPoint
from sitegen.core.findings.finding import Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Event, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, propagate
from sitegen.measure.growth.growth import largest_reading
from sitegen.measure.methods import coarse, figure, formula
from sitegen.measure.ranges import FEWEST_FOR_A_MEAN, reading_range, share_of, wilson_interval


@formula(reads=())
def plants_in(plants: Sequence[str]) -> Quantity:
    """Plants behind a mean.

    Plants of a group, variety or tub that were measured by themselves.

    Parameters
    ----------
    plants
        The plants.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        n = number of plants

    """
    return counted(len(plants))


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


@formula(reads=("readings.value",))
def mean_of_plants(values: Sequence[float]) -> float:
    """Mean over plants.

    Parameters
    ----------
    values
        One for each plant, at least three [as read].

    Returns
    -------
    float
        Mean [as read].

    Notes
    -----
    ::

        mean = Σ value / n

    """
    return fmean(values)


@formula(reads=("readings.value",))
def standard_deviation(values: Sequence[float]) -> float:
    """Standard deviation over plants.

    Of the plants that were measured, with n - 1 below the line: they stand for others grown alike.

    Parameters
    ----------
    values
        One for each plant, at least three [as read].

    Returns
    -------
    float
        Standard deviation [as read].

    Notes
    -----
    ::

        s = √( Σ (value - mean)² / (n - 1) )

    Not given where a value is a range: the deviation would be one, too.

    References
    ----------
    ISO 3534-1:2006, Statistics - Vocabulary and symbols, sample standard deviation (from memory).

    """
    return stdev(values)


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
    """Sets of each kind, in the order of `PlantSets`; none of a kind that has a single one."""
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
        return tuple(found) if len(found) > 1 else ()

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


def _apart(points: Sequence[PlotPoint]) -> list[PlotPoint]:
    """Readings of one plant by itself, taken alike: to the topmost leaf, where there are any."""
    of: dict[tuple[Source, Quantity], set[str]] = {}
    for point in points:
        of.setdefault((point.source, point.value), set()).add(point.subject)
    single = [point for point in points if len(of[point.source, point.value]) == 1]
    return [point for point in single if not point.at] or single


def _statistics(name: str, points: Sequence[PlotPoint], plants: _PlantSet) -> Statistics:
    """Over the largest reading of each plant while it belonged to the set."""
    held = [point for point in _apart(points) if plants.holds(point.subject, point.day)]
    largest = {plant: largest_reading([p for p in held if p.subject == plant]) for plant in plants.plants}
    known = {plant: point for plant, point in largest.items() if point is not None}
    if not known:
        return Statistics()
    rows, values = [point.source for point in known.values()], [point.value for point in known.values()]
    missing = counted_remark("plants_not_measured", len(plants.plants) - len(known))
    said = (missing, plants.remark)
    number = figure(f"{name}.number", plants_in(tuple(known)), plants_in, rows, *said)
    if len(values) < FEWEST_FOR_A_MEAN:
        few = remark("fewer_than_three_plants")
        one_by_one: Value = Several(tuple(values)) if len(values) > 1 else values[0]
        return Statistics(
            number,
            figure(f"{name}.mean", None, mean_of_plants, rows, few),
            figure(f"{name}.range", one_by_one, reading_range, rows, *said),
            figure(f"{name}.deviation", None, standard_deviation, rows, few),
        )
    return Statistics(
        number,
        figure(f"{name}.mean", _mean(values), mean_of_plants, rows, *said),
        figure(f"{name}.range", reading_range(values), reading_range, rows, *said),
        _deviation(f"{name}.deviation", values, rows, said),
    )


def _mean(values: Sequence[Quantity]) -> Quantity:
    step = coarse(max(value.step for value in values) / len(values), max(value.low for value in values))
    return propagate(
        lambda *each: mean_of_plants(each), increasing=values, dimension=values[0].dimension, step=step
    )


def _deviation(
    name: str, values: Sequence[Quantity], rows: Sequence[Source], said: Sequence[Remark | None]
) -> Figure:
    if not all(value.single for value in values):
        return figure(name, None, standard_deviation, rows, remark("value_is_a_range"))
    spread = standard_deviation([value.low for value in values])
    about, by_eye = any(value.about for value in values), any(value.by_eye for value in values)
    step = coarse(max(value.step for value in values) / len(values), spread)
    value = replace(values[0], low=spread, high=spread, about=about, by_eye=by_eye, step=step)
    return figure(name, value, standard_deviation, rows, *said)


def plant_sets_of(run: Run, germination: Germination, growth: Growth) -> PlantSets:
    """Every set that the set-up names, where there are several of its kind."""
    roster = Roster.of(run.setup, run.rows)
    sizes = {"height": growth.heights, "spread": growth.spreads, "leaves": growth.leaves}

    def measured(plants: _PlantSet) -> PlantSetFacts:
        return PlantSetFacts(
            plants.key,
            plants.label,
            plants.plants,
            _lost(run, roster, plants),
            _germination(germination, plants),
            **{name: _statistics(f"{plants.name}.{name}", points, plants) for name, points in sizes.items()},
        )

    return PlantSets(*(tuple(map(measured, sets)) for sets in _sets(run)))
