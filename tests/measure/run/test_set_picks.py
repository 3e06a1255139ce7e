"""The picks of groups, varieties and tubs: days, running totals, yields for a spot and for what the tubs took."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate, figures
from sitegen.core.facts.indices import PlantSetFacts
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Deed, Event, Light, Pick, Run
from sitegen.core.records.setup import Lamp, LampUse, SharedTub
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    milestone,
    of,
    pick,
    place,
    remarks_of,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)
from tests.measure.test_random_runs import HEAD, PRICES, RUNS
from tests.measure.values import amount, bounds, lines, rate

# Two tubs of 50 × 40 cm, a group for each: the plants of a group are those of its tub.
TWO = setup_of(6, tubs=("left", "right"), groups=(("bar", ("P1", "P2", "P3")), ("panel", ("P4", "P5", "P6"))))
SIDES = (exactly(50, Dimension.LENGTH, 1), exactly(40, Dimension.LENGTH, 1))
TWO = replace(TWO, tubs=tuple(replace(tub, system=replace(tub.system, footprint=SIDES)) for tub in TWO.tubs))
PANEL = joint("P4", "P5", "P6")
POURED = [event(Deed.WATER, 1, tub=tub, amount=litres(n)) for n, tub in ((5, "left"), (10, "right"))]
BAR = Lamp("bar", "Bar", exactly(24, Dimension.POWER, 1))
PANELS = Lamp("panel", "Panel", exactly(48, Dimension.POWER, 1))
FEWER = settings(max_examples=settings().max_examples * 2 // 5)

Row = Event | Pick


def facts(*rows: Row, setup: Any = TWO, **tables: Any) -> Facts:
    """The facts of a run of six plants, three in each tub."""
    events = [row for row in rows if isinstance(row, Event)]
    picks = [row for row in rows if isinstance(row, Pick)]
    return measure(run_of(setup, events=[*events, *tables.pop("events", [])], picks=picks, **tables))


def sets(*rows: Row, **tables: Any) -> tuple[PlantSetFacts, ...]:
    """Its two groups."""
    return facts(*rows, **tables).sets.by_group


def test_days_of_picks_kept_apart() -> None:
    """The first and the last pick of each group, with the lines behind them."""
    bar, panel = sets(
        pick(30, joint("P1"), grams(5), 1), pick(20, joint("P4"), grams(5), 2), pick(44, PANEL, grams(5), 3)
    )
    assert (bar.picks.first.value, bar.picks.last.value) == (Day.on(30), Day.on(30))
    assert (panel.picks.first.value, panel.picks.last.value) == (Day.on(20), Day.on(44))
    assert (lines(panel.picks.first), lines(panel.picks.last)) == ([2], [3])


def test_a_joint_pick_makes_a_day_a_span() -> None:
    """An earlier and a later pick of both groups may hold some of this one, and the remark says so."""
    rows = [
        pick(20, joint("P3", "P4"), grams(9), 1),
        pick(30, joint("P1"), grams(5), 2),
        pick(44, some(), grams(9), 3),
        pick(46, of(2), grams(9), 4),
    ]
    bar, panel = sets(*rows)
    assert (bar.picks.first.value, bar.picks.last.value) == (Day(20, 30), Day(30, 46))
    assert lines(bar.picks.first) == [1, 2]
    assert remarks_of(bar.picks.first) == "one pick in these days may have been of other plants only"
    assert remarks_of(bar.picks.last) == "two picks in these days may have been of other plants only"
    assert (panel.picks.first.value, remarks_of(panel.picks.first)) == (
        None,
        "picked only together with other plants",
    )


def test_without_a_pick_there_is_no_day() -> None:
    """A group of which nothing was picked says so, and a run without picks has no such figure."""
    bar, panel = sets(pick(30, joint("P1"), grams(5)))
    assert remarks_of(panel.picks.first) == "no pick of these plants was logged"
    assert bar.picks.first.recorded
    assert not [f for f in figures(sets()) if ".picks." in f.name]


def test_a_moved_plant_counts_until_its_move() -> None:
    """A pick of a plant after its move is of neither group; the spot of that plant is left out."""
    rows = [
        event(Deed.MOVE, 25, joint("P3"), tub="right"),
        pick(20, joint("P3"), grams(7), 1),
        pick(30, joint("P3"), grams(9), 2),
        pick(40, joint("P1"), grams(30), 3),
        pick(40, PANEL, grams(90), 4),
    ]
    bar, panel = sets(*rows)
    assert (bar.picks.first.value, bar.picks.last.value) == (Day.on(20), Day.on(40))
    assert bounds(bar.picks.per_spot) == (15, 15)
    assert remarks_of(bar.picks.per_spot) == "2 plants; not counting P3, moved to another tub"
    assert bounds(panel.picks.per_spot) == (30, 30)


def test_a_tub_gives_what_was_picked_in_it() -> None:
    """Of 90 g of three plants and 10 g of one that had come, 0.2 m² and 10 L: 500 g per m² and 10 g per litre."""
    rows = [
        event(Deed.MOVE, 25, joint("P3"), tub="right"),
        pick(20, joint("P3"), grams(7), 1),
        pick(40, joint("P3", "P4", "P5", "P6"), grams(100), 2),
        *POURED,
    ]
    bar, panel = sets(*rows)
    assert bounds(panel.picks.square_metre) == pytest.approx((500, 500))
    assert bounds(panel.picks.litre) == pytest.approx((10, 10))
    assert remarks_of(panel.picks.litre) == "the whole tub, with P3 while it was there"
    assert bounds(bar.picks.litre) == pytest.approx((1.4, 1.4))


def test_a_pick_on_an_uncertain_side_of_a_move_is_in_both_tubs() -> None:
    """Where the log leaves open whether a plant had been moved, its weight may be of either tub."""
    moved = event(Deed.MOVE, 25, joint("P3"), tub="right")._replace(day=Day(25, 35))
    bar, panel = sets(
        moved,
        pick(30, joint("P3"), grams(10), 1),
        pick(40, joint("P1"), grams(5), 2),
        pick(40, PANEL, grams(20), 3),
        *POURED,
    )
    assert bounds(bar.picks.litre) == pytest.approx((1, 3))
    assert bounds(panel.picks.litre) == pytest.approx((2, 3))


def test_groups_in_one_tub_have_no_yield_of_its_water() -> None:
    """Where several groups drank from one tub, no yield for ground, water or electricity is given."""
    one = setup_of(6, groups=TWO.groups)
    bar, _ = sets(pick(30, joint("P1"), grams(5)), setup=one)
    shared = [bar.picks.square_metre, bar.picks.litre, bar.picks.kilowatt_hour]
    assert [each.value for each in shared] == [None] * 3
    assert all("other plants were in the same tub" in remarks_of(each) for each in shared)


def test_a_tub_shared_with_another_run_has_no_yield() -> None:
    """Two crops grew from a tub that another run shared; the other tub keeps its yield."""
    shared = replace(TWO, shares=(SharedTub("right", "other-run", TWO.source),))
    bar, panel = sets(pick(30, joint("P1"), grams(5)), pick(31, PANEL, grams(5)), *POURED, setup=shared)
    assert bar.picks.litre.recorded
    assert (panel.picks.litre.value, "shared with" in remarks_of(panel.picks.litre)) == (None, True)


def test_the_running_total_has_a_joint_pick_as_an_interval() -> None:
    """After 20 g alone and 30 g together with others a group had 20 to 50 g; picks of others leave no point."""
    bar, panel = sets(
        pick(20, joint("P1"), grams(20), 1),
        pick(30, joint("P2", "P4"), grams(30), 2),
        pick(40, joint("P4"), grams(5), 3),
    )
    assert [(point.day.first, bounds(point.total)) for point in bar.cumulative] == [
        (20, (20, 20)),
        (30, (20, 50)),
    ]
    assert [(point.day.first, bounds(point.total)) for point in panel.cumulative] == [
        (30, (0, 30)),
        (40, (5, 35)),
    ]


def test_a_pick_that_was_not_weighed_opens_the_running_total() -> None:
    """From the pick that nobody weighed on, the total of its group has no upper bound."""
    bar, _ = sets(pick(20, joint("P1"), grams(20), 1), pick(30, joint("P1"), unweighed(), 2))
    assert [bounds(point.total) for point in bar.cumulative] == [(20, 20), (20, None)]


def test_the_share_of_a_stage_leaves_out_plants_that_nobody_looked_at() -> None:
    """Of three plants one was never looked at for the stage: one of two had reached it."""
    rows = [
        milestone("first_flower", 40, joint("P1"), line=1),
        milestone("first_flower", 40, joint("P2"), reached=False, line=2),
    ]
    bar, _ = sets(milestones=rows)
    (stage,) = bar.stages
    share = stage.share.value
    assert (share.part, share.whole) == (1, 2)  # type: ignore[union-attr]
    assert remarks_of(stage.share) == "one plant was not checked for it"


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("P5, bitter", ["panel"]),
        ("the panel fruit was sweeter", ["panel"]),
        ("P55 is no plant of ours, nor is panelling a group", []),
        ("left too long", []),
        ("bar and panel alike", ["bar", "panel"]),
    ],
)
def test_a_taste_belongs_to_the_sets_that_it_names(words: str, named: list[str]) -> None:
    """A note is of the groups whose name or plants it has as words of their own."""
    found = sets(event(Deed.TASTE, 40, what=words))
    assert [each.key for each in found if each.tastes] == named


def test_a_tub_is_named_as_a_tub() -> None:
    """The name of a tub alone may be any word; beside `tub` it is the tub's."""
    notes = [
        event(Deed.TASTE, 40, None, 1, what="left too long"),
        event(Deed.TASTE, 41, None, 2, what="milder in the left tub"),
    ]
    left, right = facts(*notes).sets.by_tub
    assert ([note.words for note in left.tastes], right.tastes) == (["milder in the left tub"], ())


