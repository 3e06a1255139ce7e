"""When each phase began, how certain that is, and the phase of each visit."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.tree import Phase, Timeline
from sitegen.core.records.rows import Deed, Entry, Event, MilestoneRow, Pick, Which
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import counted
from sitegen.measure import measure
from tests.measure.builders import event, grams, joint, milestone, of, pick, place, run_of, seeds, setup_of

ALL = joint("P1", "P2", "P3", "P4")
SOWN = seeds(0, 1, *ALL.ids)
UP = event(Deed.SPROUTED, 6, ALL, amount=counted(4))


def timeline(*rows: Event | Pick | MilestoneRow, start: Start | None = None, **more: Any) -> Timeline:
    """The timeline of a run."""
    return measure(
        run_of(
            setup_of(start=start),
            events=[row for row in rows if isinstance(row, Event)],
            picks=[row for row in rows if isinstance(row, Pick)],
            milestones=[row for row in rows if isinstance(row, MilestoneRow)],
            **more,
        )
    ).timeline


def spans(*rows: Event | Pick | MilestoneRow) -> list[tuple[str, int | Day, int | Day]]:
    """Phases with their days; a certain one as its number."""
    phases = timeline(*rows).phases
    return [(phase.name, _number(phase.begins), _number(phase.ends)) for phase in phases]


def _number(day: Day) -> int | Day:
    return day.first if day.exact else day


def test_phases_whole() -> None:
    """Each phase has its days, whether its day is about, and the row that says so."""
    rows = (
        seeds(9, 1, "P4"),
        SOWN,
        UP._replace(day=Day(6, 9, about=True)),
        milestone("first_true_leaf", 12, ALL),
        milestone("first_flower", Day(40, 42), ALL),
        pick(70, ALL, grams(9)),
        pick(78, ALL, grams(9)),
        event(Deed.PRUNE, 80, ALL),
        pick(92, ALL, grams(9)),
    )
    assert timeline(*rows).phases == (
        Phase("germination", Day.on(0), Day(6, 9, about=True), place(1000)),
        Phase("seedling", Day(6, 9, about=True), Day.on(12), place(1006)),
        Phase("leaf growth", Day.on(12), Day(40, 42), place(4012)),
        Phase("flowering", Day(40, 42), Day.on(70), place(4040)),
        Phase("picking", Day.on(70), Day.on(92), place(2070)),
        Phase("later flush", Day.on(92), Day.on(92), place(2092)),
    )


def test_nothing_logged_is_germination() -> None:
    """A run of nothing has begun to germinate on day 0, without a row."""
    assert timeline().phases == (Phase("germination", Day.on(0), Day.on(0), None),)


def test_a_stage_that_begins_no_phase() -> None:
    """Side shoots and stages of the author's own begin no phase."""
    assert spans(milestone("side_shoots", 20, ALL), milestone("tendrils", 30, ALL)) == [
        ("germination", 0, 30)
    ]


def test_a_stage_that_nobody_reached_begins_nothing() -> None:
    """A look that found no flower begins no flowering."""
    assert spans(milestone("first_flower", 30, of(0), reached=False)) == [("germination", 0, 30)]


def test_two_phases_of_one_day() -> None:
    """Of phases that began on one day the later one is lived; a phase that began before another is passed by."""
    assert spans(milestone("first_flower", 40, ALL), pick(40, ALL, grams(9))) == [
        ("germination", 0, 40),
        ("picking", 40, 40),
    ]
    assert spans(milestone("seed_leaves", 0, ALL)) == [("seedling", 0, 0)]
    rows = (milestone("first_fruit", 30, ALL), milestone("first_flower", 31, ALL))
    assert spans(*rows) == [("germination", 0, 30), ("fruiting", 30, 31)]


@pytest.mark.parametrize("again", [1, 20])
def test_a_stage_of_plants_sown_again_begins_on_the_day_of_the_run(again: int) -> None:
    """Plants sown again have their stages counted from that sowing; a phase begins on the day of the run."""
    lost = event(Deed.LOST, again, ALL, line=900)
    rows = (lost, seeds(again, 1, *ALL.ids), milestone("first_true_leaf", 32, ALL))
    assert spans(SOWN, *rows) == [("germination", 0, 32), ("leaf growth", 32, 32)]


def test_a_stage_begins_with_half_the_plants_in_the_order_of_the_run() -> None:
    """Two plants of day 0 and two sown on day 20 flower on days 30, 40, 41 and 42: half the stand by day 40 (worked)."""
    late = seeds(20, 1, "P3", "P4")
    rows = [milestone("first_flower", day, joint(f"P{n}")) for n, day in enumerate((30, 40, 41, 42), 1)]
    assert spans(SOWN, late, *rows)[1:] == [("flowering", 40, 42)]


