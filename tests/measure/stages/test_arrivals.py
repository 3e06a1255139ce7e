"""Looks at plants one by one, and counts of them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Several, remark
from sitegen.core.facts.tree import Arrival, CountStep, MilestoneFacts
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Run, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure.ranges import share_of
from sitegen.measure.stages.looks import (
    arrivals_of,
    intervals_of_arrivals,
    intervals_of_steps,
    sowing_day,
    steps_of,
    told_apart,
)
from sitegen.measure.stages.milestones import milestones_facts, reached_by
from sitegen.measure.stages.turnbull import Interval
from tests.measure.builders import (
    event,
    grams,
    joint,
    milestone,
    of,
    pick,
    place,
    reading,
    remarks_of,
    run_of,
    seeds,
    setup_of,
    some,
)
from tests.measure.values import lines

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 1, *FOUR)


def flower(day: int | Day, which: Which, *, reached: bool = True, line: int = 0) -> MilestoneRow:
    """First flower of some plants."""
    return milestone("first_flower", day, which, reached=reached, line=line)


def not_yet(day: int | Day, *ids: str, line: int = 0) -> MilestoneRow:
    """A look that found no flower: on some plants, or on none of those that stand."""
    return flower(day, joint(*ids) if ids else of(0), reached=False, line=line)


def grown(*rows: MilestoneRow, events: tuple[Event, ...] = (SOWN,), **more: Any) -> Run:
    """A run with looks at four plants."""
    return run_of(milestones=rows, events=events, **more)


def facts(*rows: MilestoneRow, events: tuple[Event, ...] = (SOWN,), **more: Any) -> MilestoneFacts:
    """The one stage of such a run."""
    (found,) = milestones_facts(grown(*rows, events=events, **more))
    return found


def begins(*rows: MilestoneRow) -> Day | None:
    """The day on which the one stage of such a run counts as begun for the whole stand."""
    return reached_by(grown(*rows, events=(SOWN,)), facts(*rows))


def arrivals(*rows: MilestoneRow, events: tuple[Event, ...] = (SOWN,)) -> dict[str, tuple[Day | None, ...]]:
    """Of each plant: the day it arrived, the look before, the last look."""
    run = grown(*rows, events=events)
    return {a.plant: (a.day, a.after, a.last_look) for a in arrivals_of(run, run.rows.milestones)}


@pytest.mark.parametrize(
    ("rows", "apart"),
    [
        ((), True),
        ((flower(30, joint("P1")),), True),
        ((flower(30, joint("P1", "P2")), flower(35, of(2, 4))), True),
        ((flower(30, joint("P1", "P2")), flower(35, of(3, 4))), False),
        ((flower(30, joint("P1")), flower(35, some())), True),
        ((flower(30, some()), flower(35, joint("P1"))), False),
        ((flower(30, of(1, 4)), flower(30, joint("P1"), line=9)), True),
        ((flower(30, of(0)), flower(35, joint("P1"))), True),
        ((flower(30, of(3, 4), reached=False), flower(35, joint("P1"))), True),
    ],
)
def test_told_apart(rows: tuple[MilestoneRow, ...], apart: bool) -> None:
    """Plants are told apart as long as no count is larger than the number named by then."""
    assert told_apart(rows) is apart


def test_the_look_before_an_arrival() -> None:
    """The last look before that said not yet, of the plant itself or of nobody."""
    rows = (
        not_yet(20),
        not_yet(25, "P1"),
        flower(30, joint("P1", "P2")),
        not_yet(30, "P3"),
        not_yet(33, "P3"),
    )
    assert arrivals(*rows) == {
        "P1": (Day.on(30), Day.on(25), Day.on(30)),
        "P2": (Day.on(30), Day.on(20), Day.on(30)),
        "P3": (None, Day.on(33), Day.on(33)),
        "P4": (None, Day.on(20), Day.on(20)),
    }


def test_a_look_of_the_same_day_is_not_before() -> None:
    """A plant seen with and without the stage on one day has no look before."""
    assert arrivals(not_yet(30, "P1"), flower(30, joint("P1")))["P1"] == (Day.on(30), None, Day.on(30))


def test_the_first_of_several_arrivals_counts() -> None:
    """A plant seen again later arrived when it was first seen, with the row of that look."""
    run = grown(flower(35, joint("P1")), flower(30, joint("P1", "P2")))
    found = arrivals_of(run, run.rows.milestones)
    assert found[0] == Arrival("P1", Day.on(30), None, Day.on(35), place(4030))


def test_looks_before_a_sowing_say_nothing_of_the_new_plant() -> None:
    """In a spot sown again, neither an arrival nor a look from before the sowing counts; one of that day does."""
    again = (SOWN, seeds(20, 1, "P1", "P2"))
    rows = (not_yet(19), flower(19, joint("P1")), not_yet(20, "P2"), flower(40, joint("P2")))
    found = arrivals(*rows, events=again)
    assert found["P1"][:2] == (None, Day.on(40))
    assert found["P2"][:2] == (Day.on(40), Day.on(20))
    assert arrivals(flower(20, joint("P1")), events=again)["P1"][0] == Day.on(20)
    assert arrivals(not_yet(20), flower(40, joint("P1")), events=again)["P1"][1] == Day.on(20)


def test_a_look_at_those_standing_says_nothing_of_a_lost_plant() -> None:
    """`none` after a plant was lost is about the others."""
    lost = event(Deed.LOST, 12, joint("P4"))
    found = arrivals(not_yet(20), flower(30, joint("P1")), events=(SOWN, lost))
    assert (found["P3"], found["P4"]) == ((None, Day.on(30), Day.on(30)), (None, None, None))


def test_only_the_stage_itself_is_a_look() -> None:
    """Readings, events, picks and other stages say nothing of a stage: the last look is the last one for it."""
    run = run_of(
        milestones=[flower(34, joint("P1")), milestone("ripe", 44, joint("P4"))],
        readings=[reading("leaves", 41, counted(3), ("P2",))],
        events=[event(Deed.PRUNE, 42, joint("P2"))],
        picks=[pick(43, joint("P3"), grams(9))],
    )
    found = milestones_facts(run)[0]
    assert [a.last_look for a in found.arrivals] == [Day.on(34)] * 4
    assert [a.state for a in found.arrivals] == ["reached", "not yet", "not yet", "not yet"]


def test_a_count_is_a_look_at_all_that_stand() -> None:
    """`3 of 4` beside three names looks at the fourth plant too; a count out of fewer, and `some`, at nobody."""
    rows = (
        flower(30, joint("P1", "P2", "P3")),
        flower(40, of(3, 4)),
        flower(45, of(2, 3)),
        flower(50, some()),
    )
    assert arrivals(*rows)["P4"] == (None, Day.on(40), Day.on(40))


def test_a_visit_that_names_those_without_is_no_look_at_the_others() -> None:
    """Where a visit says of P1 that it has the stage and of P2 that it has not, P3 and P4 are unknown."""
    found = facts(flower(30, joint("P1")), not_yet(30, "P2"))
    assert [a.state for a in found.arrivals] == ["reached", "not yet", "unknown", "unknown"]
    assert found.share.value == share_of(1, 2)


def test_reached_not_yet_lost_and_unknown() -> None:
    """A plant lost before the stage is none that waits, looked at or not; one sown after the last look is unknown."""
    lost, again = event(Deed.LOST, 12, joint("P4")), seeds(60, 1, "P3")
    found = facts(flower(30, joint("P1")), events=(SOWN, lost, again))
    assert [(a.state, a.lost) for a in found.arrivals] == [
        ("reached", None),
        ("not yet", None),
        ("unknown", None),
        ("lost", Day.on(12)),
    ]


def test_the_own_day_of_a_plant() -> None:
    """A plant's days run from its last sowing; from day 0 where none names it."""
    run = run_of(events=[SOWN, seeds(9, 1, "P2"), seeds(15, 1, "P2", "P3")])
    assert [sowing_day(run, plant) for plant in FOUR] == [0, 15, 15, 0]
    assert sowing_day(run_of(), "P1") == 0


