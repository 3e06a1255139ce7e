"""Weights that hold earlier ones, running tallies, and what belongs to no single plant: bounds, flags and rows."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.tree import CumulativePoint, Harvest
from sitegen.core.records.rows import Deed, Event, Pick, Tally, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.harvest import harvest_of
from sitegen.measure.harvest.picks import flush_numbers
from sitegen.measure.ranges import share_of
from tests.measure.builders import (
    event,
    grams,
    joint,
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
from tests.measure.values import amount, bounds, lines

FOUR = ("P1", "P2", "P3", "P4")
P1, P2, P3, P4 = (joint(plant) for plant in FOUR)
ALL = joint(*FOUR, word="all")


def harvest(*rows: Pick | Tally, events: tuple[Event, ...] = (), **head: Any) -> Harvest:
    """What the plants of a run gave."""
    picks = [row for row in rows if isinstance(row, Pick)]
    tallies = [row for row in rows if isinstance(row, Tally)]
    return harvest_of(run_of(setup_of(**head), picks=picks, tallies=tallies, events=events))


def at_least(weight: float, **flags: Any) -> Quantity:
    """So much or more, written so."""
    return grams(weight, **{"high": None, "open": 1, **flags})


def between(low: float, high: float, **flags: Any) -> Quantity:
    """A weight between two bounds."""
    return Quantity(low, high, Dimension.MASS, step=1, **flags)


def of_plants(named: tuple[Named, ...]) -> dict[str, object]:
    """Values by key."""
    return {one.key: one.figure.value for one in named}


@pytest.mark.parametrize(
    ("rows", "whole"),
    [
        # A weight that holds earlier ones takes their place, flags and all.
        ((pick(50, P1, grams(84, by_eye=True)), pick(60, ALL, grams(205), earlier="included")), grams(205)),
        ((pick(50, P1, unweighed()), pick(60, ALL, grams(205), earlier="included")), grams(205)),
        # Without an upper bound it is at least what it holds.
        (
            (pick(50, P1, grams(84)), pick(60, ALL, unweighed(), earlier="included")),
            Quantity(84, None, Dimension.MASS, unweighed=1),
        ),
        ((pick(50, P1, grams(84)), pick(60, ALL, at_least(80), earlier="included")), at_least(84)),
        ((pick(50, P1, grams(84)), pick(60, ALL, at_least(90), earlier="included")), at_least(90)),
        # A weight of fewer plants than it may hold of is unclear: from the larger to both.
        (
            (pick(50, joint("P1", "P2"), grams(47)), pick(60, P1, grams(60), earlier="included")),
            between(60, 107),
        ),
        (
            (pick(50, joint("P1", "P2"), grams(70)), pick(60, P1, grams(60), earlier="included")),
            between(70, 130),
        ),
        # Unclear: flags of both remain.
        (
            (pick(50, P1, grams(84, by_eye=True)), pick(60, ALL, grams(205, about=True), earlier="unclear")),
            between(205, 289, about=True, by_eye=True),
        ),
        ((pick(50, P1, grams(84)), pick(60, ALL, grams(40), earlier="unclear")), between(84, 124)),
        (
            (pick(50, P1, unweighed()), pick(60, ALL, grams(40), earlier="unclear")),
            Quantity(40, None, Dimension.MASS, unweighed=1, step=1),
        ),
        # Plants that it is not of are not held.
        ((pick(50, P3, grams(84)), pick(60, joint("P1", "P2"), grams(40), earlier="included")), grams(124)),
        # Of the same visit it holds nothing, of a visit before it does.
        (
            (pick(60, P1, grams(10), 7, entry=3), pick(60, ALL, grams(9), 8, entry=3, earlier="unclear")),
            grams(19),
        ),
        (
            (pick(60, P1, grams(10), 7, entry=3), pick(60, ALL, grams(9), 8, entry=4, earlier="unclear")),
            between(10, 19),
        ),
        # A tally holds all before it and of its own visit.
        ((pick(50, P1, grams(84)), pick(50, P2, grams(9), 7), tally(50, grams(100), ALL)), grams(100)),
        ((pick(50, P1, grams(84)), tally(50, at_least(80), ALL)), at_least(84)),
        ((pick(50, P1, grams(84)), tally(50, grams(80), ALL)), grams(80)),
        ((tally(50, grams(80), ALL), tally(60, grams(200), ALL)), grams(200)),
        ((tally(50, grams(80), joint("P1", "P2")), tally(60, grams(70), P3)), grams(150)),
        # A second weight that holds all takes the place of the first.
        (
            (
                pick(50, P1, grams(84)),
                pick(60, ALL, grams(205), earlier="included"),
                pick(70, P2, grams(5)),
                pick(80, ALL, grams(300), earlier="included"),
                pick(90, P2, grams(7)),
            ),
            grams(307),
        ),
        ((), None),
    ],
)
def test_total(rows: tuple[Pick | Tally, ...], whole: Quantity | None) -> None:
    """The total of picks and tallies, whole: bounds, flags, what was not weighed, step."""
    assert harvest(*rows).total.value == whole


def test_tallies_of_pieces_are_no_weights() -> None:
    """A running total in pieces is left out of the weights."""
    facts = harvest(pick(40, P1, grams(9)), tally(50, counted(20), ALL))
    assert (facts.total.value, lines(facts.total), len(facts.cumulative)) == (grams(9), [2040], 1)


def test_rows_of_the_total() -> None:
    """Every pick and tally is behind the total, those that a tally took the place of included."""
    facts = harvest(pick(40, P1, grams(9)), pick(60, P2, grams(5)), tally(50, grams(20), ALL))
    assert (lines(facts.total), facts.total.name, facts.total.formula) == (
        [2040, 2060, 3050],
        "harvest.total",
        "total_weight",
    )


def test_what_was_weighed_together() -> None:
    """The weight together less what is known of single plants in it: bounds, flags, rows of the weights beyond."""
    rows = (
        pick(50, P1, grams(80, by_eye=True)),
        pick(51, P2, between(20, 30)),
        pick(60, ALL, replace(between(200, 210), about=True), earlier="included"),
    )
    shared = harvest(*rows).shared
    assert shared.value == between(90, 110, about=True, by_eye=True)
    assert (lines(shared), shared.formula) == ([2060], "weight_of_row")


def test_a_rest_that_cannot_be() -> None:
    """Where single plants gave more than the weight together, nothing is left, not less than nothing."""
    rows = (pick(50, P1, grams(80)), pick(60, ALL, grams(70), earlier="included"))
    assert harvest(*rows).shared.value == Quantity(0, 0, Dimension.MASS)


def test_flags_of_single_plants_are_not_those_of_the_rest() -> None:
    """An unweighed plant inside a weighed whole leaves the rest between nothing and the whole, nothing unweighed."""
    rows = (pick(50, P1, unweighed()), pick(60, ALL, grams(70), earlier="included"))
    assert harvest(*rows).shared.value == between(0, 70)
    rows = (pick(50, P1, at_least(20)), pick(60, ALL, grams(70, about=True), earlier="included"))
    assert harvest(*rows).shared.value == between(0, 50, about=True)


def test_nothing_was_weighed_together() -> None:
    """Where every pick was of one plant nothing is shared, and no row is; without picks nothing is recorded."""
    alone = harvest(pick(50, P1, grams(80)), pick(51, P2, grams(9))).shared
    assert (alone.value, lines(alone)) == (Quantity(0, 0, Dimension.MASS), [])
    assert harvest().shared.value is None


def test_cumulative() -> None:
    """After each pick and tally: its day, what was picked, the total by then, its part and place."""
    facts = harvest(
        pick(40, P1, grams(9), part="leaf"),
        pick(52, P1, unweighed(), part="stem"),
        pick(60, ALL, grams(30), earlier="unclear"),
        tally(50, grams(20, about=True), ALL),
    )
    nothing = Quantity(0, 0, Dimension.MASS)
    opened = Quantity(20, None, Dimension.MASS, about=True, unweighed=1, step=1)
    assert facts.cumulative == (
        CumulativePoint(Day.on(40), grams(9), grams(9), "leaf", place(2040)),
        CumulativePoint(Day.on(50), nothing, grams(20, about=True), "", place(3050)),
        CumulativePoint(Day.on(52), unweighed(), opened, "stem", place(2052)),
        CumulativePoint(Day.on(60), grams(30), replace(opened, low=30), "", place(2060)),
    )


def test_a_pick_between_tallies_has_its_own_bounds() -> None:
    """An unweighed pick is no more than the room between two tallies, with the flags of all that went in."""
    tallies = (tally(40, grams(400), ALL), tally(50, replace(between(700, 720), about=True), ALL))
    rows = (pick(30, P3, grams(400)), pick(45, P1, grams(200, by_eye=True)), pick(46, P2, unweighed()))
    found = of_plants(harvest(*rows, *tallies).by_plant)
    assert found["P2"] == between(0, 120, about=True, by_eye=True)
    assert found["P1"] == between(200, 320, about=True, by_eye=True)


@pytest.mark.parametrize(
    ("rows", "plants"),
    [
        # Room of half a step is rounding: the tally belongs to the picks, and nothing is known of P2.
        ((pick(40, P1, grams(19.5)), tally(50, grams(20), ALL)), (between(19.5, 20), None)),
        ((pick(40, P1, grams(19.25)), tally(50, grams(20), ALL)), (between(19.25, 20), between(0, 0.75))),
        ((pick(40, P1, grams(20)), tally(50, at_least(20), ALL)), (at_least(20), None)),
        # An unweighed pick before a tally without an upper bound is not bounded by it.
        (
            (pick(40, P1, unweighed()), tally(50, at_least(20), ALL)),
            (Quantity(0, None, Dimension.MASS, open=1, unweighed=1, step=1), None),
        ),
        # Picks after the last tally stand as they are; what it holds may be of any plant.
        (
            (tally(50, grams(20), ALL), pick(60, P1, unweighed())),
            (Quantity(0, None, Dimension.MASS, unweighed=1, step=1), between(0, 20)),
        ),
        # A pick that holds earlier ones bounds them, and a tally after it bounds all.
        (
            (
                pick(30, P1, unweighed()),
                pick(40, ALL, grams(9), earlier="included"),
                tally(50, grams(20), ALL),
            ),
            (between(0, 20), between(0, 20)),
        ),
        ((pick(30, P1, unweighed()), tally(50, grams(20), ALL)), (between(0, 20), between(0, 20))),
        # Picks that are more than the tally contradict it: each may be the wrong one.
        (
            (pick(30, P2, grams(30)), pick(40, P1, unweighed()), tally(50, grams(20), ALL)),
            (unweighed(), between(20, 30)),
        ),
        # Two share the room; the second tally adds to it.
        (
            (pick(30, P1, unweighed()), pick(31, P2, unweighed()), tally(50, grams(20), ALL)),
            (between(0, 20), between(0, 20)),
        ),
        (
            (
                pick(30, P1, unweighed()),
                tally(40, grams(20), P1),
                pick(45, P2, unweighed()),
                tally(50, grams(50), ALL),
            ),
            (between(20, 50), between(0, 30)),
        ),
    ],
)
def test_picks_bounded_by_tallies(
    rows: tuple[Pick | Tally, ...], plants: tuple[Quantity | None, ...]
) -> None:
    """What tallies say of the first two plants."""
    found = of_plants(harvest(*rows).by_plant)
    assert (found["P1"], found["P2"]) == plants


def test_rows_and_names_of_plants() -> None:
    """A plant leads to its own picks and to those shared with others, not to those of others alone."""
    facts = harvest(pick(50, P1, grams(80)), pick(51, joint("P1", "P2"), grams(47)), pick(52, P3, grams(9)))
    assert [(n.key, lines(n.figure)) for n in facts.by_plant] == [
        ("P1", [2050, 2051]),
        ("P2", [2051]),
        ("P3", [2052]),
        ("P4", []),
    ]
    assert (facts.by_plant[0].figure.name, facts.by_plant[0].figure.formula) == (
        "harvest.by_plant.P1",
        "weight_of_row",
    )


def test_a_tally_of_one_plant() -> None:
    """A running total of one plant is that plant's, holds its picks, and says nothing of others."""
    facts = harvest(
        pick(40, P1, grams(9)), pick(60, P1, grams(5)), pick(61, P2, grams(7)), tally(50, grams(20), P1)
    )
    assert of_plants(facts.by_plant) == {
        "P1": grams(25),
        "P2": grams(7),
        "P3": None,
        "P4": None,
    }
    assert lines(facts.by_plant[0].figure) == [2040, 2060, 3050]
    assert facts.total.value == grams(32)


