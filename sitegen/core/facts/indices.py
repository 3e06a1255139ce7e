"""The rarer indices of an experiment, and statistics of sets of plants, apart from the figures on every page.

In: nothing. Out: the nested parts of the facts that hold rates, claims and costs. Each figure goes by its
path of attributes, as everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sitegen.core.facts.figure import NO_FIGURE, Figure, Label, Named
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class GerminationRate:
    """Speed and synchrony of emergence."""

    mean_time: Figure = NO_FIGURE
    half_time: Figure = NO_FIGURE
    variation: Figure = NO_FIGURE
    speed: Figure = NO_FIGURE
    synchrony: Figure = NO_FIGURE
    uncertainty: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class GerminationClaims:
    """The share claimed for the seed, and the legal minimum where there is one."""

    seed: Figure = NO_FIGURE
    standard: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class SeriesRates:
    """Rates of one kind of reading: by plant, and by group as a mean; the day from which it rose no more."""

    absolute: tuple[Named, ...] = ()
    relative: tuple[Named, ...] = ()
    by_group: tuple[Named, ...] = ()
    plateau: tuple[Named, ...] = ()


@dataclass(frozen=True, slots=True)
class Statistics:
    """One value a plant over several plants: how many, their mean, lowest to highest, and standard deviation.

    Fewer than three are shown one by one in `range`, without a mean.
    """

    number: Figure = NO_FIGURE
    mean: Figure = NO_FIGURE
    range: Figure = NO_FIGURE
    deviation: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class GrowthRates:
    """Rates of each kind of reading, and the tallest plant against the height claimed."""

    height: SeriesRates = field(default_factory=SeriesRates)
    spread: SeriesRates = field(default_factory=SeriesRates)
    leaves: SeriesRates = field(default_factory=SeriesRates)
    claim: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class Uptake:
    """Water that a tub's plants took, as its refills show it."""

    per_day: Figure = NO_FIGURE
    per_plant_day: Figure = NO_FIGURE
    interval: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class TubTrend:
    """How a solution moved when it was left alone, and how often it lay where it usually does."""

    ec: Figure = NO_FIGURE
    ph: Figure = NO_FIGURE
    ec_within: Figure = NO_FIGURE
    ph_within: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class DailyRange:
    """One day of a sensor's series: lowest, mean, highest, and how many samples.

    A day with few samples for its sensor is not `whole`: its extremes and mean are those of a part of it.
    """

    day: int
    low: float
    mean: float
    high: float
    samples: int
    whole: bool = True


@dataclass(frozen=True, slots=True)
class SensorSeries:
    """One sensor's series by day; `tub` is empty where it belongs to none."""

    reading: str
    tub: str
    days: tuple[DailyRange, ...]


@dataclass(frozen=True, slots=True)
class TubClimate:
    """Light, current and warmth of one tub; by day and by night where it is known when the lamp goes on."""

    key: str
    label: str
    dli: Figure
    light_sum: Figure
    energy: Figure
    degree_days: Figure
    mean_dli: Figure = NO_FIGURE
    day_temperature: Figure = NO_FIGURE
    night_temperature: Figure = NO_FIGURE
    day_vpd: Figure = NO_FIGURE
    night_vpd: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class Culls:
    """The spoilt part of a harvest by weight, and what was left; nothing where no pick says such a weight."""

    weight: Figure = NO_FIGURE
    share: Figure = NO_FIGURE
    sound: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class HarvestPer:
    """Yields per plant, stem, area, water, electricity, light and time; `kilogram` is the electricity for so much."""

    stem: Figure = NO_FIGURE
    plant_picked: Figure = NO_FIGURE
    square_metre: Figure = NO_FIGURE
    litre: Figure = NO_FIGURE
    kilowatt_hour: Figure = NO_FIGURE
    kilogram: Figure = NO_FIGURE
    mol: Figure = NO_FIGURE
    day: Figure = NO_FIGURE
    plant_day: Figure = NO_FIGURE
    week_of_picking: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class HarvestTiming:
    """How long it took; `window` is days from the last stage before the picks to picks of each grade.

    `expected` is the day on which the first pick falls by the days claimed.
    """

    from_sowing: Figure = NO_FIGURE
    from_transplant: Figure = NO_FIGURE
    claim: Figure = NO_FIGURE
    picking: Figure = NO_FIGURE
    window: tuple[Named, ...] = ()
    expected: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class Costs:
    """Costs of a run where the journal has prices, and of as much harvest bought in a shop."""

    electricity: Figure = NO_FIGURE
    feed: Figure = NO_FIGURE
    water: Figure = NO_FIGURE
    total: Figure = NO_FIGURE
    per_100_g: Figure = NO_FIGURE
    value: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class SetStageFacts:
    """How far the plants of a set came at one stage: how many are in each state, and the days of those that reached it.

    `median` is the day by which half had reached it; `values` are the days of each where they are few, `range` goes from
    the first plant to the last one.
    """

    key: str
    label: Label
    reached: Figure
    not_yet: Figure
    picked: Figure
    lost: Figure
    unknown: Figure
    median: Figure
    values: Figure = NO_FIGURE
    range: Figure = NO_FIGURE
    share: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class SetPicks:
    """The picks of a set: the first and the last, and what they gave for each spot, and for what its tubs took.

    The last three are of the plants that stood in the tubs of the set, where those held no others from the start.
    """

    first: Figure = NO_FIGURE
    last: Figure = NO_FIGURE
    per_spot: Figure = NO_FIGURE
    square_metre: Figure = NO_FIGURE
    litre: Figure = NO_FIGURE
    kilowatt_hour: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class SetTotal:
    """What the plants of a set had given by the end of a day [g]."""

    day: Day
    total: Quantity
    source: Source


@dataclass(frozen=True, slots=True)
class TasteNote:
    """A taste as its author noted it: a score, and words that name the plants."""

    day: Day
    score: Quantity | None
    out_of: int | None
    words: str
    source: Source


@dataclass(frozen=True, slots=True)
class PlantSetFacts:
    """A group, a variety or the plants of a tub, measured as one. Figures take only plants that were kept apart.

    `plants` are those that belonged to it from the start; one that was moved counts until its move. `cumulative` has its
    total after each pick that may be of it, `tastes` the notes that name it or one of its plants.
    """

    key: str
    label: Label
    plants: tuple[str, ...]
    lost: Figure
    germination: Figure
    emergence: Figure = NO_FIGURE
    height: Statistics = field(default_factory=Statistics)
    spread: Statistics = field(default_factory=Statistics)
    leaves: Statistics = field(default_factory=Statistics)
    harvest: Statistics = field(default_factory=Statistics)
    plant_day: Figure = NO_FIGURE
    picks: SetPicks = field(default_factory=SetPicks)
    stages: tuple[SetStageFacts, ...] = ()
    cumulative: tuple[SetTotal, ...] = ()
    tastes: tuple[TasteNote, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantSets:
    """Sets of plants that a run has several of."""

    by_group: tuple[PlantSetFacts, ...] = ()
    by_variety: tuple[PlantSetFacts, ...] = ()
    by_tub: tuple[PlantSetFacts, ...] = ()
