"""What is said with the figures of the harvest, and what its parts are called."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import NOT_RECORDED, NOT_SAID, Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Harvest
from sitegen.core.records.rows import Deed, Event, Pick, Tally
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.breakdown import NOTHING
from sitegen.measure.harvest.harvest import harvest_of
from tests.measure.builders import event, grams, joint, pick, run_of, setup_of, some, tally, unweighed

NOT_YET = (remark("nothing_picked_yet"),)
FOUR = ("P1", "P2", "P3", "P4")
P1, P2, P3, P4 = (joint(plant) for plant in FOUR)
ALL = joint(*FOUR, word="all")
AT_LEAST = grams(9, high=None, open=1)
BY_EYE = grams(9, by_eye=True)


def harvest(*rows: Pick | Tally | Event, **head: Any) -> Harvest:
    """What the plants of a run gave."""
    return harvest_of(
        run_of(
            setup_of(**head),
            picks=[row for row in rows if isinstance(row, Pick)],
            tallies=[row for row in rows if isinstance(row, Tally)],
            events=[row for row in rows if isinstance(row, Event)],
        )
    )


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


def counts(**codes: int) -> tuple[Remark, ...]:
    """Remarks on so many things each."""
    return tuple(remark(code, n=n) for code, n in codes.items())  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("rows", "remarks"),
    [
        ((), said("no_harvest")),
        ((pick(50, P1, grams(9)),), ()),
        (
            (pick(50, P1, unweighed()), pick(51, P2, unweighed()), pick(52, P2, grams(9))),
            counts(picks_not_weighed=2),
        ),
        ((pick(50, P1, BY_EYE), pick(51, P2, BY_EYE)), counts(picks_by_eye=2)),
        ((pick(50, P1, AT_LEAST),), counts(weights_are_lower_bounds=1)),
        (
            (pick(50, P1, unweighed()), pick(51, P1, BY_EYE), pick(52, P1, AT_LEAST)),
            counts(picks_not_weighed=1, picks_by_eye=1, weights_are_lower_bounds=1),
        ),
        ((pick(50, P1, unweighed()), tally(60, grams(90), ALL)), ()),
        (
            (pick(50, P1, grams(9)), pick(60, ALL, grams(9), earlier="unclear")),
            counts(picks_may_hold_earlier=1),
        ),
        ((pick(50, P1, BY_EYE), pick(60, ALL, grams(9), earlier="included")), ()),
    ],
)
def test_total(rows: tuple[Pick | Tally, ...], remarks: tuple[Remark, ...]) -> None:
    """What is uncertain of the total is counted, unless a later weight took its place; a spot's yield says the same."""
    found = harvest(*rows)
    assert found.total.remarks == found.per_spot.remarks == remarks


def test_what_was_weighed_together() -> None:
    """A weight of several plants is not kept by plant; weights of single ones need no remark."""
    assert harvest(pick(50, joint("P1", "P2"), grams(9))).shared.remarks == said("not_kept_by_plant")
    assert harvest(pick(50, P1, grams(9))).shared.remarks == ()
    assert harvest().shared.remarks == ()


def plants(*rows: Pick | Tally, **head: Any) -> list[tuple[Remark, ...]]:
    """The remarks of each plant."""
    return [named.figure.remarks for named in harvest(*rows, **head).by_plant]


def with_plants(n: int, *others: str) -> tuple[Remark, ...]:
    """So many picks together with others."""
    return (remark("picks_with_plants", n=n, plants=others),)