PLANTS = st.sampled_from([joint("P1"), joint("P2"), joint("P3", "P4"), joint("P1", "P4"), PANEL, some()])
ALONE = st.sampled_from([joint("P1"), joint("P4")])
MOVES = st.lists(
    st.builds(
        lambda day, plant, tub: event(Deed.MOVE, day, joint(plant), 900 + day, tub=tub),
        st.integers(0, 60),
        st.sampled_from(("P2", "P3", "P4")),
        st.sampled_from(("left", "right")),
    ),
    max_size=2,
    unique_by=lambda each: each.day,
)
PICKS = st.lists(
    st.tuples(st.integers(1, 60), PLANTS, st.one_of(st.integers(0, 400).map(grams), st.just(unweighed()))),
    max_size=7,
).map(lambda rows: [pick(day, which, weight, n + 1) for n, (day, which, weight) in enumerate(rows)])


def test_electricity_is_that_of_the_tubs_of_the_set() -> None:
    """24 W over the one tub and 48 W over the other, 16 h on 100 days: 38.4 and 76.8 kWh for 384 g each (worked)."""
    lights = [
        Light(Day.on(0), None, place(line), tub, LampUse(lamp, exactly(16, Dimension.DURATION, 1)))
        for line, tub, lamp in ((1, "left", BAR), (2, "right", PANELS))
    ]
    ended = event(Deed.END, 100, kept=False)
    bar, panel = sets(
        pick(80, joint("P1", "P2", "P3"), grams(384)), pick(80, PANEL, grams(384), 9), ended, lights=lights
    )

    assert [bounds(each.picks.kilowatt_hour) for each in (bar, panel)] == [
        pytest.approx((10, 10)),
        pytest.approx((5, 5)),
    ]