def counts(
    *rows: MilestoneRow, events: tuple[Event, ...] = (SOWN,)
) -> list[tuple[int, int, int | None, int]]:
    """Each step: its day, its count, out of how many, its line."""
    run = grown(*rows, events=events)
    return [(s.day.first, s.count, s.of, s.source.line) for s in steps_of(run, run.rows.milestones)]


def test_steps() -> None:
    """Counts as stated, names as many as they are, and a count never falls."""
    rows = (
        flower(30, of(2, 4)),
        flower(33, joint("P1", "P2", "P3")),
        flower(35, of(2, 4)),
        flower(37, some()),
        flower(39, of(4)),
    )
    assert counts(*rows) == [
        (30, 2, 4, 4030),
        (33, 3, 4, 4033),
        (35, 3, 4, 4035),
        (37, 3, None, 4037),
        (39, 4, 4, 4039),
    ]


def test_steps_are_out_of_those_standing() -> None:
    """Without a stated whole a count is out of the plants that stand, and never out of fewer than it is."""
    lost = (SOWN, event(Deed.LOST, 20, joint("P4")), event(Deed.LOST, 32, of(1, 3)))
    assert counts(flower(30, of(1)), flower(34, of(1)), flower(36, of(3)), events=lost) == [
        (30, 1, 3, 4030),
        (34, 1, 2, 4034),
        (36, 3, 3, 4036),
    ]