def test_groups_and_varieties_with_rows() -> None:
    """A group or variety has the weights of its own plants, and the rows of those that it shares."""
    head: dict[str, Any] = {
        "groups": (("left", ("P1", "P2")), ("lone", ("P4",))),
        "varieties": ("amber", "rust"),
    }
    rows = (
        pick(50, joint("P1", "P2"), grams(40)),
        pick(51, joint("P2", "P3"), grams(30)),
        pick(52, P3, grams(5)),
    )
    facts = harvest(*rows, **head)
    assert [(n.key, n.figure.value, lines(n.figure)) for n in facts.by_group] == [
        ("left", between(40, 70), [2050, 2051]),
        ("lone", None, []),
        ("not-said", grams(35), [2051, 2052]),
    ]
    assert [(n.key, n.figure.value, lines(n.figure)) for n in facts.by_variety] == [
        ("amber", between(40, 70), [2050, 2051]),
        ("rust", between(5, 35), [2051, 2052]),
        ("not-said", grams(30), [2051]),
    ]
    assert [n.figure.name for n in (*facts.by_group, *facts.by_variety)] == [
        "harvest.by_group.left",
        "harvest.by_group.lone",
        "harvest.by_group.not-said",
        "harvest.by_variety.amber",
        "harvest.by_variety.rust",
        "harvest.by_variety.not-said",
    ]


