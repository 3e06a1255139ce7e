"""Flags, steps, rows and bounds of growth, and of the room above the plants."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate, Several
from sitegen.core.facts.tree import Growth, PlotPoint
from sitegen.core.records.rows import Deed, Event, Reading, Which
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.growth import growth_of, headroom_left, height_against, largest_reading
from sitegen.measure.growth.rates import plateau_day
from tests.measure.builders import event, joint, place, reading, run_of, setup_of
from tests.measure.values import amount, bounds, lines, rate

FOUR = ("P1", "P2", "P3", "P4")


def cm(low: float, high: float | None = None, step: float = 1, **flags: Any) -> Quantity:
    """A length, or one between two bounds."""
    return Quantity(low, low if high is None else high, Dimension.LENGTH, step=step, **flags)


def height(day: int | Day, size: Quantity, *ids: str, line: int = 0, **more: Any) -> Reading:
    """A height of some plants."""
    when = day if isinstance(day, Day) else Day.on(day)
    return reading("height", when.first, size, ids, line, **more)._replace(day=when)


def grown(*rows: Reading, events: tuple[Event, ...] = (), **head: Any) -> Growth:
    """Growth of a run; a head may be set up otherwise."""
    built = {k: head.pop(k) for k in ("number", "tubs", "groups") if k in head}
    return growth_of(run_of(replace(setup_of(**built), **head), readings=rows, events=events))


def point(day: int, size: Quantity, line: int = 0) -> PlotPoint:
    """A reading of one plant."""
    return PlotPoint(Day.on(day), "P1", size, place(line or day))


def test_the_largest_reading() -> None:
    """The middle of a range counts; of equals the latest, of the same day the last written."""
    assert largest_reading([point(9, cm(21)), point(8, cm(10, 30))]) == point(9, cm(21))
    assert largest_reading([point(9, cm(19)), point(8, cm(10, 30))]) == point(8, cm(10, 30))
    assert largest_reading([point(9, cm(21)), point(8, cm(21))]) == point(9, cm(21))
    assert largest_reading([point(9, cm(21), 2), point(9, cm(21), 1)]) == point(9, cm(21), 2)
    assert largest_reading([]) is None


@pytest.mark.parametrize(
    ("headroom", "tallest", "room"),
    [
        (cm(50), cm(20), cm(30)),
        (cm(50), cm(50), cm(0)),
        (cm(50), cm(51), cm(0)),
        (cm(48, 50), cm(20, 24), cm(24, 30)),
        (cm(50), cm(45, 60), cm(0, 5)),
        (cm(50, step=5), cm(20), cm(30, step=5)),
        (cm(50), cm(20, step=0.5), cm(30)),
        (cm(50), cm(20, about=True), cm(30, about=True)),
        (cm(50, by_eye=True), cm(20), cm(30, by_eye=True)),
    ],
)
def test_headroom_left(headroom: Quantity, tallest: Quantity, room: Quantity) -> None:
    """Headroom less the plant, never below 0, with the coarser step and the flags of both."""
    assert headroom_left(headroom, tallest) == room


def tight(*rows: Reading, rooms: tuple[float | None, ...], events: tuple[Event, ...] = ()) -> Growth:
    """Growth of two plants in each of some tubs of so much headroom."""
    setup = setup_of(2 * len(rooms), tubs=tuple(f"t{n + 1}" for n in range(len(rooms))))
    tubs = tuple(
        replace(tub, system=replace(tub.system, headroom=None if room is None else cm(room)))
        for tub, room in zip(setup.tubs, rooms, strict=True)
    )
    head = replace(setup, tubs=tubs, spans=(("system", place(7)),))
    return growth_of(run_of(head, readings=rows, events=events))


def test_the_least_room_of_several_tubs() -> None:
    """The tub with the least room left, with its own tallest plant and the place of its system."""
    rows = (height(30, cm(20), "P1"), height(31, cm(24), "P2"), height(32, cm(35), "P3"))
    assert (amount(tight(*rows, rooms=(50, 60)).headroom), lines(tight(*rows, rooms=(50, 60)).headroom)) == (
        cm(25),
        [7, 5032],
    )
    assert amount(tight(*rows, rooms=(50, 62)).headroom) == cm(26)
    assert amount(tight(*rows, rooms=(50, None)).headroom) == cm(26)
    assert tight(*rows, rooms=(None, None)).headroom.value is None


def test_a_plant_is_tall_where_it_stands_on_that_day() -> None:
    """A plant that moved counts for the tub that it stood in when it was measured."""
    moved = event(Deed.MOVE, 35, joint("P1"), tub="t2")
    rows = (height(30, cm(20), "P1"), height(40, cm(45), "P1"))
    assert amount(tight(*rows, rooms=(50, 60), events=(moved,)).headroom) == cm(15)
    assert amount(tight(*rows, rooms=(50, 60)).headroom) == cm(5)


def test_plants_not_named_stand_in_a_lone_tub() -> None:
    """A height of `2 of 4` is one of the only tub, and of none of two."""
    unnamed = height(30, cm(30))._replace(which=Which((), 2, 4))
    assert amount(tight(unnamed, rooms=(50,)).headroom) == cm(20)
    assert tight(unnamed, rooms=(50, 50)).headroom.value is None


def test_rows_of_the_largest() -> None:
    """Tallest, widest and most leaves lead to the reading itself; points come by day, then as written."""
    rows = (
        height(40, cm(34), "P1", "P2", line=8),
        height(30, cm(21), "P1", line=9),
        reading("spread", 35, cm(12), ("P1",), line=10),
        reading("leaves", 36, counted(7), ("P1",), line=11),
    )
    facts = grown(*rows)
    found = (facts.tallest, facts.widest, facts.most_leaves)
    assert [(f.value, lines(f)) for f in found] == [(cm(34), [8]), (cm(12), [10]), (counted(7), [11])]
    assert [(p.day.first, p.subject, p.source.line) for p in facts.heights] == [
        (30, "P1", 9),
        (40, "P1", 8),
        (40, "P2", 8),
    ]
    assert [len(points) for points in (facts.spreads, facts.leaves)] == [1, 1]
    assert [f.name for f in found] == ["growth.tallest", "growth.widest", "growth.most_leaves"]


def test_a_reading_of_several_plants_together_is_one_point() -> None:
    """A value of plants together is drawn once and is nobody's height."""
    facts = grown(height(30, cm(80), "P1", "P2", together=True))
    assert ([p.subject for p in facts.heights], facts.tallest.value) == (["P1, P2"], None)
    assert facts.heights[0].value == cm(80)