def test_a_look_written_later_on_a_day_inside_of_a_span_says_nothing_of_before() -> None:
    """P2 in flower on day 0-4, then a list without it on day 3: it may have flowered on any of the days 0 to 4."""
    run = grown(flower(Day(0, 4), joint("P2"), line=1), flower(3, joint("P1"), line=2))
    found = {each.plant: each for each in arrivals_of(run, run.rows.milestones)}
    assert (found["P2"].day, found["P2"].after) == (Day(0, 4), None)
    late = grown(flower(Day(5, 9), joint("P2"), line=1), flower(3, joint("P1"), line=2))
    assert {each.plant: each.after for each in arrivals_of(late, late.rows.milestones)}["P2"] == Day.on(3)


def test_a_look_at_some_plants_that_found_none_is_no_step() -> None:
    """Only a look at all plants says that nobody had arrived: one that was lost may have."""
    assert counts(not_yet(28, "P1", "P2"), flower(30, of(1, 4))) == [(30, 1, 4, 4030)]
    assert counts(not_yet(28, *FOUR), flower(30, of(1, 4))) == [(28, 0, 4, 4028), (30, 1, 4, 4030)]
    lost = (SOWN, event(Deed.LOST, 20, joint("P4")))
    assert counts(not_yet(28, "P1", "P2", "P3"), events=lost) == []


def test_some_are_at_least_one() -> None:
    """`some` counts as one where nobody was counted before."""
    assert counts(flower(30, some()), flower(35, of(3, 4))) == [(30, 1, None, 4030), (35, 3, 4, 4035)]


def test_intervals_of_single_plants() -> None:
    """From the day after the last look without the stage to the day seen, in days since the plant's own sowing."""
    run = run_of(events=[seeds(9, 1, "P2"), seeds(50, 1, "P3")])
    found = (
        Arrival("P1", Day(30, 33), Day(20, 21), Day.on(60)),
        Arrival("P2", Day(30, 33), None, Day.on(60)),
        Arrival("P3", None, Day(53, 55), Day(53, 55)),
        Arrival("P4", None, None, None),
    )
    assert intervals_of_arrivals(run, found) == (Interval(21, 33), Interval(0, 24), Interval(4, None))


def step(first: int, count: int, of_: int | None, last: int | None = None) -> CountStep:
    """A count at some time between two days."""
    return CountStep(Day(first, first if last is None else last), count, of_, place(first))


def within(*spans: tuple[int, int | None]) -> tuple[Interval, ...]:
    """Plants that arrived on one of these days, or later than a day."""
    return tuple(Interval(*span) for span in spans)


@pytest.mark.parametrize(
    ("steps", "found"),
    [
        ((), ()),
        ((step(30, 0, 4),), within(*[(31, None)] * 4)),
        ((step(30, 1, 4, 32), step(37, 3, 4)), within((0, 32), (31, 37), (31, 37), (38, None))),
        ((step(30, 1, 4), step(37, 2, 3)), within((0, 30), (31, 37), (31, None), (38, None))),
        ((step(30, 1, 4), step(37, 1, 2), step(44, 2, 2)), within((0, 30), (31, None), (31, None), (38, 44))),
        ((step(30, 1, None), step(37, 2, 3)), within((0, 30), (0, 37), (38, None))),
        ((step(5, 3, 4), step(9, 3, 3), step(14, 3, 3)), within((0, 5), (0, 5), (0, 5), (6, None))),
        ((step(28, 0, 4), step(30, 1, None), step(37, 4, 4)), within((29, 30), *[(29, 37)] * 3)),
        (
            (step(30, 1, 4), step(35, 1, 2), step(40, 3, 4)),
            within((0, 30), (31, None), (36, 40), (36, 40)),
        ),
    ],
)
def test_intervals_of_counts(steps: tuple[CountStep, ...], found: tuple[Interval, ...]) -> None:
    """Newly counted plants arrived after the count before; those gone wait from the last look that had them."""
    assert intervals_of_steps(steps) == found