def test_tubs_with_rows() -> None:
    """A pick from two tubs may be of either; one of a plant that moved is of neither from that day on."""
    moved = event(Deed.MOVE, 45, P1, tub="right")
    rows = (
        pick(44, P1, grams(10)),
        pick(45, P1, grams(7)),
        pick(50, joint("P2", "P3"), grams(90)),
        pick(51, P4, grams(4)),
    )
    facts = harvest(*rows, events=(moved,), tubs=("left", "right"))
    assert [(n.key, n.figure.value, lines(n.figure)) for n in facts.by_tub] == [
        ("left", between(10, 100), [2044, 2050]),
        ("right", between(4, 94), [2050, 2051]),
        ("not-said", grams(97), [2045, 2050]),
    ]
    only = harvest(pick(50, joint("P2", "P3"), grams(90)), tubs=("left", "right"))
    assert [(n.figure.value, n.figure.name) for n in only.by_tub] == [
        (between(0, 90), "harvest.by_tub.left"),
        (between(0, 90), "harvest.by_tub.right"),
        (grams(90), "harvest.by_tub.not-said"),
    ]


def test_a_pick_on_a_span_of_days_around_a_move() -> None:
    """A plant picked at some time around its move may have been picked in its tub, or after it left it."""
    moved = event(Deed.MOVE, 45, P1, tub="right")
    row = replace(pick(44, P1, grams(10)), day=Day(44, 46))
    assert of_plants(harvest(row, events=(moved,), tubs=("left", "right")).by_tub) == {
        "left": between(0, 10),
        "right": None,
        "not-said": grams(10),
    }


