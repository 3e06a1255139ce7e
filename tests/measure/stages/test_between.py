"""Days from one stage to the next."""

from __future__ import annotations

from typing import Any

from sitegen.core.facts.figure import Figure, Several
from sitegen.core.records.rows import Deed, MilestoneRow
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.stages.milestones import milestones_facts
from tests.measure.builders import event, joint, milestone, of, remarks_of, run_of, seeds, setup_of
from tests.measure.values import lines

FOUR = ("P1", "P2", "P3", "P4")


def bud(day: int, *ids: str) -> MilestoneRow:
    """First bud of some plants."""
    return milestone("flower_bud", day, joint(*ids))


def flower(day: int, *ids: str, **more: Any) -> MilestoneRow:
    """First flower of some plants."""
    return milestone("first_flower", day, joint(*ids), **more)


def since(*rows: MilestoneRow, number: int = 4, daily: int = 0) -> Figure:
    """Days from the bud to the flower; until a day every plant was looked at `daily`."""
    looks = [
        milestone(stage, day, of(0), reached=False, line=9000 + day)
        for stage in ("flower_bud", "first_flower")
        for day in range(daily)
    ]
    run = run_of(setup_of(number), milestones=[*rows, *looks], events=[seeds(0, 1, *FOUR[:number])])
    return milestones_facts(run)[-1].since_before


def days(low: int, high: int) -> Quantity:
    """A time in whole days."""
    return Quantity(low, high, Dimension.DAYS, step=1)


def test_plant_by_plant() -> None:
    """The median is over each plant's own days, not over the days of the log."""
    figure = since(
        bud(30, "P1", "P2"), bud(40, "P3", "P4"), flower(38, "P1"), flower(50, "P2", "P3", "P4"), daily=51
    )
    assert (figure.value, remarks_of(figure)) == (days(10, 10), "since first bud; 4 of 4 plants went on")


def test_a_stage_between_two_visits_makes_a_span() -> None:
    """Where a look said not yet, the days are at least those up to the day after it."""
    rows = (milestone("first_flower", 36, of(0), reached=False), flower(40, *FOUR))
    bare = milestone("flower_bud", 29, of(0), reached=False)
    assert since(bare, bud(30, *FOUR), *rows).value == days(7, 10)


def test_without_an_earlier_look_only_sowing_bounds_the_days() -> None:
    """A bud and a flower each found at the first look may have come on one day, or the bud on the day of sowing."""
    assert since(bud(30, *FOUR), flower(40, *FOUR)).value == days(0, 40)


def test_about_days_make_about_times() -> None:
    """A time from a stage seen on about a day is about so many days."""
    about = milestone("flower_bud", Day.on(30, about=True), joint(*FOUR), line=7)
    figure = since(about, flower(40, *FOUR), daily=40)
    assert figure.value == Quantity(10, 10, Dimension.DAYS, about=True, step=1)


def test_plants_that_did_not_go_on_still_wait() -> None:
    """Half must have gone on for a median; the others are not left out."""
    figure = since(bud(30, *FOUR), flower(38, "P1"), daily=60)
    assert (figure.value, remarks_of(figure)) == (
        None,
        "since first bud; fewer than half got there; 1 of 4 plants went on",
    )


def test_no_days_between_stages_seen_in_another_order() -> None:
    """A flower on day 20 and no bud yet on day 25: there is no time from the bud to the flower, not 0 days."""
    rows = (flower(20, "P1"), milestone("flower_bud", 25, joint("P1"), reached=False), bud(30, "P1"))
    figure = since(*rows)
    assert (figure.value, remarks_of(figure)) == (None, "one plant was seen at this stage before that one")
    others = since(*rows, bud(30, "P2", "P3", "P4"), flower(38, "P2", "P3", "P4"), daily=60)
    assert (figure.value, figure.rows) == (None, ())
    assert others.value == days(8, 8)


def test_a_later_stage_at_the_look_that_had_not_the_earlier_one_narrows_nothing() -> None:
    """No seed leaves and a bud at one look on day 0-4, a flower on day 1: 0 to 1 days; the look contradicts itself."""
    rows = (
        milestone("seed_leaves", Day(0, 4), joint("P1"), reached=False, line=3),
        milestone("flower_bud", Day(0, 4), joint("P1"), line=4),
        flower(1, "P1"),
    )
    assert since(*rows, number=1).value == days(0, 1)


def test_two_plants_are_shown_one_by_one() -> None:
    """Two values make no mean: each stands by itself."""
    figure = since(bud(30, "P1", "P2"), flower(38, "P1"), flower(45, "P2"), number=2, daily=46)
    assert figure.value == Several((days(8, 8), days(15, 15)))


def test_counts_have_no_days_between() -> None:
    """Where plants were counted and not told apart, nothing is said of single plants."""
    figure = since(milestone("flower_bud", 30, of(2, 4)), flower(38, "P1"))
    assert (figure.value, remarks_of(figure)) == (None, "not recorded plant by plant")


def test_the_first_stage_has_none_before() -> None:
    """The first stage that the log names follows none."""
    assert remarks_of(since(bud(30, "P1"))) == "no earlier stage was logged"