def absolute(*rows: Reading) -> Quantity:
    """The absolute rate of the first plant."""
    return rate(grown(*rows).rate.height.absolute[0].figure)


def relative(*rows: Reading) -> Quantity:
    """The relative rate of the first plant."""
    return rate(grown(*rows).rate.height.relative[0].figure)


def per_day(low: float, high: float, step: float = 0.1, **flags: Any) -> Quantity:
    """A growth of so much a day."""
    return Quantity(low, high, Dimension.LENGTH, step=step, **flags)


def test_an_absolute_rate_is_written_no_finer_than_its_readings() -> None:
    """The coarser step of the two readings over their days, as a power of ten, with two digits left."""
    assert absolute(height(10, cm(4), "P1"), height(20, cm(104), "P1")) == per_day(10, 10, 0.1)
    assert absolute(height(10, cm(4, step=5), "P1"), height(12, cm(204), "P1")) == per_day(100, 100, 10)
    assert absolute(height(10, cm(4), "P1"), height(12, cm(204, step=5), "P1")) == per_day(100, 100, 10)
    assert absolute(height(10, cm(4), "P1"), height(12, cm(204), "P1")) == per_day(100, 100, 1)


def test_flags_of_readings_reach_both_rates() -> None:
    """By eye and about of either reading are the rate's."""
    first, last = cm(4, by_eye=True), cm(14)
    for ends in ((first, last), (cm(4), replace(last, by_eye=True))):
        rows = [height(day, size, "P1") for day, size in zip((10, 20), ends, strict=True)]
        assert (absolute(*rows).by_eye, relative(*rows).by_eye, absolute(*rows).about) == (True, True, False)
    for ends in ((replace(cm(4), about=True), last), (cm(4), replace(last, about=True))):
        rows = [height(day, size, "P1") for day, size in zip((10, 20), ends, strict=True)]
        assert (absolute(*rows).about, relative(*rows).about, absolute(*rows).by_eye) == (True, True, False)