def test_a_tally_belongs_to_the_tub_of_its_plants() -> None:
    """A running total of one tub's plants is that tub's; what one of all holds beyond the picks may be of either."""
    rows = (pick(40, P1, grams(9)), tally(50, grams(20), joint("P1", "P2")), pick(60, P3, grams(5)))
    assert of_plants(harvest(*rows, tubs=("left", "right")).by_tub) == {"left": grams(20), "right": grams(5)}
    both = harvest(pick(40, P1, grams(9)), tally(50, grams(20), ALL), tubs=("left", "right"))
    assert [(n.figure.value, lines(n.figure)) for n in both.by_tub] == [
        (between(9, 20), [2040, 3050]),
        (between(0, 11), [3050]),
        (grams(11), [3050]),
    ]


def test_pieces() -> None:
    """Counts add up, a weight that holds earlier ones holds their pieces, an uncounted pick opens the sum."""
    assert harvest(pick(50, P1, grams(30), count=3), pick(52, P2, grams(9), count=4)).pieces.value == counted(
        7
    )
    holding = harvest(pick(50, P1, grams(30), count=3), pick(60, ALL, grams(99), count=9, earlier="included"))
    assert holding.pieces.value == counted(9)
    opened = harvest(pick(50, P1, grams(30), count=3), pick(52, P2, grams(9))).pieces
    assert (opened.value, lines(opened)) == (Quantity(3, None, Dimension.COUNT, unweighed=1, step=1), [2050])
    assert harvest(pick(50, P1, grams(30), count=0)).pieces.value == counted(0)
    assert (harvest(pick(52, P2, grams(9))).pieces.value, harvest().pieces.value) == (None, None)
    assert (opened.name, opened.formula) == ("harvest.pieces", "piece_count")