@pytest.mark.parametrize("which", [ALL, of(4, 4)], ids=["names", "counts"])
def test_a_stage_that_one_look_found_begins_with_it(which: Which) -> None:
    """The phase begins with the look that found the stage on all plants, however vague the day of a look before it."""
    before = milestone("first_flower", Day.on(28, about=True), of(0), reached=False)
    rows = (before, milestone("first_flower", 30, which))
    assert spans(SOWN, *rows) == [("germination", 0, 30), ("flowering", 30, 30)]
    assert phases_of(SOWN, *rows)["30"] == ("flowering",)


@pytest.mark.parametrize(
    "looks", [(joint("P1", "P2"), joint("P3")), (of(2, 4), of(3, 4))], ids=["names", "counts"]
)
def test_a_stage_begins_with_the_look_that_found_half(looks: tuple[Which, Which]) -> None:
    """Half the plants have a stage by one look: the phase is about where that look is, not where a later one is."""
    found, later = looks
    vague = Day.on(36, about=True)
    rows = (milestone("first_flower", 30, found), milestone("first_flower", vague, later))
    assert spans(SOWN, *rows)[1] == ("flowering", 30, vague)
    rows = (milestone("first_flower", vague, found), milestone("first_flower", 40, later))
    assert spans(SOWN, *rows)[1] == ("flowering", vague, 40)
    assert phases_of(SOWN, *rows)["about 36"] == ("flowering",)


def test_seedlings_and_open_seed_leaves_are_one_phase() -> None:
    """The first seedling begins the phase, seed leaves seen later do not begin it anew."""
    assert spans(UP, milestone("seed_leaves", 8, ALL)) == [("germination", 0, 6), ("seedling", 6, 8)]


def test_the_end_of_growing_and_of_picking() -> None:
    """Growing lasts to the end, even past the last entry's day; picking to the last pick, in the order of days."""
    end = event(Deed.END, 60)._replace(day=Day(60, 64))
    assert spans(UP, end) == [("germination", 0, 6), ("seedling", 6, Day(60, 64))]
    assert spans(UP, event(Deed.END, 5)) == [("germination", 0, 6), ("seedling", 6, 6)]
    assert spans(pick(78, ALL, grams(9)), pick(70, ALL, grams(9)), event(Deed.END, 90)) == [
        ("germination", 0, 70),
        ("picking", 70, 78),
    ]


def test_picks_are_taken_in_turn() -> None:
    """Flushes are told by the order of days, whatever the order of rows; a flush of the log's own begins picking."""
    assert spans(pick(90, ALL, grams(9)), event(Deed.PRUNE, 75), pick(70, ALL, grams(9))) == [
        ("germination", 0, 70),
        ("picking", 70, 90),
        ("later flush", 90, 90),
    ]
    assert spans(pick(70, ALL, grams(9), flush=2)) == [("germination", 0, 70), ("later flush", 70, 70)]


def visits(*rows: Event | Pick | MilestoneRow, **more: Any) -> list[tuple[Day, dt.date | None, str]]:
    """Each visit: its day, date and phase."""
    return [(v.entry.day, v.date, v.phase) for v in timeline(*rows, **more).visits]


def test_visits_in_order() -> None:
    """Visits by day, then by number; the first day of a phase is of that phase, after the last pick of none."""
    rows = (UP, pick(70, ALL, grams(9)), event(Deed.NOTE, 5), event(Deed.NOTE, 71))
    assert visits(*rows) == [
        (Day.on(5), dt.date(2025, 3, 6), "germination"),
        (Day.on(6), dt.date(2025, 3, 7), "seedling"),
        (Day.on(70), dt.date(2025, 5, 10), "picking"),
        (Day.on(71), dt.date(2025, 5, 11), ""),
    ]
    entries = [Entry(2, Day.on(9), place(1)), Entry(1, Day.on(9), place(2)), Entry(0, Day(8, 12), place(3))]
    assert [v.entry.index for v in timeline(entries=entries).visits] == [0, 1, 2]


def test_visits_before_sowing_and_without_a_date() -> None:
    """A visit before day 0 is in no phase; where the start is not dated to the day, no visit has a date."""
    before = event(Deed.NOTE, 3)._replace(day=Day.on(-3))
    assert visits(before, event(Deed.NOTE, 5)) == [
        (Day.on(-3), dt.date(2025, 2, 26), ""),
        (Day.on(5), dt.date(2025, 3, 6), "germination"),
    ]
    monthly = Start(dt.date(2025, 3, 1), "month")
    assert visits(event(Deed.NOTE, 5), start=monthly) == [(Day.on(5), None, "germination")]


def test_a_visit_of_a_span_is_placed_in_its_middle() -> None:
    """A visit at some time between two days has the date of the first and is listed in the phase of the middle."""
    span = event(Deed.NOTE, 4)._replace(day=Day(4, 10))
    assert visits(UP, span)[0] == (Day(4, 10), dt.date(2025, 3, 5), "seedling")