@pytest.mark.parametrize("days", [(Day.on(10, about=True), Day.on(20)), (Day.on(10), Day.on(20, about=True))])
def test_about_a_day_makes_a_rate_about(days: tuple[Day, Day]) -> None:
    """About a day counts as that day; both rates keep their bounds, step and flags, and are about."""
    rows = (height(days[0], cm(4, by_eye=True), "P1"), height(days[1], cm(14, 24), "P1"))
    assert absolute(*rows) == per_day(1, 2, about=True, by_eye=True)
    found = relative(*rows)
    assert bounds(found) == pytest.approx((math.log(3.5) / 10, math.log(6) / 10))
    assert (found.about, found.by_eye, found.dimension, found.step) == (True, True, Dimension.COUNT, 0)


@pytest.mark.parametrize("days", [(Day(8, 12), Day.on(20)), (Day.on(10), Day(18, 22))])
def test_a_span_of_days_makes_a_range(days: tuple[Day, Day]) -> None:
    """The lowest rate is over the most days, the highest over the fewest: 10 cm in 8 to 12 days, 20 cm in 8 to 12."""
    found = absolute(height(days[0], cm(4), "P1"), height(days[1], cm(14, 24), "P1"))
    assert bounds(found) == pytest.approx((10 / 12, 20 / 8))
    assert (found.about, found.step) == (False, 0.1)
    logs = relative(height(days[0], cm(4), "P1"), height(days[1], cm(14, 24), "P1"))
    assert bounds(logs) == pytest.approx((math.log(3.5) / 12, math.log(6) / 8))


def test_a_span_of_days_of_a_plant_that_became_smaller() -> None:
    """A loss of height is fastest over the fewest days, and is then the lower bound: -10 cm in 8 to 12 days."""
    assert bounds(absolute(height(Day(8, 12), cm(14), "P1"), height(20, cm(4), "P1"))) == pytest.approx(
        (-10 / 8, -10 / 12)
    )


def test_days_that_cannot_be_told_apart_give_no_rate() -> None:
    """Readings whose spans of days touch may be of one day; one from before a day may be of any earlier day."""
    rates = grown(height(Day(8, 12), cm(4), "P1"), height(Day(12, 20), cm(9), "P1")).rate.height
    assert (rates.absolute, rates.relative) == ((), ())
    before = height(Day(0, 39, before=True), cm(4), "P1")
    assert grown(before, height(50, cm(9), "P1")).rate.height.absolute == ()
    rows = (before, height(45, cm(4), "P1"), height(50, cm(9), "P1"))
    assert absolute(*rows) == per_day(1, 1)


def test_a_span_from_day_0_is_a_span() -> None:
    """Days 0 to 5 have both bounds, unlike "before day 6": 10 cm in 15 to 20 days."""
    rows = (height(Day(0, 5), cm(4), "P1"), height(20, cm(14), "P1"))
    assert bounds(absolute(*rows)) == pytest.approx((10 / 20, 10 / 15))


def test_a_span_of_days_of_a_group() -> None:
    """A group measured on a span of days has the rates of the most and of the fewest days as bounds."""
    rows = [height(10, cm(4), *FOUR[:3]), height(Day(18, 22), cm(8), *FOUR[:3])]
    (group,) = grown(*rows, **GROUP).rate.height.by_group
    assert bounds(group.figure) == pytest.approx((math.log(2) / 12, math.log(2) / 8))


def test_a_relative_range() -> None:
    """The lowest rate goes from the higher first reading to the lower last one."""
    found = relative(height(10, cm(4, 5), "P1"), height(20, cm(10, 20), "P1"))
    assert bounds(found) == pytest.approx((math.log(2) / 10, math.log(5) / 10))