def test_spoilt_pieces() -> None:
    """A share where each pick says both; at least a number where not; nothing where nobody said."""
    facts = harvest(
        pick(50, P1, grams(30), count=7, spoilt=1),
        pick(51, P1, grams(30), count=3, spoilt=0),
        pick(52, P1, grams(9), count=3),
    )
    least = Quantity(1, None, Dimension.COUNT, unweighed=1, step=1)
    assert (facts.spoilt.value, lines(facts.spoilt), facts.spoilt.formula) == (
        least,
        [2050, 2051],
        "piece_count",
    )
    whole = harvest(
        pick(50, P1, grams(30), count=7, spoilt=1), pick(51, P1, grams(30), count=3, spoilt=0)
    ).spoilt
    assert (whole.value, lines(whole), whole.formula) == (share_of(1, 10), [2050, 2051], "wilson_interval")
    uncounted = harvest(pick(50, P1, grams(30), count=7, spoilt=1), pick(51, P1, grams(30), spoilt=2)).spoilt
    assert (uncounted.value, lines(uncounted), uncounted.formula) == (counted(3), [2050, 2051], "piece_count")
    assert harvest(pick(50, P1, grams(30), count=2, spoilt=3)).spoilt.value is None
    assert (harvest(pick(50, P1, grams(9))).spoilt.value, harvest().spoilt.value) == (None, None)
    # A weight that holds the earlier picks holds their spoilt pieces.
    holding = harvest(
        pick(50, P1, grams(30), count=7, spoilt=1),
        pick(60, ALL, grams(99), count=20, spoilt=3, earlier="included"),
    )
    assert holding.spoilt.value == share_of(3, 20)


def test_yield_of_a_spot() -> None:
    """Every bound of the total over the spots sown, with its flags and its step."""
    facts = harvest(pick(50, P1, between(30, 50, by_eye=True)), pick(52, P2, grams(10)))
    assert facts.per_spot.value == Quantity(10, 15, Dimension.MASS, by_eye=True, step=1)
    assert (lines(facts.per_spot), facts.per_spot.formula) == ([2050, 2052], "weight_per_spot")
    assert harvest(pick(50, P1, unweighed())).per_spot.value == unweighed()
    assert harvest().per_spot.value is None


def test_first_and_last_pick() -> None:
    """The first day and the last one, each a span of the days that it can be, with the picks that it can be."""
    span = replace(pick(48, P1, grams(9), 7), day=Day(48, 70))
    facts = harvest(span, pick(50, P1, grams(9), 8), pick(63, P2, grams(9), 9), pick(63, P3, grams(9), 10))
    assert (facts.first_pick.value, lines(facts.first_pick)) == (Day(48, 50), [7, 8])
    assert (facts.last_pick.value, lines(facts.last_pick)) == (Day(63, 70), [7, 9, 10])
    facts = harvest(pick(50, P1, grams(9), 8), pick(63, P2, grams(9), 9), pick(63, P3, grams(9), 10))
    assert (facts.last_pick.value, lines(facts.last_pick)) == (Day.on(63), [9, 10])
    assert (facts.picks.value, lines(facts.picks)) == (counted(3), [8, 9, 10])
    assert [f.formula for f in (facts.picks, facts.first_pick, facts.last_pick)] == [
        "pick_count",
        "first_day",
        "last_day",
    ]
    assert harvest().picks.value == counted(0)


def sorted_out(named: tuple[Named, ...]) -> list[tuple[str, object, list[int], str]]:
    """Key, value, rows and name of each."""
    return [(n.key, n.figure.value, lines(n.figure), n.figure.name) for n in named]