def test_a_span_at_both_ends() -> None:
    """Looks without the first stage and without the second make the days shorter and longer."""
    rows = (
        milestone("flower_bud", 28, of(0), reached=False),
        bud(30, *FOUR),
        milestone("first_flower", 36, of(0), reached=False),
        flower(40, *FOUR),
    )
    assert since(*rows).value == days(7, 11)


def test_days_that_are_spans() -> None:
    """A stage seen at some time between two days ends the longest time; what began it is the look before."""
    early = milestone("flower_bud", Day(30, 32), joint(*FOUR))
    late = milestone("first_flower", Day(40, 44), joint(*FOUR))
    before = milestone("flower_bud", 29, of(0), reached=False)
    without = milestone("first_flower", Day(38, 39), of(0), reached=False)
    assert since(before, early, without, late).value == days(7, 14)


def test_stages_seen_at_one_visit() -> None:
    """Two stages first seen together are no days apart."""
    assert since(bud(30, *FOUR), flower(30, *FOUR), daily=31).value == days(0, 0)


def test_a_plant_no_longer_looked_at_does_not_wait() -> None:
    """A plant last looked at ten days after its bud waits no longer; at its last look it still does."""
    rows = [bud(30, "P1", "P2", "P3"), flower(41, "P1")]
    rows += [milestone("flower_bud", 29, of(0), reached=False), flower(40, *FOUR, reached=False)]
    lost = event(Deed.LOST, 41, joint("P2", "P3"))
    run = run_of(milestones=rows, events=[seeds(0, 1, *FOUR), lost])
    assert milestones_facts(run)[-1].since_before.value == days(11, 11)
    assert since(bud(30, "P1", "P2", "P3"), flower(40, "P1"), daily=41).value is None


def test_one_plant_has_its_own_days() -> None:
    """A single plant is its own median; of two, one that did not go on leaves the days of the other."""
    assert since(bud(30, "P1"), flower(38, "P1"), daily=39).value == days(8, 8)
    assert since(bud(30, "P1", "P2"), flower(38, "P1"), daily=39).value == days(8, 8)


def test_three_plants_have_a_median() -> None:
    """Of 8, 15 and 20 days the median is 15."""
    rows = (bud(30, "P1", "P2", "P3"), flower(38, "P1"), flower(45, "P2"), flower(50, "P3"))
    figure = since(*rows, number=3, daily=51)
    assert (figure.value, lines(figure)) == (days(15, 15), [4030, 4038, 4045, 4050])
    assert (figure.name, figure.formula) == ("milestones.first_flower.since_before", "kaplan_meier_median")


def test_only_plants_that_had_the_stage_before() -> None:
    """A plant whose bud nobody saw is in no count of days from the bud."""
    assert since(bud(30, "P1"), flower(38, "P1"), flower(90, "P2", "P3", "P4"), daily=91).value == days(8, 8)


BEAN = Crop("bean", "Bean", "legume")


def pods(*rows: MilestoneRow) -> dict[str, Figure]:
    """The days between the stages of two beans."""
    run = run_of(setup_of(2, crop=BEAN), milestones=rows, events=[seeds(0, 1, "P1", "P2")])
    return {stage.name: stage.since_before for stage in milestones_facts(run)}


def test_a_pod_comes_after_a_flower_was_possible() -> None:
    """No flower on day 30 is no pod either: a full pod found on day 59 has 28 days at most since the first one."""
    rows = [
        milestone("first_flower", 30, of(0), reached=False),
        milestone("first_flower", 40, joint("P1", "P2")),
        milestone("first_pod", 50, joint("P1", "P2")),
        milestone("full_pod", 59, joint("P1", "P2")),
    ]
    found = pods(*rows)
    assert found["first_pod"].value == Several((days(0, 19), days(0, 19)))
    assert found["full_pod"].value == Several((days(0, 28), days(0, 28)))
    assert pods(*rows[1:])["full_pod"].value == Several((days(0, 59), days(0, 59)))


def test_a_flower_comes_before_its_pod() -> None:
    """A flower named on day 50, of a plant whose pod was seen on day 45, was there on day 45."""
    found = pods(
        milestone("first_flower", 50, joint("P1", "P2")),
        milestone("first_pod", 44, of(0), reached=False),
        milestone("first_pod", 45, joint("P1", "P2")),
    )
    assert found["first_pod"].value == Several((days(0, 45), days(0, 45)))
    late = pods(
        milestone("first_flower", 43, of(0), reached=False),
        milestone("first_flower", 50, joint("P1", "P2")),
        milestone("first_pod", 45, joint("P1", "P2")),
    )
    assert late["first_pod"].value == Several((days(0, 1), days(0, 1)))


def test_stages_against_their_order_stay_as_seen() -> None:
    """A pod before the last look without a flower contradicts the order: neither day is moved."""
    found = pods(
        milestone("first_flower", 48, of(0), reached=False),
        milestone("first_flower", 50, joint("P1", "P2")),
        milestone("first_pod", 45, joint("P1", "P2")),
    )
    assert (found["first_pod"].value, remarks_of(found["first_pod"])) == (
        None,
        "two plants were seen at this stage before that one",
    )