def test_the_look_before_is_the_latest_of_those_before() -> None:
    """A span that begins earlier than the look before it moves no bound back."""
    steps = (step(33, 1, 3), step(30, 2, 3, 36), step(38, 3, 3))
    assert intervals_of_steps(steps) == within((0, 33), (34, 36), (34, 38))


def test_rows_of_a_stage() -> None:
    """The first day leads to the rows of that day, the share and the median to all rows."""
    rows = (not_yet(20), flower(30, joint("P1")), flower(30, joint("P2"), line=9), flower(35, joint("P3")))
    found = facts(*rows)
    assert (found.first.value, lines(found.first)) == (Day.on(30), [9, 4030])
    assert [lines(f) for f in (found.share, found.median, found.interval)] == [[9, 4020, 4030, 4035]] * 3
    assert [f.formula for f in (found.first, found.share, found.median, found.interval)] == [
        "first_day",
        "wilson_interval",
        "turnbull_median",
        "median_interval",
    ]
    assert (found.name, found.bbch, found.not_yet) == ("first_flower", "61", (Day.on(20),))
    assert lines(facts(not_yet(20), not_yet(25, "P1")).first) == [4020, 4025]


def test_rows_of_a_counted_stage() -> None:
    """The share of counts leads to the last definite count; the median to all."""
    found = facts(flower(30, of(1, 4)), flower(35, of(2, 3)), flower(40, some()))
    assert (found.share.value, lines(found.share)) == (share_of(2, 4), [4035])
    assert lines(found.median) == lines(found.interval) == [4030, 4035, 4040]
    uncounted = facts(flower(40, some()), flower(42, some()))
    assert [(f.value, lines(f)) for f in (uncounted.share, uncounted.median, uncounted.interval)] == [
        (None, [4040, 4042])
    ] * 3


def test_about_is_carried_into_the_median() -> None:
    """A stage seen on about a day makes the median an about, of plants and of counts alike."""
    about = Day.on(30, about=True)
    before = not_yet(29)
    assert facts(before, flower(about, joint(*FOUR))).median.value == about
    late = (flower(28, joint("P1", "P2")), flower(about, joint("P3")))
    assert facts(not_yet(27), *late).median.value == Day.on(28, about=True)
    assert facts(before, flower(about, of(4, 4))).median.value == about
    assert facts(before, flower(30, of(4, 4))).median.value == Day.on(30)


def test_a_stage_begins_for_the_stand_on_the_last_day_of_its_median() -> None:
    """Half the plants begin a stage, on the last day possible; where half is not reached, the first plant does."""
    half = (not_yet(25), flower(Day.on(30, about=True), joint(*FOUR)))
    assert facts(*half).median.value == Day(26, 30, about=True)
    assert begins(*half) == Day(30, 30, about=True)
    assert begins(flower(30, joint("P1")), not_yet(40)) == Day.on(30)
    assert begins(not_yet(40)) is None


# Freireich et al. 1963, Blood 21, 699-716, placebo: weeks to relapse of 21 patients; median 8, log(-log) limits 4 and
# 11 (recomputed with lifelines). Read here as plants and days.
PLACEBO = (1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23)
# The same trial, 6-MP, those with a plus had not relapsed; median 23, limits 13 and not reached.
SIX_MP = (6, 6, 6, 7, 10, 13, 16, 22, 23)
SIX_MP_WAITING = (6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35)


def trial(reached: tuple[int, ...], waiting: tuple[int, ...] = (), *, daily: bool = True) -> MilestoneFacts:
    """A stage of 21 plants; some were lost without it on the day after their last look."""
    ids = [f"P{n + 1}" for n in range(len(reached) + len(waiting))]
    days = dict(zip(ids, reached, strict=False))
    rows = [flower(day, joint(plant), line=n + 1) for n, (plant, day) in enumerate(days.items())]
    if daily:
        rows += [flower(day, of(0), reached=False, line=100 + day) for day in range(36)]
    lost = [
        event(Deed.LOST, day + 1, joint(plant), line=200 + n)
        for n, (plant, day) in enumerate(zip(ids[len(reached) :], waiting, strict=True))
    ]
    events = [seeds(0, 1, *ids), *lost]
    (found,) = milestones_facts(run_of(setup_of(len(ids)), milestones=rows, events=events))
    return found