def test_parts_and_grades() -> None:
    """Picks by part and by grade, in the order in which these first came, with their own rows."""
    facts = harvest(
        pick(50, P1, grams(30), part="side shoot", grade="Good!"),
        pick(51, P2, grams(4), part="leaf"),
        pick(52, P1, grams(9), part="side shoot", grade="good"),
        pick(53, P1, grams(2)),
    )
    assert sorted_out(facts.by_part) == [
        ("side-shoot", grams(39), [2050, 2052], "harvest.by_part.side-shoot"),
        ("leaf", grams(4), [2051], "harvest.by_part.leaf"),
        ("not-said", grams(2), [2053], "harvest.by_part.not-said"),
    ]
    assert sorted_out(facts.by_grade) == [
        ("good", grams(39), [2050, 2052], "harvest.by_grade.good"),
        ("not-said", grams(6), [2051, 2053], "harvest.by_grade.not-said"),
    ]
    bare = harvest(pick(50, P1, grams(30)))
    assert (bare.by_part, bare.by_grade, bare.by_flush) == ((), (), ())


def test_a_grade_without_letters_keeps_its_sign() -> None:
    """A grade that leaves nothing for an address goes by itself."""
    assert [n.key for n in harvest(pick(50, P1, grams(3), grade="★")).by_grade] == ["★"]


def flushes(*picks: Pick) -> list[tuple[str, object, list[int], str]]:
    """Weights by flush, after a prune of all on day 55."""
    return sorted_out(harvest(*picks, events=(PRUNED,)).by_flush)


PRUNED = event(Deed.PRUNE, 55)


def numbered(*picks: Pick, **tables: Any) -> tuple[int, ...]:
    """The flush of each pick in a run with more tables."""
    return flush_numbers(run_of(picks=picks, **tables), picks)


def test_a_rest_alone_is_no_flush() -> None:
    """A pause begins a flush only with a prune of its plants, or a stage that none had reached before, within it."""
    picks = (pick(50, P1, grams(1)), pick(70, P1, grams(2)))
    assert numbered(*picks) == (1, 1)
    assert numbered(*picks, events=[PRUNED]) == (1, 2)
    assert numbered(*picks, events=[event(Deed.PRUNE, 50, joint("P1", "P2"))]) == (1, 2)
    assert numbered(*picks, events=[event(Deed.PRUNE, 55, P2)]) == (1, 1)
    assert numbered(*picks, events=[event(Deed.PRUNE, 70)]) == (1, 1)
    assert numbered(*picks, events=[event(Deed.PRUNE, 49)]) == (1, 1)
    assert numbered(*picks, milestones=[milestone("side_shoots", 60, P1)]) == (1, 2)
    again = [milestone("bolting", 46, P1), milestone("bolting", 60, P2, line=7)]
    assert numbered(*picks, milestones=again) == (1, 1)
    assert numbered(*picks, milestones=[milestone("side_shoots", 60, P1, reached=False)]) == (1, 1)


def test_a_tally_is_picking() -> None:
    """A running total read off within the pause shows that picking went on."""
    picks = (pick(50, P1, grams(1)), pick(70, P1, grams(2)))
    assert numbered(*picks, events=[PRUNED], tallies=[tally(60, grams(9), ALL)]) == (1, 1)
    assert numbered(*picks, events=[PRUNED], tallies=[tally(52, grams(9), ALL)]) == (1, 2)


def test_a_tally_of_the_day_of_a_pick_ends_no_rest() -> None:
    """A running total that was read off with the pick after a pause does not show that picking went on before it."""
    picks = (pick(50, P1, grams(1)), pick(70, P1, grams(2)))
    assert numbered(*picks, events=[PRUNED], tallies=[tally(70, grams(9), ALL)]) == (1, 2)
    assert numbered(
        *picks, events=[PRUNED], tallies=[replace(tally(70, grams(9), ALL), day=Day(60, 75))]
    ) == (1, 1)


def test_a_flush_begins_after_fourteen_days() -> None:
    """Thirteen days between two picks are one flush, fourteen two (common practice, no source)."""
    assert flushes(pick(50, P1, grams(1)), pick(63, P1, grams(2))) == []
    assert flushes(pick(50, P1, grams(1)), pick(64, P1, grams(2))) == [
        ("1", grams(1), [2050], "harvest.by_flush.1"),
        ("2", grams(2), [2064], "harvest.by_flush.2"),
    ]