STAGES = st.lists(
    st.tuples(
        st.sampled_from(("seed_leaves", "first_true_leaf", "first_flower", "first_fruit", "ripe")),
        st.integers(0, 90),
    ),
    max_size=6,
    unique_by=lambda stage: stage[0],
)


@given(STAGES, st.lists(st.integers(20, 99), max_size=4))
def test_phases_follow_on_each_other(stages: list[tuple[str, int]], picked: list[int]) -> None:
    """Phases begin on day 0, each where the one before ends, none of them twice, none running backwards."""
    rows: list[MilestoneRow | Pick] = [milestone(name, day, ALL) for name, day in stages]
    rows += [pick(day, ALL, grams(9), line=n + 1) for n, day in enumerate(picked)]
    phases = timeline(SOWN, *rows).phases
    assert phases[0].begins == Day.on(0)
    assert all(one.ends == other.begins for one, other in pairwise(phases))
    assert all(phase.begins <= phase.ends for phase in phases)
    names = [phase.name for phase in phases]
    assert len(set(names)) == len(names)
    assert ("picking" in names or "later flush" in names) == bool(picked)


def phases_of(*rows: Event | Pick | MilestoneRow) -> dict[str, tuple[str, ...]]:
    """The phases that each visit can have fallen into, by its day as written."""
    return {str(visit.entry.day): visit.phases for visit in timeline(*rows).visits}


def test_a_visit_between_two_days_may_be_of_either_phase() -> None:
    """It is of one phase alone where all its days are; the first day of a phase is of that phase."""
    span, late = event(Deed.NOTE, 4)._replace(day=Day(4, 10)), event(Deed.NOTE, 8)._replace(day=Day(8, 10))
    found = phases_of(UP, span, late)
    assert found == {"4-10": ("germination", "seedling"), "6": ("seedling",), "8-10": ("seedling",)}


def test_a_visit_may_lie_after_the_last_pick() -> None:
    """Picking ends on a span of days; a visit of those days may be after it, the pick itself is not."""
    last = replace(pick(30, ALL, grams(9)), day=Day(30, 36))
    found = phases_of(pick(20, ALL, grams(9)), last, event(Deed.NOTE, 33), event(Deed.NOTE, 40))
    assert found == {
        "20": ("picking",),
        "30-36": ("picking",),
        "33": ("picking", ""),
        "40": ("",),
    }


def test_a_phase_that_may_have_begun_before_another_is_kept() -> None:
    """A first flower on day 20 and a first pick at some time from day 10 to 30 leave the days between to either."""
    first = replace(pick(10, ALL, grams(9)), day=Day(10, 30))
    assert spans(milestone("first_flower", 20, ALL), first) == [
        ("germination", 0, 20),
        ("flowering", 20, Day(20, 30)),
        ("picking", Day(20, 30), Day(20, 30)),
    ]


FUZZY = st.one_of(
    st.builds(lambda day, more: Day(day, day + more), st.integers(0, 60), st.integers(0, 20)),
    st.builds(lambda day: Day.on(day, about=True), st.integers(0, 60)),
    st.builds(lambda day: Day(0, day, before=True), st.integers(1, 60)),
)


@given(
    st.lists(st.tuples(st.sampled_from(("seed_leaves", "first_flower", "first_fruit")), FUZZY), max_size=4),
    st.lists(FUZZY, max_size=3),
    st.lists(FUZZY, max_size=4),
)
def test_phases_hold_whatever_days_the_spans_stand_for(
    stages: list[tuple[str, Day]], picked: list[Day], noted: list[Day]
) -> None:
    """A phase begins and ends inside the spans of records; visits by phase hold each visit that must be in one."""
    rows: list[Any] = [milestone(name, day, ALL, line=n + 1) for n, (name, day) in enumerate(stages)]
    rows += [replace(pick(n, ALL, grams(9), line=100 + n), day=day) for n, day in enumerate(picked)]
    rows += [
        event(Deed.NOTE, n, line=200 + n, entry=500 + n)._replace(day=day) for n, day in enumerate(noted)
    ]
    found = timeline(SOWN, *rows)
    ends = {0} | {end for day in (*picked, *noted, *(d for _, d in stages)) for end in (day.first, day.last)}
    for phase in found.phases:
        assert {phase.begins.first, phase.begins.last, phase.ends.first, phase.ends.last} <= ends
        assert phase.begins.first <= phase.ends.first
        assert phase.begins.last <= phase.ends.last
    for visit in found.visits:
        assert visit.phases
        assert (
            not visit.entry.day.exact
            or len(visit.phases) == 1
            or not all(phase.begins.exact and phase.ends.exact for phase in found.phases)
        )
