"""Stages: first day, share, median, and what is not known."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.measure.ranges import share_of
from sitegen.measure.stages.milestones import milestones_facts
from tests.measure.builders import (
    event,
    joint,
    milestone,
    of,
    place,
    reading,
    remarks_of,
    run_of,
    seeds,
    some,
)

SOWN = seeds(0, 1, "P1", "P2", "P3", "P4")
FOUR = ("P1", "P2", "P3", "P4")
NONE = of(0)


def flower(
    *rows: MilestoneRow, events: tuple[Event, ...] = (SOWN,), readings: tuple[Reading, ...] = ()
) -> MilestoneFacts:
    """The one stage of a run."""
    (facts,) = milestones_facts(run_of(milestones=rows, events=events, readings=readings))
    return facts


def at(day: int, *ids: str, reached: bool = True) -> MilestoneRow:
    """First flower of some plants."""
    return milestone("first_flower", day, joint(*ids), reached=reached)


def looks(day: int, *ids: str) -> Reading:
    """A look at some plants that says nothing of flowers."""
    return reading("leaves", day, counted(9), ids)


def test_arrivals_by_plant() -> None:
    """Each plant arrives on its own day; the median is over all of them."""
    facts = flower(at(20, "P1"), at(22, "P2"), at(25, "P3"), at(28, "P4"))
    assert [arrival.day for arrival in facts.arrivals] == [Day.on(d) for d in (20, 22, 25, 28)]
    assert (facts.first.value, facts.median.value) == (Day.on(20), Day(21, 22))
    assert (facts.share.value, facts.steps, facts.bbch) == (share_of(4, 4), (), "61")


def test_plants_not_there_are_censored_at_their_last_look() -> None:
    """A plant without the stage waits until it was last looked at, not until the log ends."""
    facts = flower(at(31, "P1"), at(38, "P2"), at(45, "P3", reached=False), readings=(looks(60, "P4"),))
    assert facts.arrivals[2] == Arrival("P3", None, Day.on(45), Day.on(45))
    assert facts.arrivals[3] == Arrival("P4", None, Day.on(38), Day.on(38))
    assert (facts.median.value, facts.share.value) == (Day(32, 38), share_of(2, 4))
    assert remarks_of(facts.median) == "from 4 plants, 2 not there when last checked"


def test_a_plant_lost_before_the_others_arrived_waits_no_more() -> None:
    """Plants last seen without the stage before the others arrived leave the median to those."""
    lost = event(Deed.LOST, 25, joint("P2", "P3"))
    assert flower(at(20, *FOUR, reached=False), at(31, "P1"), events=(SOWN, lost)).median.value == Day(21, 31)


def test_not_yet_puts_the_stage_between_two_visits() -> None:
    """A stage absent at one visit and seen at the next lies between them."""
    facts = flower(milestone("first_flower", 30, NONE, reached=False), at(35, *FOUR))
    assert facts.arrivals[0] == Arrival("P1", Day.on(35), Day.on(30), Day.on(35), place(4035))
    assert (facts.first.value, remarks_of(facts.first)) == (Day.on(35), "not yet on day 30")
    assert (facts.median.value, facts.not_yet) == (Day(31, 35), (Day.on(30),))


def test_never_reached() -> None:
    """Without an arrival there is no first day and the median is not reached: never the last day."""
    facts = flower(milestone("first_flower", 50, NONE, reached=False))
    assert (facts.first.value, facts.median.value, facts.share.value) == (None, None, share_of(0, 4))
    assert remarks_of(facts.median) == "not reached; from 4 plants, 4 not there when last checked"


def test_counts_stay_counts() -> None:
    """Counted, not named: steps instead of arrivals, and the share says so."""
    facts = flower(milestone("first_flower", 30, of(1, 4)), milestone("first_flower", 37, of(3, 4)))
    assert [(s.day.first, s.count, s.of) for s in facts.steps] == [(30, 1, 4), (37, 3, 4)]
    assert (facts.arrivals, facts.share.value) == ((), share_of(3, 4))
    assert (remarks_of(facts.share), facts.median.value) == ("not recorded plant by plant", Day(31, 37))


def test_names_after_a_count_do_not_date_the_plants() -> None:
    """Where three of four had it before all were named, no plant is dated to the later day."""
    facts = flower(milestone("first_flower", 30, of(3, 4)), at(40, *FOUR))
    assert (facts.arrivals, [step.count for step in facts.steps]) == ((), [3, 4])
    assert facts.median.value == Day(0, 30)


def test_some_is_a_first_day_only() -> None:
    """`some` says when it was first seen and nothing about how many."""
    facts = flower(milestone("first_flower", 33, some()))
    assert (facts.first.value, facts.share.value, facts.median.value) == (Day.on(33), None, None)
    assert (remarks_of(facts.share), remarks_of(facts.median)) == ("not counted", "not counted")


def test_resown_plant_counts_its_own_days() -> None:
    """The median counts days from each plant's own sowing."""
    facts = flower(at(20, "P1", "P2"), at(29, "P3", "P4"), events=(SOWN, seeds(9, 1, "P3", "P4")))
    assert facts.median.value == Day(0, 20)
    assert remarks_of(facts.median) == "from 4 plants; P3 and P4 counted from the day of sowing there"