def test_rests_are_counted_between_the_nearest_days() -> None:
    """A rest runs from the last day of one pick to the first day of the next."""
    spans = [
        replace(pick(50, P1, grams(1)), day=Day(50, 52)),
        replace(pick(65, P1, grams(2)), day=Day(65, 70)),
    ]
    assert numbered(*spans, events=[PRUNED]) == (1, 1)
    assert numbered(spans[0], replace(spans[1], day=Day(66, 66)), events=[PRUNED]) == (1, 2)


def test_a_pick_of_one_flush_or_the_next() -> None:
    """A pick that about a day leaves in one of two flushes widens both, and is no remainder; so is their sum."""
    vague = replace(pick(64, P1, grams(4)), day=Day.on(64, about=True))
    found = harvest(pick(50, P1, grams(1)), vague, pick(90, P1, grams(8), flush=2), events=(PRUNED,)).by_flush
    assert [(n.key, n.figure.value) for n in found] == [
        ("1", Quantity(1, 5, Dimension.MASS, step=1)),
        ("2", Quantity(8, 12, Dimension.MASS, step=1)),
    ]
    assert [remarks_of(n.figure) for n in found] == ["one pick may be of another flush"] * 2


def test_a_number_in_the_log_holds_on() -> None:
    """A flush numbered in the log is taken as it is and counted on from; a lone one is shown, too."""
    picks = [pick(50, P1, grams(1), flush=3), pick(52, P1, grams(2)), pick(66, P1, grams(4))]
    assert numbered(*picks, events=[PRUNED]) == (3, 3, 4)
    assert numbered(pick(50, P1, grams(1)), pick(90, P1, grams(2), flush=1), events=[PRUNED]) == (1, 1)
    assert numbered() == ()
    assert [key for key, *_ in flushes(pick(50, P1, grams(1), flush=1))] == ["1"]


WEIGHTS = st.one_of(
    st.integers(0, 2000).map(grams),
    st.tuples(st.integers(0, 500), st.integers(1, 500)).map(lambda ends: between(ends[0], ends[0] + ends[1])),
    st.integers(0, 500).map(at_least),
    st.just(unweighed()),
)
WHICH: st.SearchStrategy[Which] = st.one_of(
    st.lists(st.sampled_from(FOUR), min_size=1, unique=True).map(lambda ids: joint(*sorted(ids))),
    st.just(ALL),
    st.just(some()),
    st.just(of(2, 4)),
)
PICKS = st.lists(
    st.builds(
        lambda day, which, weight, earlier, grade: pick(day, which, weight, earlier=earlier, grade=grade),
        st.integers(30, 90),
        WHICH,
        WEIGHTS,
        st.sampled_from(("", "", "", "apart", "included", "unclear")),
        st.sampled_from(("", "good", "poor")),
    ),
    min_size=1,
    max_size=7,
).map(lambda picks: [replace(p, source=place(n + 1), entry=p.day.first) for n, p in enumerate(picks)])
APART = PICKS.map(lambda picks: [replace(p, earlier="") for p in picks])


def near(one: Quantity, other: Quantity) -> bool:
    """Whether two quantities have the same bounds but for the last digits of floats."""
    if one.low != pytest.approx(other.low):
        return False
    return one.high == other.high if None in (one.high, other.high) else one.high == pytest.approx(other.high)


def summed(figures: list[Figure]) -> Quantity:
    """The sum of several figures."""
    return total((amount(figure) for figure in figures), Dimension.MASS)


@given(APART)
def test_every_breakdown_adds_up(picks: list[Pick]) -> None:
    """Grades and flushes each add up to the total, with all its flags, as long as no weight holds another."""
    facts = harvest(*[replace(p, flush=1 + n % 2) for n, p in enumerate(picks)])
    whole = amount(facts.total)
    for named in (facts.by_grade, facts.by_flush):
        if named:
            found = summed([one.figure for one in named])
            assert near(found, whole)
            assert (found.unweighed, found.open, found.by_eye) == (whole.unweighed, whole.open, whole.by_eye)
    assert facts.by_flush


@given(PICKS)
def test_the_last_running_total_is_the_total(picks: list[Pick]) -> None:
    """The last of the cumulative points has the total, and no pick is without a point."""
    facts = harvest(*picks)
    assert facts.cumulative[-1].total == facts.total.value
    assert len(facts.cumulative) == len(picks)
    lows = [point.total.low for point in facts.cumulative]
    if not any(p.earlier in ("included", "unclear") for p in picks):
        assert lows == sorted(lows)