@FEWER
@given(PICKS, MOVES)
def test_a_group_and_its_tub_say_the_same(picks: list[Pick], moves: list[Event]) -> None:
    """Plants named as a group and the same plants as a tub have the same days, totals and yields."""
    found = facts(*picks, *moves, *POURED).sets
    for group, tub in zip(found.by_group, found.by_tub, strict=True):
        assert [f.value for f in figures(group.picks)] == [f.value for f in figures(tub.picks)]
        assert [f.remarks for f in figures(group.picks)] == [f.remarks for f in figures(tub.picks)]
        assert group.cumulative == tub.cumulative


@FEWER
@given(PICKS, MOVES)
def test_running_totals_end_with_the_harvest_of_the_set(picks: list[Pick], moves: list[Event]) -> None:
    """The last point of a running total is the harvest of the set, and none is before the point before it."""
    run = facts(*picks, *moves)
    harvest = {row.key: row.figure for row in run.harvest.by_group}
    for each in run.sets.by_group:
        if each.cumulative:
            lows = [point.total.low for point in each.cumulative]
            assert lows == sorted(lows)
            if harvest[each.key].recorded:
                assert bounds(each.cumulative[-1].total) == bounds(harvest[each.key])


@FEWER
@given(PICKS, st.integers(1, 60), st.integers(1, 400), st.integers(0, 400))
def test_splitting_a_joint_pick_keeps_the_total(picks: list[Pick], day: int, first: int, second: int) -> None:
    """A joint pick of both groups, weighed apart, changes no total of the run and only narrows those of the groups."""
    whole = pick(day, joint("P1", "P4"), grams(first + second), 901)
    parts = [pick(day, joint("P1"), grams(first), 902), pick(day, joint("P4"), grams(second), 903)]
    joined, apart = facts(*picks, whole), facts(*picks, *parts)
    assert bounds(joined.harvest.total) == bounds(apart.harvest.total)
    for before, after in zip(joined.sets.by_group, apart.sets.by_group, strict=True):
        wide, narrow = before.cumulative[-1].total, after.cumulative[-1].total
        assert wide.low <= narrow.low + 1e-9
        assert wide.high is None or (narrow.high is not None and narrow.high <= wide.high + 1e-9)