def test_rates_lead_to_the_first_and_last_reading() -> None:
    """Of several readings only the two ends are rows; of one day the last entered counts."""
    rows = (
        height(10, cm(4), "P1"),
        height(15, cm(9), "P1"),
        height(20, cm(14), "P1", line=20),
        height(20, cm(24), "P1", line=21),
    )
    facts = grown(*rows).rate.height
    (one,), (other,) = facts.absolute, facts.relative
    assert (lines(one.figure), lines(other.figure)) == ([21, 5010], [21, 5010])
    assert one.figure.value == Rate(per_day(2, 2), Per.DAY)
    assert (one.figure.name, one.figure.formula) == ("growth.rate.height.absolute.P1", "absolute_growth_rate")
    assert (other.figure.name, other.figure.formula) == (
        "growth.rate.height.relative.P1",
        "relative_growth_rate",
    )


def test_plants_without_a_rate() -> None:
    """One reading, two on one day, one without an upper bound: no rate; from or to nothing: no relative one."""
    assert grown(height(10, cm(4), "P1")).rate.height.absolute == ()
    assert grown(height(10, cm(4), "P1"), height(10, cm(9), "P1", line=9)).rate.height.absolute == ()
    for ends in ((cm(4), replace(cm(9), high=None)), (replace(cm(4), high=None), cm(9))):
        rows = [height(day, size, "P1") for day, size in zip((10, 20), ends, strict=True)]
        assert grown(*rows).rate.height.absolute == ()
    for ends in ((cm(0), cm(9)), (cm(9), cm(0))):
        rows = [height(day, size, "P1") for day, size in zip((10, 20), ends, strict=True)]
        assert (len(grown(*rows).rate.height.absolute), grown(*rows).rate.height.relative) == (1, ())


def test_a_reading_without_bound_between_two_others_does_not_matter() -> None:
    """Only the two ends of a series need both bounds."""
    rows = (height(10, cm(4), "P1"), height(15, replace(cm(9), high=None), "P1"), height(20, cm(14), "P1"))
    assert absolute(*rows) == per_day(1, 1)


def test_each_kind_of_reading_has_its_own_rates() -> None:
    """Leaves and spreads have rates beside heights, in their own dimension, by their own path."""
    rows = (
        reading("leaves", 10, counted(4), ("P2",)),
        reading("leaves", 20, counted(9), ("P2",)),
        reading("spread", 10, cm(4), ("P3",)),
        reading("spread", 30, cm(9), ("P3",), line=9),
    )
    facts = grown(*rows).rate
    assert facts.height.absolute == ()
    assert facts.leaves.absolute[0].figure.value == Rate(exactly(0.5, Dimension.COUNT, 0.01), Per.DAY)
    assert facts.spread.absolute[0].figure.value == Rate(per_day(0.25, 0.25, 0.01), Per.DAY)
    assert [s.absolute[0].figure.name for s in (facts.leaves, facts.spread)] == [
        "growth.rate.leaves.absolute.P2",
        "growth.rate.spread.absolute.P3",
    ]


GROUP: dict[str, Any] = {"groups": (("early", ("P1", "P2", "P3")),)}


def test_a_group_with_ranges() -> None:
    """The bounds of a group's rate are means of logarithms, from the highest first to the lowest last readings."""
    rows = [height(10, cm(4, 5), "P1", "P2", "P3"), height(20, cm(10, 20), "P1", "P2", "P3")]
    (group,) = grown(*rows, **GROUP).rate.height.by_group
    assert bounds(group.figure) == pytest.approx((math.log(2) / 10, math.log(5) / 10))
    assert lines(group.figure) == [5010, 5020]
    assert (group.figure.name, group.figure.formula) == (
        "growth.rate.height.by_group.early",
        "group_relative_growth_rate",
    )
    assert rate(group.figure).dimension is Dimension.COUNT


def test_a_group_lies_between_its_first_and_its_last_shared_day() -> None:
    """Days on which a plant is missing are left out, at either end and in between; readings of one plant add rows."""
    rows = [
        height(5, cm(1), "P1", "P2"),
        height(10, cm(4), "P1", "P2"),
        height(10, cm(6), "P3", line=6),
        height(15, cm(5), *FOUR[:3]),
        height(20, cm(8), *FOUR[:3]),
        height(25, cm(99), "P1"),
    ]
    (group,) = grown(*rows, **GROUP).rate.height.by_group
    mean = (2 * math.log(2) + math.log(8 / 6)) / 3 / 10
    assert bounds(group.figure) == pytest.approx((mean, mean))
    assert lines(group.figure) == [6, 5010, 5020]