def test_lost_plants_stay_in_the_count() -> None:
    """A plant lost before the stage is one that had not reached it."""
    lost = event(Deed.LOST, 12, joint("P4"), what="rot")
    facts = flower(at(20, "P1", "P2", "P3"), events=(SOWN, lost))
    assert (facts.share.value, remarks_of(facts.share)) == (
        share_of(3, 4),
        "one plant was lost before that",
    )
    assert facts.arrivals[3] == Arrival("P4", None, lost=Day.on(12))


def test_order_of_growth() -> None:
    """Stages come in the order of growth, whatever the order of the log."""
    rows = (at(40, "P1"), milestone("flower_bud", 35, joint("P1")), milestone("seed_leaves", 6, joint("P1")))
    facts = milestones_facts(run_of(milestones=rows))
    assert [each.name for each in facts] == ["seed_leaves", "flower_bud", "first_flower"]


def test_fewer_plants_to_count() -> None:
    """Plants gone between two counts wait until the look that missed them; they stay in the share."""
    facts = flower(milestone("first_flower", 30, of(1, 4)), milestone("first_flower", 37, of(2, 3)))
    assert facts.share.value == share_of(2, 4)
    assert remarks_of(facts.median) == (
        "from 4 plants, 1 not there when last checked; one plant was no longer counted"
    )


@given(st.lists(st.tuples(st.integers(0, 40), st.sampled_from(FOUR), st.booleans()), max_size=10))
def test_medians_lie_within_the_log(seen: list[tuple[int, str, bool]]) -> None:
    """Whatever was seen and not seen, half had not got there after the last day seen, nor before a first look without."""
    rows = [at(day, plant, reached=reached) for day, plant, reached in seen]
    for facts in milestones_facts(run_of(milestones=rows, events=[SOWN])):
        if isinstance(facts.median.value, Day):
            assert 0 <= facts.median.value.first <= facts.median.value.last
            assert facts.median.value.last <= max(day for day, _, reached in seen if reached)


def test_seen_before_a_day_comes_after_an_earlier_look() -> None:
    """A stage seen at some time before day 34 and not yet on day 27 lies after day 27."""
    rows = (
        milestone("first_flower", 27, NONE, reached=False),
        milestone("first_flower", Day(0, 33), of(1, 4), line=33),
        milestone("first_flower", 35, of(4, 4)),
    )
    facts = flower(*rows)
    assert (remarks_of(facts.first), facts.median.value) == ("not yet on day 27", Day(28, 35))
    assert [step.count for step in facts.steps] == [0, 1, 4]