@FEWER
@given(PICKS, MOVES, st.lists(ALONE, min_size=1, max_size=2))
def test_the_days_hold_whoever_gave_a_joint_pick(
    picks: list[Pick], moves: list[Event], sure: list[Any]
) -> None:
    """However joint picks are given to their plants, the first and the last pick of a group lie within its days."""
    more = [*picks, *(pick(10 + 9 * n, which, grams(5), 700 + n) for n, which in enumerate(sure))]
    found = {each.key: each.picks for each in facts(*more, *moves).sets.by_group}
    for one in (0, -1):
        given_ = [
            replace(p, which=joint(p.which.ids[one] if p.which.ids else ("P1", "P4")[one])) for p in more
        ]
        for each in facts(*given_, *moves).sets.by_group:
            for wide, known in (
                (found[each.key].first, each.picks.first),
                (found[each.key].last, each.picks.last),
            ):
                if isinstance(wide.value, Day) and isinstance(known.value, Day):
                    assert wide.value.first <= known.value.first <= known.value.last <= wide.value.last


@FEWER
@given(RUNS)
def test_tubs_give_no_more_than_the_run(run: Run) -> None:
    """The yields of all tubs times their water, and what is of none for certain, never exceed what was picked."""
    whole = measure(run, PRICES)
    assume(whole.harvest.total.recorded)
    lows = [
        rate(each.picks.square_metre).low * 0.2
        for each in whole.sets.by_tub
        if isinstance(each.picks.square_metre.value, Rate)
    ]
    assert HEAD.tubs[0].system.footprint == SIDES
    assert sum(lows) <= amount(whole.harvest.total).low + 1e-6


def test_the_unit_of_a_yield_is_that_of_its_divisor() -> None:
    """Ground, water and electricity are named after their figures."""
    _, panel = sets(pick(40, PANEL, grams(100)), *POURED)
    found = [panel.picks.square_metre.value, panel.picks.litre.value]
    assert [each.per for each in found if isinstance(each, Rate)] == [Per.SQUARE_METRE, Per.LITRE]
    assert isinstance(panel.picks.per_spot.value, Quantity)


def test_a_tally_over_groups_is_in_the_running_total_of_each() -> None:
    """A running total of all plants bounds what each group can have had by then."""
    everyone = joint("P1", "P2", "P3", "P4", "P5", "P6", word="all")
    bar, panel = sets(pick(20, joint("P1"), grams(20), 1), tallies=[tally(30, grams(50), everyone, 2)])
    assert bounds(bar.cumulative[-1].total) == (20, 50)
    assert bounds(panel.cumulative[-1].total) == (0, 30)
