"""A log derived from a known course of plants: every interval of a stage holds what truly happened.

In: random days on which each plant reached each stage, was lost or was moved; random looks at them, written in every
form that a log has. Out: no figure of a stage excludes the truth.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import fmean

from hypothesis import assume, example, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Several
from sitegen.core.facts.tree import MilestoneFacts
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Run, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.measure.germination.germination import germination_of
from sitegen.measure.stages.looks import (
    arrivals_of,
    in_order,
    interval_of,
    intervals_of_steps,
    steps_of,
    told_apart,
)
from sitegen.measure.stages.milestones import milestones_facts
from sitegen.measure.stages.survival import Observation, kaplan_meier_median
from sitegen.measure.stages.turnbull import Interval
from tests.measure.builders import event, joint, milestone, of, place, run_of, seeds, setup_of, some

STAGES = ("flower_bud", "first_flower", "first_fruit")  # of a fruiting crop, in the order of growth
NEVER = math.inf
Form = str  # how a look is written
NAMED: tuple[Form, ...] = ("list", "all", "none", "without", "both", "list and count")
COUNTED: tuple[Form, ...] = ("count", "count of", "some", "none")


@dataclass(frozen=True)
class Look:
    """A look at one stage: the true day, the days on either side that the log leaves open, and its form."""

    stage: str
    day: int
    before: int
    after: int
    form: Form

    @property
    def written(self) -> Day:
        """The day as the log has it."""
        return Day(max(0, self.day - self.before), self.day + self.after)


@dataclass(frozen=True)
class Course:
    """What truly happened: the day of each stage of each plant (`NEVER`), and the day of its loss."""

    days: dict[str, dict[str, float]]
    lost: dict[str, int]

    def at(self, stage: str, day: int) -> list[str]:
        """The plants that had reached a stage by a day, lost ones included."""
        return [plant for plant, days in self.days.items() if days[stage] <= day]

    def standing(self, day: int) -> list[str]:
        """The plants not lost by a day."""
        return [plant for plant in self.days if self.lost.get(plant, NEVER) > day]


@st.composite
def courses(draw: st.DrawFn, *, losses: bool = True) -> Course:
    """Two to six plants; a stage follows the one before on the same day or later, or never."""
    days: dict[str, dict[str, float]] = {}
    lost: dict[str, int] = {}
    for number in range(draw(st.integers(2, 6))):
        plant, day, course = f"P{number + 1}", 0.0, {}
        gone = draw(st.none() | st.integers(5, 60)) if losses else None
        for stage in STAGES:
            day += draw(st.integers(0, 25) | st.just(NEVER))
            course[stage] = day if gone is None or day < gone else NEVER
        days[plant] = course
        if gone is not None:
            lost[plant] = gone
    return Course(days, lost)


def looks(forms: Sequence[Form]) -> st.SearchStrategy[list[Look]]:
    """Looks at any stage; some are known to a span of days."""
    look = st.builds(
        Look,
        st.sampled_from(STAGES),
        st.integers(0, 70),
        st.sampled_from((0, 0, 0, 3)),
        st.sampled_from((0, 0, 0, 4)),
        st.sampled_from(forms),
    )
    return st.lists(look, min_size=1, max_size=9, unique_by=lambda each: (each.stage, each.written))


def rows_of(look: Look, course: Course, line: int) -> list[MilestoneRow]:  # noqa: PLR0911 - one for each form
    """What a true log says of a look; nothing where its form has nothing true to say."""

    def row(which: Which, *, reached: bool = True, more: int = 0) -> MilestoneRow:
        made = milestone(look.stage, look.written, which, reached=reached, line=line + more)
        return MilestoneRow(*(getattr(made, name) for name in ("name", "day")), line, *_rest(made))

    there, standing = course.at(look.stage, look.day), course.standing(look.day)
    known = [plant for plant in standing if plant in there]
    without = [plant for plant in standing if plant not in there]
    match look.form:
        case "list" if known:
            return [row(joint(*known))]
        case "all" if known and not without:
            return [row(joint(*known, word="all"))]
        case "none" if not there and standing:
            return [row(of(0), reached=False)]
        case "without" if without:
            return [row(joint(*without[:2]), reached=False)]
        case "both" if known and without:
            return [row(joint(*known[:1])), row(joint(*without[:1]), reached=False, more=1)]
        case "list and count" if known:
            return [row(joint(*known)), row(of(len(there), len(course.days)), more=1)]
        case "count" if there:
            return [row(of(len(there)))]
        case "count of" if there:
            return [row(of(len(there), len(course.days)))]
        case "some" if there:
            return [row(some())]
    return []


def _rest(made: MilestoneRow) -> tuple[object, ...]:
    return made.source, made.which, made.reached


def log(course: Course, seen: Iterable[Look]) -> Run:
    """The log of a course by some looks."""
    rows = [row for n, look in enumerate(seen) for row in rows_of(look, course, 100 + 10 * n)]
    assume(rows)
    lost = [
        event(Deed.LOST, day, joint(plant), line=900 + n)
        for n, (plant, day) in enumerate(course.lost.items())
    ]
    sown = seeds(0, 1, *course.days)
    return run_of(setup_of(len(course.days)), milestones=rows, events=[sown, *lost])


def holds(interval: Interval, day: float) -> bool:
    """Whether a true day lies within an interval; one without a last day waits for a later look, or for ever."""
    return interval.first <= day and (interval.last is None or day <= interval.last)


def can_be_matched(intervals: Sequence[Interval], days: Sequence[float]) -> bool:
    """Whether each interval can have a plant of its own whose true day it holds (augmenting paths)."""
    taken: dict[int, int] = {}

    def place_one(n: int, tried: set[int]) -> bool:
        for d, day in enumerate(days):
            if d not in tried and holds(intervals[n], day):
                tried.add(d)
                if d not in taken or place_one(taken[d], tried):
                    taken[d] = n
                    return True
        return False

    return all(place_one(n, set()) for n in range(len(intervals)))


@given(courses(), looks(NAMED))
def test_a_plant_by_name_has_its_true_day_in_its_interval(course: Course, seen: list[Look]) -> None:
    """Whatever form the looks have, the days of a plant hold the day on which it reached the stage."""
    run = log(course, seen)
    for stage in STAGES:
        rows = in_order([row for row in run.rows.milestones if row.name == stage])
        for arrival in arrivals_of(run, rows) if told_apart(rows) else ():
            interval = interval_of(arrival, 0)
            true = course.days[arrival.plant][stage]
            assert interval is None or holds(interval, true), (arrival, true)
            assert arrival.state != "reached" or true < NEVER


@given(courses(), looks((*NAMED, *COUNTED)))
@example(
    Course({"P1": dict.fromkeys(STAGES, NEVER), "P2": dict.fromkeys(STAGES, 0.0)}, {"P2": 5}),
    [Look("first_flower", 5, 0, 0, "without"), Look("first_flower", 6, 0, 0, "count")],
)
@example(
    Course(
        {
            "P1": dict.fromkeys(STAGES, 0.0),
            "P2": dict.fromkeys(STAGES, NEVER),
            "P3": dict.fromkeys(STAGES, NEVER),
            "P4": dict.fromkeys(STAGES, 0.0),
        },
        {"P3": 5, "P4": 5},
    ),
    [Look("first_flower", 1, 0, 4, "without"), Look("first_flower", 5, 0, 0, "list")],
)
@example(
    Course(
        {
            "P1": {"flower_bud": 2.0, "first_flower": 2.0, "first_fruit": NEVER},
            "P2": dict.fromkeys(STAGES, 0.0),
        },
        {"P2": 5},
    ),
    [
        Look("flower_bud", 0, 0, 0, "list"),
        Look("flower_bud", 1, 0, 4, "list"),
        Look("flower_bud", 5, 0, 0, "list"),
    ],
)
@example(
    Course(
        {
            "P1": dict.fromkeys(STAGES, 6.0),
            "P2": dict.fromkeys(STAGES, 0.0),
            "P3": dict.fromkeys(STAGES, 0.0),
        },
        {"P3": 5},
    ),
    [
        Look("flower_bud", 0, 0, 0, "list"),
        Look("flower_bud", 5, 0, 0, "count"),
        Look("flower_bud", 6, 0, 0, "list"),
    ],
)
def test_counted_plants_have_their_true_days_in_their_intervals(course: Course, seen: list[Look]) -> None:
    """The intervals of counted plants can be those of different plants, each holding its true day."""
    run = log(course, seen)
    for stage in STAGES:
        rows = in_order([row for row in run.rows.milestones if row.name == stage])
        days = [course.days[plant][stage] for plant in course.days]
        assert can_be_matched(intervals_of_steps(steps_of(run, rows)), days)


def median(days: Iterable[float]) -> float:
    """The first day on which at most half still wait."""
    ordered = sorted(days)
    return ordered[(len(ordered) - 1) // 2]


@given(courses(losses=False), looks((*NAMED, *COUNTED)))
@example(
    Course({"P1": dict.fromkeys(STAGES, 1.0), **{p: dict.fromkeys(STAGES, NEVER) for p in ("P2", "P3")}}, {}),
    [Look("first_fruit", 0, 0, 0, "none"), Look("first_fruit", 1, 0, 0, "some")],
)
def test_medians_and_values_hold_the_truth(course: Course, seen: list[Look]) -> None:
    """Where all plants are counted and none is lost, the median of the true days lies in the one given; so do values."""
    for found in milestones_facts(log(course, seen)):
        days = [course.days[plant][found.name] for plant in course.days]
        if found.in_state("unknown") or not _of_all(found, len(days)):
            continue
        true, given_ = median(days), found.median.value
        if isinstance(given_, Day) and not _waits_unseen(found, given_.last):
            assert given_.first <= true <= given_.last
        values = found.values.value
        if isinstance(values, Several):
            spans = [_interval(value) for value in values.values if isinstance(value, Quantity)]
            assert can_be_matched(spans, days)


def _waits_unseen(found: MilestoneFacts, day: int) -> bool:
    """Whether a plant was last looked at before a day, without the stage: then the median is an estimate for it."""
    return any(a.last_look is not None and a.last_look.first < day for a in found.in_state("not yet"))


def _of_all(found: MilestoneFacts, number: int) -> bool:
    return bool(found.arrivals) or any(step.of == number for step in found.steps)


def _interval(value: Quantity) -> Interval:
    return Interval(int(value.low), None if value.high is None else int(value.high))


@given(courses(losses=False), looks(NAMED))
def test_days_between_stages_hold_the_truth(course: Course, seen: list[Look]) -> None:
    """Where all plants that had one stage had the next, the median of the true days between lies in the one given."""
    run = log(course, seen)
    stages = milestones_facts(run)
    for before, found in pairwise(stages):
        went = [
            a.plant
            for a in before.arrivals
            if a.day and a.plant in {b.plant for b in found.in_state("reached")}
        ]
        mine = [a.plant for a in before.arrivals if a.day]
        if not went or went != mine or found.since_before.value is None:
            continue
        days = [course.days[plant][found.name] - course.days[plant][before.name] for plant in went]
        value = found.since_before.value
        if isinstance(value, Quantity):
            true = kaplan_meier_median(Observation(int(day), reached=True) for day in days)
            assert true is not None
            assert value.high is not None
            assert value.low <= true <= value.high
        else:
            assert isinstance(value, Several)
            spans = [_interval(each) for each in value.values if isinstance(each, Quantity)]
            assert all(holds(span, day) for span, day in zip(spans, days, strict=True))


SEEDLINGS = st.lists(st.integers(1, 30), min_size=1, max_size=8)
SEED_LOOKS = st.lists(
    st.tuples(st.integers(0, 40), st.sampled_from((0, 0, 3)), st.sampled_from(("count", "count", "some"))),
    min_size=1,
    max_size=5,
)


def seedling_counts(days: Sequence[int], seen: Iterable[tuple[int, int, str]]) -> list[Event]:
    """Counts of seedlings at some looks; `some` where there is one and nobody counted."""
    found = []
    for n, (day, wide, form) in enumerate(seen):
        up = sum(each <= day for each in days)
        size = (
            counted(up)
            if form == "count" or not up
            else Quantity(1, None, counted(1).dimension, open=1, step=1)
        )
        made = event(
            Deed.SPROUTED, day, joint("P1", "P2", word="all"), line=50 + n, amount=size, entry=50 + n
        )
        found.append(made._replace(day=Day(max(0, day - wide), day + wide)))
    return found


@given(SEEDLINGS, SEED_LOOKS)
@example([1, 1, 2], [(1, 0, "count"), (4, 0, "some"), (5, 0, "count")])
def test_seedlings_hold_the_truth(days: list[int], seen: list[tuple[int, int, str]]) -> None:
    """The first seedling came up within the days given; so lies the mean, where the last count found all of them."""
    sown = event(Deed.SOW, 0, joint("P1", "P2"), line=1, amount=counted(9))
    found = germination_of(run_of(setup_of(2), events=[sown, *seedling_counts(days, seen)]))
    first = found.first_day.value
    if isinstance(first, Day):
        assert first.first <= min(days) <= first.last
    mean, up = found.rate.mean_time.value, found.sprouted.value
    if isinstance(mean, Quantity) and isinstance(up, Quantity) and up.low == len(days):
        assert mean.high is not None
        assert mean.low - 1e-9 <= fmean(days) <= mean.high + 1e-9


@given(courses(losses=False), looks(("list", "none", "all")))
def test_naming_and_counting_agree_where_nobody_was_lost(course: Course, seen: list[Look]) -> None:
    """The same looks written as names and as counts of all plants give one share, one median, its interval and values."""
    number = len(course.days)
    empty = [not course.at(look.stage, look.day) for look in seen]
    counts, lists = (
        [replace(look, form="none" if none else form) for look, none in zip(seen, empty, strict=True)]
        for form in ("count of", "list")
    )
    by_name = {found.name: found for found in milestones_facts(log(course, lists))}
    by_count = {found.name: found for found in milestones_facts(log(course, counts))}
    assert by_name.keys() == by_count.keys()
    for name, named in by_name.items():
        other = by_count[name]
        assert (named.share.value, named.median.value) == (other.share.value, other.median.value), number
        assert (named.interval.value, named.values.value) == (other.interval.value, other.values.value)


def test_the_line_of_a_row() -> None:
    """Each look has an entry and a place of its own."""
    course = Course({"P1": dict.fromkeys(STAGES, 3.0), "P2": dict.fromkeys(STAGES, NEVER)}, {})
    rows = rows_of(Look("first_flower", 5, 0, 0, "both"), course, 40)
    assert [(row.entry, row.source, row.reached) for row in rows] == [
        (40, place(40), True),
        (40, place(41), False),
    ]