def test_published_medians_of_a_run() -> None:
    """A trial of 21, looked at daily, gives its published median, and the days of ranks 6 and 16 with their coverage.

    `scipy.stats.binom.cdf(5, 21, 0.5)` is 0.0133: 97.3 % between the two ranks. Of the treated, the plant of rank
    16 had not come, and those that were lost may have been next.
    """
    placebo, treated = trial(PLACEBO), trial(SIX_MP, SIX_MP_WAITING)
    assert (placebo.median.value, placebo.share.value) == (Day.on(8), share_of(21, 21))
    assert placebo.interval.value == Quantity(4, 12, Dimension.DAYS, step=1)
    assert remarks_of(placebo.interval) == "it includes the median in 97.3 % of such samples"
    assert (treated.median.value, treated.share.value) == (Day.on(23), share_of(9, 21))
    assert treated.interval.value == Quantity(10, None, Dimension.DAYS, step=1)
    assert remarks_of(treated.interval) == (
        "it includes the median in at least 97.3 % of such samples; too few plants to give a latest day"
    )
    assert (placebo.values.recorded, treated.values.recorded) == (False, False)


def test_without_daily_looks_median_and_interval_are_wider() -> None:
    """Looks days apart: half between two of them, and an interval that covers at least as much, rounded down.

    Of eight plants 99.2 % lie between the first and the last: `1 - 2 * scipy.stats.binom.cdf(0, 8, 0.5)` is 0.9922.
    """
    assert trial(PLACEBO, daily=False).median.value == Day(6, 8)
    ids = [f"P{n + 1}" for n in range(8)]
    rows = (not_yet(19), flower(30, joint(*ids[:5])), flower(38, joint(*ids)))
    (found,) = milestones_facts(run_of(setup_of(8), milestones=rows, events=[seeds(0, 1, *ids)]))
    assert (found.median.value, found.interval.value) == (
        Day(20, 30),
        Quantity(20, 38, Dimension.DAYS, step=1),
    )
    assert remarks_of(found.interval) == "it includes the median in at least 99.2 % of such samples"


def test_too_few_for_an_interval() -> None:
    """Five plants have no interval of their median but their days, six have one: 96.9 % from first to last."""
    five, six = trial((30, 31, 32, 33, 34)), trial((30, 31, 32, 33, 34, 35))
    assert (five.median.value, five.interval.value) == (Day.on(32), None)
    assert five.interval.remarks == (remark("too_few_for_interval"),)
    assert five.values.value == Several(
        tuple(Quantity(day, day, Dimension.DAYS, step=1) for day in range(30, 35))
    )
    assert (six.median.value, six.interval.value) == (Day.on(32), Quantity(30, 35, Dimension.DAYS, step=1))
    assert remarks_of(six.interval) == "it includes the median in 96.9 % of such samples"
    assert not six.values.recorded


def test_days_that_are_alike_are_said_once() -> None:
    """Four plants found at one look have one span of days, said with their number."""
    found = facts(flower(30, joint(*FOUR))).values
    assert (found.value, remarks_of(found)) == (Quantity(0, 30, Dimension.DAYS, step=1), "4 plants alike")


def test_a_plant_seldom_looked_at_widens_the_median() -> None:
    """One plant seen to the day says nothing of two that nobody had looked at before they were found."""
    rows = (
        not_yet(19, "P1"),
        flower(20, joint("P1")),
        not_yet(20, "P4"),
        flower(30, joint("P2", "P3", "P4")),
    )
    assert facts(*rows).median.value == Day(0, 30)


def test_stages_that_no_list_knows() -> None:
    """A stage of the author's own comes after the known ones, without a code, in the order of the log."""
    rows = [
        milestone("tendrils", 50, joint("P1")),
        milestone("first_flower", 60, joint("P1")),
        milestone("own_stage", 40, joint("P1")),
    ]
    found = milestones_facts(run_of(milestones=rows))
    assert [(each.name, each.bbch) for each in found] == [
        ("first_flower", "61"),
        ("own_stage", ""),
        ("tendrils", ""),
    ]


LOOKS = st.lists(st.tuples(st.integers(1, 60), st.integers(0, 4)), min_size=1, max_size=6)


@given(LOOKS)
def test_every_counted_plant_has_one_interval(looks: list[tuple[int, int]]) -> None:
    """Counts out of four give four intervals, as many of them closed as the largest count says."""
    steps, count = [], 0
    for day, number in sorted(looks):
        count = max(count, number)
        steps.append(step(day, count, 4))
    found = intervals_of_steps(steps)
    assert len(found) == 4
    assert sum(interval.last is not None for interval in found) == count
    assert all(i.first <= (steps[-1].day.last + 1 if i.last is None else i.last) for i in found)
