"""Everything computed from one experiment, as a tree of frozen records with `Figure` leaves.

In: nothing. Out: the types that `measure` fills and every later stage reads. The path of attributes down to a
figure is its name: in JSON, in recaps, on the command line and as an anchor on the page.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from sitegen.core.facts.figure import NO_FIGURE, Figure, Label, Named, Remark
from sitegen.core.facts.indices import (
    Costs,
    Culls,
    DailyRange,
    GerminationClaims,
    GerminationRate,
    GrowthRates,
    HarvestPer,
    HarvestTiming,
    PlantSets,
    SensorSeries,
    TubClimate,
    TubTrend,
    Uptake,
)
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import EVERY_LOGGED_REFILL, given_at_each_filling
from sitegen.core.records.rows import Entry, Run
from sitegen.core.records.setup import System
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Phase:
    """A named stretch of the day axis: from the day it began to the day the next did; either may be a span of days."""

    name: str
    begins: Day
    ends: Day
    source: Source | None


@dataclass(frozen=True, slots=True)
class Visit:
    """One entry on the timeline, under the phase that it is listed in.

    `phases` are those that it can have fallen into, with an empty name where it may have been outside of all.
    """

    entry: Entry
    date: date | None
    phase: str
    phases: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Timeline:
    """Phases and visits in the order of days."""

    phases: tuple[Phase, ...]
    visits: tuple[Visit, ...]


@dataclass(frozen=True, slots=True)
class CountStep:
    """A cumulative count on a day; `of` is out of how many (None: not known), `least` where it may have been more."""

    day: Day
    count: int
    of: int | None
    source: Source
    least: bool = False


@dataclass(frozen=True, slots=True)
class Germination:
    """Seeds sown and seedlings up; `steps` is the cumulative count by day."""

    sown: Figure
    sprouted: Figure
    share: Figure
    first_day: Figure
    steps: tuple[CountStep, ...] = ()
    by_spot: tuple[Named, ...] = ()
    last_day: Figure = NO_FIGURE
    rate: GerminationRate = field(default_factory=GerminationRate)
    claims: GerminationClaims = field(default_factory=GerminationClaims)


StageState = Literal["reached", "not yet", "picked", "lost", "unknown"]


@dataclass(frozen=True, slots=True)
class Arrival:
    """When one plant reached a stage: seen on `day`; where a look said not yet, after `after`.

    A plant that had not reached it has no day. `last_look` is the last look for this stage at this plant, None where
    nobody looked: then the stage is unknown for it. `lost` is the day on which a plant without the stage was lost,
    `picked` the day of a pick after which it could reach the stage no more: later looks say nothing of it.
    """

    plant: str
    day: Day | None
    after: Day | None = None
    last_look: Day | None = None
    source: Source | None = None
    lost: Day | None = None
    picked: Day | None = None

    @property
    def state(self) -> StageState:
        """Where the plant is: a lost one, or one picked before, has not reached the stage, nor has it not yet."""
        if self.day is not None:
            return "reached"
        if self.picked is not None:
            return "picked"
        if self.lost is not None:
            return "lost"
        return "unknown" if self.last_look is None else "not yet"

    @property
    def known_after(self) -> int | None:
        """The first day on which the plant can have reached the stage; None where only its sowing bounds it."""
        return None if self.after is None else self.after.first + 1


@dataclass(frozen=True, slots=True)
class MilestoneFacts:
    """One stage: by plant where plants were told apart, else as counts; `first` is the first day seen.

    `median` is the day by which half the plants had reached it, `interval` what it may be instead; where few plants had
    reached it, `values` are the days of each. `since_before` are the days from the stage before.
    """

    name: str
    bbch: str
    first: Figure
    share: Figure
    median: Figure
    arrivals: tuple[Arrival, ...] = ()
    steps: tuple[CountStep, ...] = ()
    not_yet: tuple[Day, ...] = ()
    interval: Figure = NO_FIGURE
    values: Figure = NO_FIGURE
    since_before: Figure = NO_FIGURE

    @property
    def label(self) -> Label:
        """The name of the stage."""
        return Label(self.name, "stage")

    def in_state(self, state: StageState) -> tuple[Arrival, ...]:
        """The plants in one of the states, where plants were told apart."""
        return tuple(arrival for arrival in self.arrivals if arrival.state == state)


@dataclass(frozen=True, slots=True)
class PlotPoint:
    """A reading of one plant (or tub) at a day, ready to be drawn."""

    day: Day
    subject: str
    value: Quantity
    source: Source
    at: str = ""
    moment: str = ""


@dataclass(frozen=True, slots=True)
class Growth:
    """Heights, spreads and leaf counts.

    `headroom` was left between the tallest plant and the lamp's highest place on the day on which it was measured.
    """

    tallest: Figure
    widest: Figure
    most_leaves: Figure
    headroom: Figure
    heights: tuple[PlotPoint, ...] = ()
    spreads: tuple[PlotPoint, ...] = ()
    leaves: tuple[PlotPoint, ...] = ()
    rate: GrowthRates = field(default_factory=GrowthRates)


@dataclass(frozen=True, slots=True)
class CumulativePoint:
    """Everything picked by the end of a day."""

    day: Day
    picked: Quantity
    total: Quantity
    part: str
    source: Source


@dataclass(frozen=True, slots=True)
class Harvest:
    """Picks and totals. Sums over plants count only picks kept by plant; `shared` are the others."""

    total: Figure
    picks: Figure
    first_pick: Figure
    last_pick: Figure
    pieces: Figure
    spoilt: Figure
    per_spot: Figure
    shared: Figure
    by_plant: tuple[Named, ...] = ()
    by_group: tuple[Named, ...] = ()
    by_variety: tuple[Named, ...] = ()
    by_tub: tuple[Named, ...] = ()
    by_part: tuple[Named, ...] = ()
    by_grade: tuple[Named, ...] = ()
    by_flush: tuple[Named, ...] = ()
    cumulative: tuple[CumulativePoint, ...] = ()
    per: HarvestPer = field(default_factory=HarvestPer)
    timing: HarvestTiming = field(default_factory=HarvestTiming)
    costs: Costs = field(default_factory=Costs)
    culls: Culls = field(default_factory=Culls)


@dataclass(frozen=True, slots=True)
class Dosing:
    """The doses of one product in one tub."""

    product: str
    label: Label
    kind: str
    total: Figure
    times: Figure
    per_litre: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class RoutineFacts:
    """A routine: `counted` where all its doses are in the totals, `at_each_filling` where those at logged refills are."""

    what: str
    label: Label
    tub: str
    amount: Quantity | None
    as_labelled: bool
    often: str
    first: Day
    until: Day | None
    source: Source
    said: str = ""

    @property
    def counted(self) -> bool:
        """Whether the totals have all its doses."""
        return self.often == EVERY_LOGGED_REFILL

    @property
    def at_each_filling(self) -> bool:
        """Whether the totals have a dose for each logged refill."""
        return given_at_each_filling(self.often)


@dataclass(frozen=True, slots=True)
class TubFacts:
    """The solution of one tub."""

    key: str
    label: str
    system: System
    water: Figure
    refills: Figure
    changes: Figure
    ec: Figure
    ph: Figure
    doses: tuple[Dosing, ...] = ()
    adjusted: tuple[Dosing, ...] = ()
    uptake: Uptake = field(default_factory=Uptake)
    trend: TubTrend = field(default_factory=TubTrend)
    ppm: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class Solution:
    """Water and feed, all tubs together and each; routines stand beside the totals."""

    water: Figure
    refills: Figure
    tubs: tuple[TubFacts, ...] = ()
    routines: tuple[RoutineFacts, ...] = ()
    added: tuple[PlotPoint, ...] = ()
    fed: tuple[PlotPoint, ...] = ()
    ec: tuple[PlotPoint, ...] = ()
    ph: tuple[PlotPoint, ...] = ()


@dataclass(frozen=True, slots=True)
class Climate:
    """Air and water temperature, humidity, light: readings, and daily ranges of exports.

    The daily ranges are over all sensors of a kind; `series` keeps them apart.
    """

    air: Figure
    humidity: Figure
    water: Figure
    light_hours: Figure
    readings: tuple[PlotPoint, ...] = ()
    air_daily: tuple[DailyRange, ...] = ()
    humidity_daily: tuple[DailyRange, ...] = ()
    water_daily: tuple[DailyRange, ...] = ()
    vpd_daily: tuple[DailyRange, ...] = ()
    series: tuple[SensorSeries, ...] = ()
    vpd: Figure = NO_FIGURE
    leaf_vpd: Figure = NO_FIGURE
    energy: Figure = NO_FIGURE
    tubs: tuple[TubClimate, ...] = ()
    gaps: tuple[Named, ...] = ()


@dataclass(frozen=True, slots=True)
class Move:
    """When a plant was moved to another tub."""

    tub: str
    day: Day


@dataclass(frozen=True, slots=True)
class Fate:
    """The fate of a plant: `standing`, `lost` or `cleared`, with its day and reason."""

    word: str
    day: Day | None
    why: str = ""
    source: Source | None = None
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantFacts:
    """One plant: a row of the plants table."""

    plant: str
    variety: str
    tub: str
    groups: tuple[str, ...]
    sown: Day | None
    fate: Fate
    moved: Move | None
    harvest: Figure
    milestones: tuple[tuple[str, Arrival], ...]


@dataclass(frozen=True, slots=True)
class Work:
    """Visits, by kind of work and phase."""

    visits: Figure
    waterings: Figure
    feedings: Figure
    hands_on: Figure
    tasks: tuple[Named, ...] = ()
    visits_by_phase: tuple[Named, ...] = ()
    waterings_by_phase: tuple[Named, ...] = ()
    hands_on_by_phase: tuple[Named, ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything computed from one experiment."""

    run: Run
    axis: DayAxis
    length: Figure
    last_entry: Figure
    timeline: Timeline
    germination: Germination
    milestones: tuple[MilestoneFacts, ...]
    growth: Growth
    harvest: Harvest
    solution: Solution
    climate: Climate
    plants: tuple[PlantFacts, ...]
    work: Work
    sets: PlantSets = field(default_factory=PlantSets)

    @property
    def id(self) -> str:
        """The experiment's id."""
        return self.run.id

    @property
    def visits(self) -> Figure:
        """How many visits were logged: a short name for recaps."""
        return self.work.visits

    @property
    def running(self) -> bool:
        """Whether the log has no end yet."""
        return self.run.ended is None
