"""What is said with the figures of stages."""

from __future__ import annotations

import pytest

from sitegen.core.facts.figure import Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import MilestoneFacts
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.measure.stages.milestones import milestones_facts
from tests.measure.builders import event, joint, milestone, of, reading, run_of, seeds, setup_of, some

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 1, *FOUR)


def flower(day: int | Day, *ids: str, reached: bool = True, line: int = 0) -> MilestoneRow:
    """First flower of some plants; without plants, a look that found none."""
    return milestone(
        "first_flower", day, joint(*ids) if ids else of(0), reached=reached and bool(ids), line=line
    )


def bud(day: int, *ids: str) -> MilestoneRow:
    """First bud of some plants."""
    return milestone("flower_bud", day, joint(*ids))


def stages(*rows: MilestoneRow | Event | Reading, number: int = 4) -> list[MilestoneFacts]:
    """The stages of a run."""
    run = run_of(
        setup_of(number),
        milestones=[row for row in rows if isinstance(row, MilestoneRow)],
        events=[SOWN, *(row for row in rows if isinstance(row, Event))],
        readings=[row for row in rows if isinstance(row, Reading)],
    )
    return list(milestones_facts(run))


def last(*rows: MilestoneRow | Event | Reading, number: int = 4) -> MilestoneFacts:
    """The last stage of a run."""
    return stages(*rows, number=number)[-1]


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


def test_first_day() -> None:
    """The last look before the first day that said not yet, by the last day that it can have been."""
    assert last(flower(20), flower(25), flower(30, "P1")).first.remarks == (
        remark("not_yet_on", day=Day.on(25)),
    )
    assert last(flower(30, "P1"), flower(30), flower(40)).first.remarks == ()
    assert last(flower(20), flower(25)).first.remarks == (remark("not_yet_on", day=Day.on(25)),)
    spans = (flower(Day(20, 29)), flower(25), flower(30, "P1"))
    assert last(*spans).first.remarks == (remark("not_yet_on", day=Day(20, 29)),)
    assert last(flower(30, "P1")).first.remarks == ()


def test_share() -> None:
    """Plants lost before they reached a stage are counted, those lost after it are not."""
    lost = event(Deed.LOST, 12, joint("P3", "P4"))
    assert last(flower(20, "P1", "P2"), lost).share.remarks == (remark("plants_lost_before", n=2),)
    late = event(Deed.LOST, 40, joint("P1"))
    assert last(flower(20, "P1", "P2"), late).share.remarks == ()
    assert last(milestone("first_flower", 20, of(2, 4))).share.remarks == said("not_kept_by_plant")
    assert last(milestone("first_flower", 20, some())).share.remarks == said("not_counted")


def test_median_and_interval_of_plants() -> None:
    """How many plants are behind a median, and how many of them still waited."""
    all_four = last(flower(30, *FOUR))
    assert all_four.median.remarks == (remark("from_plants", n=4),)
    assert all_four.interval.remarks == said("too_few_for_interval")
    waiting = last(flower(30, "P1"), flower(40))
    assert waiting.median.remarks == (
        remark("not_reached"),
        remark("from_plants_some_waiting", n=4, waiting=3),
    )
    assert waiting.interval.remarks == said("too_few_for_interval")
    nobody = last(flower(40))
    assert nobody.median.remarks == (
        remark("not_reached"),
        remark("from_plants_some_waiting", n=4, waiting=4),
    )
    assert nobody.interval.remarks == said("not_reached")


def test_an_interval_says_its_coverage() -> None:
    """Of twenty plants, each a day after the other, ranks 6 and 15 hold the median in 95.86 % (scipy.stats.binom)."""
    names = [f"P{n + 1}" for n in range(20)]
    rows = [flower(29), *(flower(30 + n, name, line=n + 1) for n, name in enumerate(names))]
    assert last(*rows, number=20).interval.remarks == (
        remark("interval_coverage", percent=pytest.approx(95.86105346679688)),
    )


def test_plants_with_days_of_their_own() -> None:
    """Plants sown again are named; a sowing on day 0 is none."""
    found = last(flower(30, *FOUR), seeds(9, 1, "P2", "P4"))
    own = remark("counted_from_own_sowing", plants=("P2", "P4"))
    assert found.median.remarks == (remark("from_plants", n=4), own)


def test_median_and_interval_of_counts() -> None:
    """Counts say the same as plants do; without a definite count nothing is known."""
    found = last(milestone("first_flower", 30, of(1, 4)), milestone("first_flower", 37, of(2, 3)))
    assert found.median.remarks == (
        remark("from_plants_some_waiting", n=4, waiting=1),
        remark("plants_not_counted_again", n=1),
    )
    one = last(milestone("first_flower", 30, of(1, 4)))
    assert one.median.remarks == (remark("not_reached"), remark("from_plants_some_waiting", n=4, waiting=3))
    uncounted = last(milestone("first_flower", 33, some()))
    assert (uncounted.median.remarks, uncounted.interval.remarks) == (
        said("not_counted"),
        said("not_counted"),
    )


def test_days_from_the_stage_before() -> None:
    """The stage before, whether half went on, and how many did."""
    since = remark("since_stage", stage=Label("flower_bud", "stage"))
    went = last(bud(30, *FOUR), flower(38, *FOUR)).since_before
    assert went.remarks == (since, remark("plants_went_on", n=4, went=4))
    looked = reading("leaves", 60, counted(9), FOUR)
    few = last(bud(30, "P1", "P2", "P3"), flower(38, "P1"), looked).since_before
    assert few.remarks == (since, remark("not_reached_by_half"), remark("plants_went_on", n=3, went=1))
    assert last(bud(30, "P1"), flower(38, "P2")).since_before.remarks == (
        since,
        remark("not_reached_by_half"),
        remark("plants_went_on", n=1, went=0),
    )
    first, second = stages(milestone("flower_bud", 30, of(2, 4)), flower(38, "P1"))
    assert first.since_before.remarks == said("no_stage_before")
    assert second.since_before.remarks == said("not_kept_by_plant")
