"""Stretches between cuts: what a rate and a plateau may be taken from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Rate, remark
from sitegen.core.facts.tree import Growth
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Pick, Reading, Tally, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.growth import growth_of
from tests.measure.builders import (
    event,
    grams,
    joint,
    of,
    pick,
    place,
    reading,
    remarks_of,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)
from tests.measure.values import lines, rate

THREE = ("P1", "P2", "P3")
ALL = joint("P1", "P2", "P3", "P4", word="all")
CUT = remark("longest_stretch")


def cm(size: float) -> Quantity:
    """A length to the centimetre."""
    return exactly(size, Dimension.LENGTH, 1)


def height(day: int, size: float, *ids: str) -> Reading:
    """The height of some plants, each as tall, on a line by its day."""
    return reading("height", day, cm(size), ids, line=day)


def grown(*readings: Reading, tubs: tuple[str, ...] = ("tub",), **tables: Any) -> Growth:
    """Growth of four plants; P1 to P3 are a group."""
    return growth_of(run_of(setup_of(tubs=tubs, groups=(("early", THREE),)), readings=readings, **tables))


def prune(day: int | Day, which: Which | None = ALL, **more: Any) -> Event:
    """A prune."""
    when = day if isinstance(day, Day) else Day.on(day)
    return event(Deed.PRUNE, when.first, which, **more)._replace(day=when)


HEIGHTS = tuple(height(day, size, "P1") for day, size in ((10, 4), (20, 9), (30, 14), (50, 18), (60, 30)))


def ends(**tables: Any) -> list[int] | None:
    """The days from which and to which the first plant's rate is taken."""
    found = grown(*HEIGHTS, **tables).rate.height.absolute
    return lines(found[0].figure) if found else None


WHICH_MAY_BE_P1 = (joint("P1"), joint("P1", "P2"), ALL, some(), of(2, 4), None)


@pytest.mark.parametrize("which", WHICH_MAY_BE_P1)
def test_a_prune_ends_a_stretch(which: Which | None) -> None:
    """A prune of a plant, of all, of some and of nobody in particular: 20 days before it, 10 after."""
    assert ends(events=[prune(40, which)]) == [10, 30]
    assert ends(events=[prune(15, which)]) == [20, 60]


@pytest.mark.parametrize("which", [which for which in WHICH_MAY_BE_P1 if which])
def test_a_pick_ends_a_stretch(which: Which) -> None:
    """A pick is a cut, weighed or not."""
    for weight in (grams(9), unweighed()):
        assert ends(picks=[pick(40, which, weight)]) == [10, 30]


@pytest.mark.parametrize("which", [joint("P2"), joint("P2", "P3"), of(0, 4)])
def test_cuts_of_other_plants(which: Which) -> None:
    """Cuts of named others, and of none, leave a plant's series whole."""
    assert ends(events=[prune(40, which)]) == [10, 60] == ends(picks=[pick(40, which, grams(9))])


def test_cuts_of_another_tub() -> None:
    """Some plants of one tub are none of the other; those of the plant's own may be it."""
    for tub, days in (("left", [10, 30]), ("right", [10, 60])):
        made = pick(40, some(), grams(9), tubs=(tub,))
        assert (
            lines(grown(*HEIGHTS, tubs=("left", "right"), picks=[made]).rate.height.absolute[0].figure)
            == days
        )


def test_a_loss_and_a_new_sowing_end_a_stretch() -> None:
    """The plant of a spot sown again is another; the first sowing ends nothing."""
    first = event(Deed.SOW, 0, ALL, amount=counted(2), each=True)
    again = event(Deed.SOW, 40, joint("P1"), amount=counted(2), each=True)
    assert ends(events=[first]) == [10, 60]
    assert ends(events=[first, again]) == [10, 30] == ends(events=[first, event(Deed.LOST, 40, joint("P1"))])


def test_a_routine_of_pruning() -> None:
    """Inside a routine of pruning no two readings are undisturbed; without an end it goes on."""
    routine = Routine("prune", Day.on(25), 25, place(9), often="every week")
    assert ends(routines=[routine]) == [10, 20]
    assert ends(routines=[replace(routine, day=Day.on(5), until=Day.on(25))]) == [30, 60]
    assert ends(routines=[replace(routine, what="feed")]) == [10, 60]


def test_picks_that_only_a_running_total_knows_of() -> None:
    """They lie anywhere since the total before or the first pick; a total that its picks explain says nothing new."""
    logged = pick(55, joint("P1"), grams(60))
    assert ends(tallies=[tally(55, grams(60), ALL)]) is None
    assert ends(tallies=[tally(55, grams(60), ALL)], picks=[logged]) == [10, 50]
    assert ends(tallies=[tally(55, grams(70), ALL)], picks=[replace(logged, day=Day.on(35))]) == [10, 30]
    assert ends(tallies=[tally(5, grams(9), ALL), tally(15, grams(60), ALL)]) == [20, 60]
    assert ends(tallies=[tally(55, grams(60), joint("P2"))]) == [10, 60]
    assert ends(tallies=[tally(55, counted(9), ALL)], picks=[replace(logged, count=9)]) == [10, 50]


def test_a_reading_on_the_day_of_a_cut() -> None:
    """Whether it was taken before the cut is not known: it is in no stretch with others."""
    assert ends(events=[prune(30)]) == [10, 20]
    assert ends(events=[prune(Day(12, 55))]) is None