def test_about_days_of_a_group() -> None:
    """A group measured on about a day has an about of a rate."""
    rows = [height(10, cm(4), *FOUR[:3]), height(Day.on(20, about=True), cm(8), *FOUR[:3])]
    assert rate(grown(*rows, **GROUP).rate.height.by_group[0].figure).about
    rows = [height(Day.on(10, about=True), cm(4), *FOUR[:3]), height(20, cm(8), *FOUR[:3])]
    assert rate(grown(*rows, **GROUP).rate.height.by_group[0].figure).about
    rows = [height(10, cm(4), *FOUR[:3]), height(20, cm(8), *FOUR[:3])]
    assert not rate(grown(*rows, **GROUP).rate.height.by_group[0].figure).about


@pytest.mark.parametrize(
    "sizes",
    [
        (cm(0), cm(4)),
        (cm(4), cm(0)),
        (cm(4), replace(cm(8), high=None)),
        (replace(cm(4), high=None), cm(8)),
    ],
)
def test_a_group_with_a_reading_of_no_size(sizes: tuple[Quantity, Quantity]) -> None:
    """A reading of nothing, or without an upper bound, leaves the group without a rate, but with its rows."""
    rows = [height(10, cm(4), "P1", "P2"), height(20, cm(8), "P1", "P2")]
    rows += [height(day, size, "P3", line=day) for day, size in zip((10, 20), sizes, strict=True)]
    (group,) = grown(*rows, **GROUP).rate.height.by_group
    assert (group.figure.value, lines(group.figure)) == (None, [10, 20, 5010, 5020])


def test_groups_without_readings_of_their_own() -> None:
    """A group that shares one day only has no rate; groups are left out where no plant was measured by itself."""
    rows = [height(10, cm(4), *FOUR), height(20, cm(8), "P4")]
    (group,) = grown(*rows, **GROUP).rate.height.by_group
    assert (group.key, group.figure.value, lines(group.figure)) == ("early", None, [])
    assert grown(**GROUP).rate.height.by_group == ()


def test_two_plants_of_a_group_keep_their_own_rates() -> None:
    """Of two plants each rate stands by itself, in the order of the group."""
    rows = [height(10, cm(4), "P1", "P2"), height(20, cm(8), "P1"), height(20, cm(16), "P2", line=9)]
    (group,) = grown(*rows, groups=(("two", ("P2", "P1")),)).rate.height.by_group
    assert isinstance(group.figure.value, Several)
    found = [value.amount.low for value in group.figure.value.values if isinstance(value, Rate)]
    assert found == pytest.approx([math.log(4) / 10, math.log(2) / 10])


def steps(*sizes: Quantity) -> list[tuple[Day, Quantity]]:
    """A reading every week."""
    return [(Day.on(7 * n), size) for n, size in enumerate(sizes)]


def test_a_plateau_within_the_coarser_step() -> None:
    """A later reading may be higher by one step, the coarser of the two; not by more."""
    assert plateau_day(steps(cm(20), cm(21), cm(21))) == Day.on(0)
    assert plateau_day(steps(cm(20), cm(21.5), cm(21.5))) is None
    assert plateau_day(steps(cm(20), cm(22, step=2), cm(22, step=2))) == Day.on(0)
    assert plateau_day(steps(cm(20, step=2), cm(22), cm(22))) == Day.on(0)
    assert plateau_day(steps(cm(18, 22), cm(21), cm(20, 22))) is None
    assert plateau_day(steps(cm(20, 22), cm(21), cm(20))) == Day.on(0)
    vague = steps(cm(18, 20), cm(20), cm(20), cm(20))
    assert plateau_day(vague) == Day(0, vague[1][0].last)
    assert plateau_day(steps(cm(20), cm(20, about=True), cm(20))) == Day.on(0, about=True)
    unsure = [(Day.on(0), cm(20)), (Day.on(7, about=True), cm(20)), (Day.on(8), cm(20))]
    assert plateau_day(unsure) == Day.on(0, about=True)
    assert plateau_day(steps(cm(20), cm(20), Quantity(20, None, Dimension.LENGTH, open=1, step=1))) is None


