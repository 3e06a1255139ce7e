"""What comparisons take of each run, and what they give: types that `measure.across` fills and pages read.

In: nothing. Out: `RunArms`, a run with its arms as other runs are compared with it; `Comparison`, `Evidence`,
`Differed` and `Outlook`, computed from several of them; `Across`, the functions that do so as a protocol: a page calls
them through its context, since a stage imports no other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Literal, Protocol

from sitegen.core.facts.figure import NO_FIGURE, Figure, Label
from sitegen.core.records.setup import Compared
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity

Factor = Literal["variety", "system"]
# What arms are compared by, as names of the figures of `ArmFigures`.
Measure = Literal["per_spot", "square_metre", "total", "emergence", "stage", "first_pick"]
Role = Literal["row", "variety", "system"]
MORE_IS_BETTER: Mapping[Measure, bool] = {
    "per_spot": True,
    "square_metre": True,
    "total": True,
    "emergence": False,
    "stage": False,
    "first_pick": False,
}


@dataclass(frozen=True, slots=True)
class Condition:
    """One circumstance of a run, by its code: a value, or names as their authors wrote them.

    Codes: variety, system, lamp, hours, ppfd, temperature, feed, ec, density, month, seed_age, plants.
    """

    code: str
    value: Quantity | None = None
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ArmFigures:
    """The figures of one arm, without their rows. `stage` is the day of the stage that matters for the kind of crop.

    `reached` is the share of plants that came to it; `emergence`, `stage` and `first_pick` are days from sowing.
    """

    emergence: Figure = NO_FIGURE
    germination: Figure = NO_FIGURE
    stage: Figure = NO_FIGURE
    reached: Figure = NO_FIGURE
    first_pick: Figure = NO_FIGURE
    last_pick: Figure = NO_FIGURE
    total: Figure = NO_FIGURE
    per_spot: Figure = NO_FIGURE
    square_metre: Figure = NO_FIGURE
    litre: Figure = NO_FIGURE
    kilowatt_hour: Figure = NO_FIGURE
    lost: Figure = NO_FIGURE
    height: Figure = NO_FIGURE


@dataclass(frozen=True, slots=True)
class ArmStage:
    """How many plants of an arm were seen at a stage; `open` says that some had not reached it when last looked at.

    Of a whole run, `first` is the day on which it was first seen, `not_yet` that of the last look that found it nowhere.
    """

    name: str
    label: Label
    reached: int = 0
    open: bool = False
    first: Day | None = None
    not_yet: Day | None = None


@dataclass(frozen=True, slots=True)
class PlantYield:
    """The harvest of one plant that was kept apart [g]."""

    plant: str
    value: Quantity


@dataclass(frozen=True, slots=True)
class RunningTotal:
    """What had been picked by the end of a day [g]."""

    day: Day
    total: Quantity


@dataclass(frozen=True, slots=True)
class ArmSummary:
    """One arm of a run, or the whole run, as comparisons take it.

    `key` names the group, tub or variety, and is empty for a whole run. `roles`: a row of tables; all plants of one
    variety of the run; all plants in one system of it. `varieties` and `systems` are ids.
    """

    kind: Compared | Literal["run"]
    key: str
    label: Label
    plants: int
    varieties: tuple[str, ...]
    systems: tuple[str, ...]
    roles: tuple[Role, ...]
    figures: ArmFigures = field(default_factory=ArmFigures)
    stages: tuple[ArmStage, ...] = ()
    yields: tuple[PlantYield, ...] = ()
    picked: tuple[RunningTotal, ...] = ()
    taste: str = ""

    def has(self, role: Role) -> bool:
        """Whether it stands for this."""
        return role in self.roles


@dataclass(frozen=True, slots=True)
class TubUse:
    """The tubs of one system that a run used, and how many of that system its owner has."""

    system: str
    tubs: int
    owned: int


@dataclass(frozen=True, slots=True)
class RunArms:
    """One run as comparisons take it.

    `began` and `ended` bound the stretch of time in which it stood in its tubs; None where its start is not dated. `log`
    is a digest of its records, alike for a copy and empty where it has none. `shares`: the other run and the system, of
    each tub that it shared.
    """

    run: str
    title: str
    crop: str
    kind: str
    began: date | None
    ended: date | None
    running: bool
    last_day: int
    uses: tuple[TubUse, ...]
    log: str
    conditions: tuple[Condition, ...] = ()
    arms: tuple[ArmSummary, ...] = ()
    verdict: str = ""
    expected: Figure = NO_FIGURE
    shares: tuple[tuple[str, str], ...] = ()

    def of_role(self, role: Role) -> tuple[ArmSummary, ...]:
        """Its arms that stand for this."""
        return tuple(arm for arm in self.arms if arm.has(role))


@dataclass(frozen=True, slots=True)
class Pair:
    """What one independent unit says of two arms; None where it did not hold the arm, or has no value of it."""

    unit: str
    first: Quantity | None
    second: Quantity | None

    @property
    def both(self) -> bool:
        """Whether the unit held both arms."""
        return self.first is not None and self.second is not None


Row = Literal["nothing", "one run", "few runs", "many runs", "different runs", "many different runs"]
# How a chance was found: by the order of runs alone, by all choices of signs of the differences within runs, by all ways
# of dividing runs into two groups, by Welch's approximation where those are too many.
Test = Literal["", "order", "signs", "groups", "welch"]
SIGNIFICANT = Fraction(1, 20)


@dataclass(frozen=True, slots=True)
class Interval:
    """A difference and the range that holds the true one with the chance `coverage`."""

    middle: float
    low: float
    high: float
    coverage: float


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the units say of the second arm against the first.

    `orders` has each unit with both arms, and whether the second gave more (1), less (-1) or as much (0); None where
    the values overlap. `bounds` says that a value was no single number. `difference` is the second less the first;
    `chance` is that of so clear an order, or so large a difference, by luck alone, found by `test`; `adjusted` allows for
    the other comparisons of the measure, of which there are `beside`. `order` is that of one run, or of runs none of
    which overlaps one with the other arm; `gap` is by how much the one ahead was ahead, where no value is by eye.
    """

    row: Row
    runs: int
    orders: tuple[tuple[str, int | None], ...] = ()
    bounds: bool = False
    difference: Interval | None = None
    chance: Fraction | None = None
    adjusted: Fraction | None = None
    test: Test = ""
    beside: int = 0
    order: int | None = None
    gap: Quantity | None = None

    def units(self, order: int | None) -> tuple[str, ...]:
        """The units of an order."""
        return tuple(unit for unit, each in self.orders if each == order)

    @property
    def leader(self) -> int:
        """1 where the second was ahead in more units, -1 where the first was, 0 where neither."""
        more, less = len(self.units(1)), len(self.units(-1))
        return (more > less) - (more < less)

    @property
    def opposite(self) -> tuple[str, ...]:
        """The units that go against the others."""
        return self.units(-self.leader) if self.leader else ()

    @property
    def significant(self) -> bool:
        """Whether luck alone would do so less than one time in twenty, the other comparisons allowed for."""
        return self.adjusted is not None and self.adjusted < SIGNIFICANT