def test_the_longest_stretch() -> None:
    """The one with the most days; of equals the earliest; a remark says that it is a part."""
    facts = grown(*HEIGHTS, events=[prune(25), prune(45)]).rate.height
    (absolute,), (relative,) = facts.absolute, facts.relative
    assert lines(absolute.figure) == lines(relative.figure) == [10, 20]
    assert absolute.figure.remarks[1:] == relative.figure.remarks[1:] == (CUT,)
    assert remarks_of(absolute.figure) == (
        "from day 10 to day 20; over the longest time without a cut or a pick"
    )


def test_a_plateau_lies_inside_one_stretch() -> None:
    """Readings on both sides of a cut are no stand-still; of a plant that grew on after the cut none is said."""
    still = [height(day, 20, "P1") for day in (10, 20, 30)]
    assert [n.figure.value for n in grown(*still).rate.height.plateau] == [Day.on(10)]
    assert grown(*still, events=[prune(25)]).rate.height.plateau == ()
    cut = [prune(35)]
    (found,) = grown(*still, height(40, 15, "P1"), events=cut).rate.height.plateau
    assert (found.figure.value, lines(found.figure), found.figure.remarks) == (
        Day.on(10),
        [10, 20, 30],
        (CUT,),
    )
    assert grown(*still, height(40, 25, "P1"), events=cut).rate.height.plateau == ()


def group(*readings: Reading, **tables: Any) -> tuple[list[int], str]:
    """The days and the remarks of the group's rate."""
    (found,) = grown(*readings, **tables).rate.height.by_group
    return lines(found.figure), remarks_of(found.figure)


TOGETHER = tuple(height(day, size, *THREE) for day, size in ((10, 4), (20, 8), (40, 16), (60, 32)))


def test_a_group_is_undisturbed_as_a_whole() -> None:
    """A cut of one of its plants ends the stretch of the group."""
    assert group(*TOGETHER) == ([10, 60], "3 plants; day 10 to day 60")
    assert group(*TOGETHER, events=[prune(50, joint("P2"))]) == (
        [10, 40],
        "3 plants; day 10 to day 40; over the longest time without a cut or a pick",
    )
    cuts = [prune(day, joint("P2")) for day in (15, 30, 50)]
    assert group(*TOGETHER, events=cuts) == (
        [],
        "something was cut or picked between any two days on which all its plants were measured",
    )


def test_a_plant_that_moved_leaves_its_group() -> None:
    """Its readings count until the day before its move, its own rate goes on, and the group's remark names it."""
    move = [event(Deed.MOVE, 40, joint("P3"), tub="left")]
    facts = grown(*TOGETHER, tubs=("left", "right"), events=move).rate.height
    (found,) = facts.by_group
    assert lines(found.figure) == [10, 20]
    assert remarks_of(found.figure) == "3 plants; day 10 to day 20; P3 counted until moved to another tub"
    assert [lines(each.figure) for each in facts.absolute] == [[10, 60]] * 3
    fuzzy = event(Deed.MOVE, 0, joint("P3"), tub="left")._replace(day=Day(0, 59, before=True))
    assert group(*TOGETHER, tubs=("left", "right"), events=[*move, fuzzy])[0] == []
    early = [event(Deed.MOVE, 15, joint("P3"), tub="left")]
    assert group(*TOGETHER, tubs=("left", "right"), events=early) == (
        [],
        "no two days on which all its plants were measured; P3 counted until moved to another tub",
    )


DAYS = st.integers(1, 60)
SPANS = st.builds(lambda day, more: Day(day, day + more), DAYS, st.sampled_from((0, 0, 4)))
CUTS = st.one_of(
    st.builds(prune, SPANS, st.sampled_from(WHICH_MAY_BE_P1)),
    st.builds(pick, DAYS, st.sampled_from([w for w in WHICH_MAY_BE_P1 if w]), st.just(unweighed())),
)


@given(st.lists(st.tuples(SPANS, st.integers(1, 50)), max_size=8), st.lists(CUTS, max_size=3))
def test_no_cut_can_lie_within_a_rate(sizes: list[tuple[Day, int]], cuts: list[Event | Pick | Tally]) -> None:
    """Whichever day each fuzzy record was of, no cut lies between the readings of a rate, nor of a plateau."""
    readings = [
        height(n, size, "P1")._replace(day=day, source=place(n)) for n, (day, size) in enumerate(sizes, 1)
    ]
    when = {place(n): day for n, (day, _) in enumerate(sizes, 1)}
    events = [cut for cut in cuts if not isinstance(cut, Pick | Tally)]
    picks = [cut for cut in cuts if isinstance(cut, Pick)]
    facts = growth_of(run_of(readings=readings, events=events, picks=picks)).rate.height
    for found in (*facts.absolute, *facts.relative, *facts.plateau):
        days = sorted(when[row] for row in found.figure.rows)
        assert all(cut.day.last < days[0].first or days[-1].last < cut.day.first for cut in cuts)


@given(SPANS, SPANS, st.floats(0, 1), st.floats(0, 1), st.integers(1, 60), st.integers(1, 60))
def test_a_rate_holds_each_possible_day(
    first: Day, last: Day, at_first: float, at_last: float, small: int, tall: int
) -> None:
    """Whichever day of a span a reading was of, the rate of that day lies within the rate of the span."""
    rows = [height(1, small, "P1")._replace(day=first), height(2, tall, "P1")._replace(day=last)]
    for found in growth_of(run_of(readings=rows)).rate.height.absolute:
        assert isinstance(found.figure.value, Rate)
        value = rate(found.figure)
        begin, end = sorted((first, last))
        days = [
            day.first + round(at * (day.last - day.first)) for day, at in ((begin, at_first), (end, at_last))
        ]
        grown_by = (tall - small) if begin == first else (small - tall)
        assert value.high is not None
        assert value.low - 1e-9 <= grown_by / (days[1] - days[0]) <= value.high + 1e-9