def test_with_whom_a_plant_was_weighed() -> None:
    """The others are named where they are always the same and no more than three, else not."""
    two, three = joint("P1", "P2"), joint("P1", "P2", "P3")
    other = counts(picks_with_other_plants=2)
    assert plants(pick(50, two, grams(9))) == [
        with_plants(1, "P2"),
        with_plants(1, "P1"),
        NOT_YET,
        NOT_YET,
    ]
    assert plants(pick(50, two, grams(9)), pick(51, two, grams(9)))[0] == with_plants(2, "P2")
    assert plants(pick(50, two, grams(9)), pick(51, three, grams(9)))[0] == other
    assert plants(pick(50, ALL, grams(9)), pick(51, some(), grams(9)))[0] == other
    five = joint("P1", "P2", "P3", "P4", "P5")
    assert plants(pick(50, joint(*FOUR), grams(9)), number=6)[0] == with_plants(1, "P2", "P3", "P4")
    assert plants(pick(50, five, grams(9)), number=6)[0] == counts(picks_with_other_plants=1)


def test_own_and_shared_remarks_of_a_plant() -> None:
    """What is uncertain of a plant's own weights comes first, then what it shares, then running totals."""
    rows = (
        pick(50, P1, unweighed()),
        pick(51, P1, BY_EYE),
        pick(52, joint("P1", "P2"), grams(9)),
        tally(60, AT_LEAST, ALL),
    )
    own = counts(picks_not_weighed=1, picks_by_eye=1)
    covers = counts(tallies_cover_others=1)
    assert plants(*rows)[0] == (*own, *with_plants(1, "P2"), *covers)
    beyond = (pick(50, P1, grams(9)), tally(60, grams(30), ALL), tally(70, grams(90), ALL))
    assert plants(*beyond)[:2] == [counts(tallies_cover_others=2)] * 2
    between = (pick(50, P1, unweighed()), pick(51, P2, grams(9)), tally(60, grams(30), ALL))
    assert plants(*between) == [(*counts(picks_between_tallies=1), *covers), covers, covers, covers]


def test_a_tally_of_one_plant_is_said_once() -> None:
    """A running total of one plant that was weighed by eye is one weight by eye, and covers no other plant."""
    rows = (pick(50, P1, grams(9)), tally(60, grams(30, by_eye=True), P1))
    assert plants(*rows) == [counts(picks_by_eye=1), NOT_YET, NOT_YET, NOT_YET]


def test_groups_varieties_and_what_they_are_called() -> None:
    """A group or variety says what its plants share with those outside; the others are named."""
    head: dict[str, Any] = {"groups": (("left", ("P1", "P2")),), "varieties": ("amber", "own-seed")}
    found = harvest(pick(50, joint("P1", "P2"), grams(9)), pick(51, joint("P2", "P3"), unweighed()), **head)
    rest = counts(picks_not_weighed=1)
    assert [n.figure.remarks for n in found.by_group] == [with_plants(1, "P3"), rest]
    assert [n.figure.remarks for n in found.by_variety] == [with_plants(1, "P3"), with_plants(1, "P2"), rest]
    assert [n.label for n in (*found.by_group, *found.by_variety)] == [
        Label("left"),
        Label("together", "site"),
        Label("Amber"),
        Label("own-seed"),
        Label("together", "site"),
    ]
    assert [n.label for n in found.by_plant] == [Label(plant) for plant in FOUR]


def test_tubs_and_what_they_are_called() -> None:
    """A lone tub goes by its system, several by their ids; picks and running totals of both are said."""
    assert harvest(pick(50, P1, unweighed())).by_tub[0].label == Label("Bucket")
    assert harvest(pick(50, P1, unweighed())).by_tub[0].figure.remarks == counts(picks_not_weighed=1)
    rows = (pick(50, P1, BY_EYE), pick(51, joint("P2", "P3"), grams(9)), tally(60, grams(90), ALL))
    left, right, rest = harvest(*rows, tubs=("left", "right")).by_tub
    assert (left.label, right.label) == (Label("left"), Label("right"))
    covers = counts(tallies_cover_others=1)
    assert left.figure.remarks == (*counts(picks_by_eye=1), *with_plants(1, "P3"), *covers)
    assert right.figure.remarks == (*with_plants(1, "P2"), *covers)
    assert (rest.label, rest.figure.remarks) == (Label("together", "site"), counts(picks_by_eye=1))