def test_rows_of_a_plateau() -> None:
    """A plateau leads to its own reading and all later ones, not to those before."""
    rows = [height(day, cm(size), "P2") for day, size in ((10, 5), (20, 12), (30, 12), (40, 12))]
    (found,) = grown(*rows).rate.height.plateau
    assert (found.key, found.figure.value, lines(found.figure)) == ("P2", Day.on(20), [5020, 5030, 5040])
    assert (found.figure.name, found.figure.formula) == ("growth.rate.height.plateau.P2", "plateau_day")


@pytest.mark.parametrize(
    ("height_", "claimed", "stands"),
    [
        (cm(30), cm(25, 30), "within"),
        (cm(30.5), cm(25, 30), "taller than"),
        (cm(25), cm(25, 30), "within"),
        (cm(24.5), cm(25, 30), "lower than"),
        (cm(20, 25), cm(25, 30), "within"),
        (cm(30, 40), cm(25, 30), "within"),
        (cm(31, 40), cm(25, 30), "taller than"),
        (replace(cm(20), high=None), cm(25, 30), "within"),
        (cm(40), replace(cm(25), high=None), "within"),
        (cm(24), replace(cm(25), high=None), "lower than"),
        (replace(cm(31), high=None), cm(25, 30), "taller than"),
    ],
)
def test_height_against_a_claim(height_: Quantity, claimed: Quantity, stands: str) -> None:
    """Taller or lower only where the whole height lies beyond the claim."""
    assert height_against(height_, claimed) == stands


def test_rows_of_the_packet() -> None:
    """The packet's height leads to where it is written and to the tallest plant; without heights to the packet."""
    seed, spans = Seed(claims=Claims(height=cm(25, 30))), (("seed", place(7)),)
    measured = grown(height(50, cm(20), "P1"), seed=seed, spans=spans).rate.claim
    bare = grown(seed=seed, spans=spans).rate.claim
    assert (measured.value, lines(measured)) == (cm(25, 30), [7, 5050])
    assert (bare.value, lines(bare)) == (cm(25, 30), [7])
    assert (grown(height(50, cm(20), "P1"), seed=Seed()).rate.claim.value, measured.formula) == (
        None,
        "height_against",
    )


SIZES = st.tuples(st.integers(1, 60), st.integers(0, 20)).map(lambda ends: cm(ends[0], ends[0] + ends[1]))
INSIDE = st.floats(0, 1)


@given(SIZES, SIZES, INSIDE, INSIDE, st.integers(1, 40))
def test_exact_heights_lie_within_the_rates_of_ranges(
    first: Quantity, last: Quantity, at_first: float, at_last: float, days: int
) -> None:
    """Whatever a height was within its range, the rate of that height lies within the rate of the ranges."""
    exact = [q.low + at * ((q.high or q.low) - q.low) for q, at in ((first, at_first), (last, at_last))]
    wide = (height(10, first, "P1"), height(10 + days, last, "P1"))
    narrow = (height(10, cm(exact[0]), "P1"), height(10 + days, cm(exact[1]), "P1"))
    for rate_of in (absolute, relative):
        (low, high), (inside, _) = bounds(rate_of(*wide)), bounds(rate_of(*narrow))
        assert high is not None
        assert low - 1e-9 <= inside <= high + 1e-9


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 50)), min_size=3, max_size=9))
def test_nothing_after_a_plateau_is_higher(found: list[tuple[int, int]]) -> None:
    """After the day of a plateau come two readings or more, none higher by more than a step; before it, one was."""
    series = [(Day.on(day), cm(size)) for day, size in sorted(dict(found).items())]
    day = plateau_day(series)
    assume(day is not None)
    later = [q.low for when, q in series if day is not None and when > day]
    value = dict(series)[day] if day is not None else cm(0)
    assert len(later) >= 2
    assert max(later) <= value.low + 1