@dataclass(frozen=True, slots=True)
class Contrast:
    """Two varieties, or two systems, over all runs of a crop, by one measure; `pairs` are the values by unit."""

    factor: Factor
    first: str
    second: str
    measure: Measure
    pairs: tuple[Pair, ...]
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Unit:
    """Runs that shared a tub at the same time, or are copies: they count once. `key` is the id of the first."""

    key: str
    runs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything computed from the runs of a crop, oldest first.

    `best`: the arms (run, key) that lead by a measure. `left_out` are runs without a date that may have shared a tub with
    others: they are in no unit.
    """

    runs: tuple[RunArms, ...]
    units: tuple[Unit, ...] = ()
    contrasts: tuple[Contrast, ...] = ()
    best: tuple[tuple[Measure, str, str], ...] = ()
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Differed:
    """A circumstance in which a run differed from an earlier one; None where it is not known of one of them."""

    code: str
    here: Condition | None
    there: Condition | None


@dataclass(frozen=True, slots=True)
class Expected:
    """The window of one thing to come: from the lowest to the highest of earlier runs, and the chance that it holds.

    `what`: the name of a stage, `first_pick`, `end` (of the run), `total` [g] or `per_spot` [g]. `runs` is how many
    earlier runs are behind the window, `open` how many more had it above a bound that nothing limits (not there by the
    last look, not weighed), `passed` how many were there by the day of the look, or gave less than there is by now.
    `window` is None where the runs are too few, `later` where all were passed. `at_least` says that the chance may be
    larger.
    """

    what: str
    label: Label
    window: Quantity | Day | None
    chance: Fraction | None
    runs: int
    open: int = 0
    passed: int = 0
    at_least: bool = False

    @property
    def later(self) -> bool:
        """Whether the run is past every earlier one."""
        return self.passed > 0 and not self.runs and not self.open


@dataclass(frozen=True, slots=True)
class Outlook:
    """What is to come in a run that still grows, by its last look; `day` is that of the look.

    `once` says that some earlier runs were counted as one, or left out beside this one: they shared a tub at the same
    time.
    """

    day: int
    expected: tuple[Expected, ...] = ()
    once: bool = False


class Across(Protocol):
    """The functions over several runs, as pages call them."""

    def compare(self, runs: Sequence[RunArms]) -> Comparison:
        """Compare the runs of one crop."""

    def differed(self, here: Sequence[Condition], there: Sequence[Condition]) -> tuple[Differed, ...]:
        """Everything besides the variety in which a run differed from an earlier one of its crop, by their conditions."""

    def outlook(self, run: RunArms, earlier: Sequence[RunArms]) -> Outlook:
        """What is to come in a run that still grows, from earlier runs of its crop."""