@given(PICKS, st.lists(st.floats(0, 1), min_size=7, max_size=7))
def test_a_range_of_weights_holds_every_weight_in_it(picks: list[Pick], at: list[float]) -> None:
    """Whatever the picks weighed within what was written, the total of those weights lies in the total."""
    wide = [p for p in picks if p.earlier != "unclear"]
    assume(any(not p.weight.single for p in wide))
    exact = []
    for p, where in zip(wide, at, strict=False):
        high = p.weight.low + 300 if p.weight.high is None else p.weight.high
        exact.append(replace(p, weight=grams(p.weight.low + where * (high - p.weight.low))))
    # Of weights that hold others only those that could be true.
    whole, inside = harvest(*wide).total, harvest(*exact).total
    assume(all(_holds_enough(exact, n) for n in range(len(exact))))
    (low, high), (known, top) = bounds(whole), bounds(inside)
    assert low - 1e-6 <= known
    assert high is None or top <= high + 1e-6


def _holds_enough(picks: list[Pick], position: int) -> bool:
    """Whether a weight that holds earlier ones is no less than any of them."""
    one = picks[position]
    if one.earlier != "included":
        return True
    earlier = [p for p in picks if p.day.first < one.day.first]
    return amount(harvest(*earlier, one).total).low <= sum(p.weight.low for p in (*earlier, one)) and (
        not earlier or one.weight.low >= amount(harvest(*earlier).total).low
    )


@given(PICKS, st.integers(0, 3))
def test_one_more_pick_apart_adds_its_weight(picks: list[Pick], plant: int) -> None:
    """A later pick that holds nothing adds exactly its weight, to the total and to its plant."""
    before = harvest(*picks)
    after = harvest(*picks, pick(99, joint(FOUR[plant]), grams(50), 999))
    assert near(amount(after.total), total([amount(before.total), grams(50)], Dimension.MASS))
    own, more = before.by_plant[plant].figure, amount(after.by_plant[plant].figure)
    if own.recorded:
        assert near(more, total([amount(own), grams(50)], Dimension.MASS))
    else:
        assert (more.low, more.high) in ((50, 50), (50, None))


@given(PICKS, st.integers(0, 400))
def test_a_tally_of_everything_ends_what_was_open(picks: list[Pick], more: int) -> None:
    """A running total of everything is the total, whatever had been weighed before."""
    before = amount(harvest(*picks).total)
    whole = grams(before.low + more)
    assert harvest(*picks, tally(95, whole, ALL)).total.value == whole


@given(APART)
def test_no_plant_has_more_than_the_total(picks: list[Pick]) -> None:
    """The least of all plants and what they share is the least of the total; no plant has more than the most of it."""
    facts = harvest(*picks)
    own = [amount(named.figure) for named in facts.by_plant if named.figure.recorded]
    whole = amount(facts.total)
    assert sum(q.low for q in (*own, amount(facts.shared))) == pytest.approx(whole.low)
    if whole.high is not None:
        assert all(q.high is not None and q.high <= whole.high + 1e-6 for q in own)


def test_a_running_total_on_an_uncertain_day() -> None:
    """A pick inside the days of a running total may be in it or not; one on a day before is in it."""
    span = replace(tally(40, grams(100), ALL, line=1), day=Day(30, 40))
    assert bounds(harvest(pick(20, P1, grams(30)), span).total) == (100, 100)
    assert bounds(harvest(pick(35, P1, grams(30)), span).total) == (100, 130)
    assert bounds(harvest(pick(41, P1, grams(30)), span).total) == (130, 130)
    before = replace(tally(40, grams(100), ALL, line=1), day=Day(0, 39, before=True))
    assert bounds(harvest(pick(20, P1, grams(30)), before).total) == (100, 130)


def test_picks_of_one_visit_that_hold_what_was_shared() -> None:
    """Two picks of one visit may each hold a share of an earlier weight of both plants: neither is only added."""
    shared = pick(40, joint("P1", "P2"), grams(100), 1)
    rows = [pick(60, joint(plant), grams(80), n, earlier="included") for n, plant in ((2, "P1"), (3, "P2"))]
    assert bounds(harvest(shared, *rows).total) == (100, 260)