def test_pieces_and_spoilt_ones() -> None:
    """Picks without a count, or without a word on what was spoilt, are counted."""
    rows = (pick(50, P1, grams(9), count=3, spoilt=1), pick(51, P1, grams(9)), pick(52, P1, grams(9)))
    found = harvest(*rows)
    assert found.pieces.remarks == counts(picks_not_counted=2)
    unsaid = counts(picks_without_spoilt=2)
    assert found.spoilt.remarks == (remark("of_at_least_pieces", pieces=3), *unsaid)
    assert harvest(rows[0]).pieces.remarks == harvest(rows[0]).spoilt.remarks == ()
    assert (harvest(rows[1]).pieces.remarks, harvest(rows[1]).spoilt.remarks) == (
        said("not_counted"),
        (NOT_RECORDED,),
    )
    assert (harvest().pieces.remarks, harvest().spoilt.remarks) == ((), ())
    uncounted = harvest(rows[0], pick(51, P1, grams(9), spoilt=0)).spoilt
    assert uncounted.remarks == (remark("of_at_least_pieces", pieces=3),)
    counted_too = harvest(rows[0], pick(51, P1, grams(9), count=2)).spoilt
    assert counted_too.remarks == (remark("of_pieces", pieces=5), *counts(picks_without_spoilt=1))
    assert harvest(pick(51, P1, grams(9), spoilt=1)).spoilt.remarks == said("spoilt_of_unknown_number")


def test_parts_grades_and_flushes() -> None:
    """Parts, grades and flushes have names of their kind and the remarks of their own picks."""
    found = harvest(
        event(Deed.PRUNE, 55),
        pick(50, P1, BY_EYE, part="leaf", grade="Good"),
        pick(51, P1, unweighed(), part="leaf", grade="good"),
        pick(70, P1, grams(9)),
    )
    both = counts(picks_not_weighed=1, picks_by_eye=1)
    for named, first, second in (
        (found.by_part, Label("leaf", "part"), NOT_SAID),
        (found.by_grade, Label("Good"), NOT_SAID),
        (found.by_flush, Label("1", "flush"), Label("2", "flush")),
    ):
        assert [(n.label, n.figure.remarks) for n in named] == [(first, both), (second, ())]


def test_a_pick_of_nothing_is_weighed() -> None:
    """A weight of 0 g needs no remark."""
    assert harvest(pick(50, P1, grams(0))).total.remarks == ()
    assert replace(grams(0), step=0) == Quantity(0, 0, Dimension.MASS)


def test_a_moved_plant_leaves_both_tubs() -> None:
    """A tub says which plant counted until its move; a pick that it shares later is no tub's alone."""
    moved = event(Deed.MOVE, 45, P1, tub="right")
    found = harvest(moved, pick(50, joint("P1", "P3"), grams(9)), tubs=("left", "right")).by_tub
    until = remark("counts_until_move", plants=("P1",), day=Day.on(45))
    assert [n.figure.remarks for n in found] == [(*NOT_YET, until), with_plants(1, "P1"), ()]


def test_nothing_of_a_plant_that_is_over() -> None:
    """Nothing is 0 g of a plant that was lost, which is said, and of one that the end of the run ended."""
    lost = event(Deed.LOST, 30, P1)
    running = harvest(lost, pick(50, P2, grams(9))).by_plant
    assert [(n.figure.value, n.figure.remarks) for n in running] == [
        (NOTHING, (remark("lost_before_pick", plants=("P1",)),)),
        (grams(9), ()),
        (None, NOT_YET),
        (None, NOT_YET),
    ]
    for kept, left in ((True, None), (False, NOTHING), (None, NOTHING)):
        ended = harvest(pick(50, P2, grams(9)), event(Deed.END, 60, kept=kept)).by_plant
        assert ended[2].figure.value == left
    some_ended = harvest(pick(50, P2, grams(9)), event(Deed.END, 60, P3, kept=False)).by_plant
    assert [n.figure.value for n in some_ended] == [None, grams(9), NOTHING, None]
