"""Stages of groups, varieties and tubs."""

from __future__ import annotations

from hypothesis import given

from sitegen.core.facts.figure import Several
from sitegen.core.facts.indices import PlantSets, SetStageFacts
from sitegen.core.records.rows import Deed, MilestoneRow, Run
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import (
    event,
    grams,
    joint,
    milestone,
    of,
    pick,
    remarks_of,
    run_of,
    seeds,
    setup_of,
)
from tests.measure.test_random_runs import FEWER, PRICES, RUNS
from tests.measure.values import lines

SIX = tuple(f"P{n + 1}" for n in range(6))
GROUPS = (("one", SIX[:3]), ("two", SIX[3:]))


def flower(day: int, *ids: str) -> MilestoneRow:
    """First flower of some plants; without plants, a look that found none."""
    return milestone("first_flower", day, joint(*ids) if ids else of(0), reached=bool(ids))


def sets(*rows: MilestoneRow, events: tuple[object, ...] = (), **tables: object) -> PlantSets:
    """Of a run of six plants in two groups and two tubs."""
    setup = setup_of(6, groups=GROUPS, tubs=("left", "right"))
    run = run_of(setup, milestones=rows, events=[seeds(0, 1, *SIX), *events], **tables)
    return measure(run).sets


def states(stage: SetStageFacts) -> list[object]:
    """How many reached it, had not yet, were picked or lost before, were not looked at."""
    figures = (stage.reached, stage.not_yet, stage.picked, stage.lost, stage.unknown)
    return [figure.value for figure in figures]


def numbers(*counts: int) -> list[object]:
    """Numbers of plants."""
    return [counted(count) for count in counts]


def days(first: int, last: int) -> Quantity:
    """Days since sowing."""
    return Quantity(first, last, Dimension.DAYS, step=1)


def test_each_set_has_its_own_median() -> None:
    """The plants of a group by themselves: how far they came, the median, the days of each, first to last."""
    rows = (flower(19), flower(20, "P1", "P2"), flower(25, "P1", "P2", "P3"), flower(40, "P4"))
    one, two = (each.stages[0] for each in sets(*rows).by_group)
    assert (states(one), states(two)) == (numbers(3, 0, 0, 0, 0), numbers(1, 2, 0, 0, 0))
    assert (one.key, one.median.value, two.median.value) == ("first_flower", Day.on(20), None)
    assert one.values.value == Several((days(20, 20), days(20, 20), days(21, 25)))
    assert (one.range.value, two.values.value, two.range.recorded) == (days(20, 25), days(26, 40), False)
    assert remarks_of(one.reached) == "of 3 plants"
    assert remarks_of(two.median) == "not reached; from 3 plants, 2 not there when last checked"
    assert (one.median.name, lines(one.median)) == (
        "sets.by_group.one.stages.first_flower.median",
        [4019, 4020, 4025, 4040],
    )


def test_a_moved_plant_counts_with_what_was_seen_before() -> None:
    """A plant that moved before it flowered had not flowered in its group and tub; its variety keeps the flower."""
    rows = (flower(19), flower(20, "P1"), flower(40, "P1", "P2", "P3"))
    move = event(Deed.MOVE, 30, joint("P3"), tub="right")
    found = sets(*rows, events=(move,))
    for by in (found.by_group, found.by_tub):
        stage = by[0].stages[0]
        assert states(stage) == numbers(2, 1, 0, 0, 0)
        assert remarks_of(stage.reached) == "of 3 plants; P3 until moved to another tub"


def test_lost_and_picked_plants_of_a_set() -> None:
    """A plant lost after its move was not lost in the set that it left; one picked before a look is said apart."""
    move, lost = event(Deed.MOVE, 30, joint("P3"), tub="right"), event(Deed.LOST, 35, joint("P2", "P3"))
    one = sets(flower(19), flower(40, "P1"), events=(move, lost)).by_group[0].stages[0]
    assert states(one) == numbers(1, 1, 0, 1, 0)
    leafy = run_of(
        setup_of(6, groups=GROUPS, crop=Crop("orach", "Orach", "leafy")),
        milestones=[milestone("full_rosette", 40, joint("P1", "P2"))],
        picks=[pick(30, joint("P3"), grams(9), part="leaf")],
        events=[seeds(0, 1, *SIX)],
    )
    assert states(measure(leafy).sets.by_group[0].stages[0]) == numbers(2, 0, 1, 0, 0)


def test_counted_plants_belong_to_no_set() -> None:
    """Where nobody told plants apart nothing is said of a group."""
    assert sets(milestone("first_flower", 30, of(3, 6))).by_group[0].stages == ()


@FEWER
@given(RUNS)
def test_the_states_of_a_set_add_up(run: Run) -> None:
    """Each plant of a set is in one state; over disjoint sets without moves the states are those of the run."""
    facts = measure(run, PRICES)
    moved = any(plant.moved for plant in facts.plants)
    for kind in (facts.sets.by_group, facts.sets.by_variety, facts.sets.by_tub):
        for plants in kind:
            for stage in plants.stages:
                found = [value for value in states(stage) if isinstance(value, Quantity)]
                assert sum(value.low for value in found) == len(plants.plants)
    for stage in facts.milestones if not moved else ():
        own = [s for plants in facts.sets.by_tub for s in plants.stages if s.key == stage.name]
        reached = [s.reached.value for s in own]
        assert not own or sum(value.low for value in reached if isinstance(value, Quantity)) == len(
            stage.in_state("reached")
        )
