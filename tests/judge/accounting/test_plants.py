"""Plants that do what they cannot."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.records.rows import Deed, Routine
from sitegen.core.records.setup import Plant, Tub
from sitegen.judge.accounting.plants import lost_plant, never_sown, routine_unknown, spots_exceeded
from tests.judge.builders import (
    TUB,
    Row,
    by,
    day,
    done,
    everyone,
    height,
    lit,
    lost,
    named,
    picked,
    place,
    run,
    seen,
    setup,
    sown,
    up,
)

MEND = "check which plant it was, or the day that `P3` was lost"


@pytest.mark.parametrize(
    ("row", "verb"),
    [
        (picked(51, 20, named("P3")), "be picked"),
        (height(51, 20, "P3"), "be measured"),
        (seen("first_flower", 51, named("P3")), "reach `first_flower`"),
        (done(Deed.PRUNE, 51, named("P3")), "be pruned"),
        (lost(51, named("P3")), "be lost again"),
    ],
)
def test_after_a_loss(row: Row, verb: str) -> None:
    """Whatever comes from a plant after its loss is an error that names both days."""
    (found,) = by(lost_plant, run(sown(), lost(44, named("P3")), row))

    message = f"`P3` was lost on day 44; it cannot {verb} on day 51"
    assert found == f"e.yaml:151:5: error[lost-plant]: {message} ({MEND})"


def test_on_the_day_of_the_loss() -> None:
    """A plant may be picked on the day that it was lost."""
    assert by(lost_plant, run(sown(), lost(44, named("P3")), picked(44, 20, named("P3")))) == []


def test_all_after_a_loss() -> None:
    """`all` does not claim that a lost plant was picked."""
    assert by(lost_plant, run(sown(), lost(44, named("P3")), picked(51, 20, everyone()))) == []


def test_sown_anew_after_a_loss() -> None:
    """A spot sown anew has a plant again."""
    made = run(sown(), lost(44, named("P3")), sown(46, which=named("P3")), picked(90, 20, named("P3")))

    assert by(lost_plant, made) == []


def test_milestone_said_again_after_a_loss() -> None:
    """A milestone reached before the loss may be said again."""
    flower = seen("first_flower", 40, named("P3"))
    made = run(sown(), flower, lost(44, named("P3")), replace(flower, day=day(51), source=place(151)))

    assert by(lost_plant, made) == []


def test_before_sowing() -> None:
    """Nothing comes from a plant before it was sown."""
    made = run(sown(0, which=named("P1")), sown(35, which=named("P4")), picked(30, 20, named("P4")))

    assert by(never_sown, made) == [
        (
            "e.yaml:130:5: error[never-sown]: `P4` was sown on day 35; it cannot be picked on day 30 "
            "(check which plant it was, or its day of sowing)"
        )
    ]


def test_never_sown() -> None:
    """Nothing comes from a plant that the log never says was sown."""
    assert by(never_sown, run(sown(0, which=named("P1")), up(9, 1, which=named("P3")))) == [
        "e.yaml:109:5: error[never-sown]: `P3` was never sown; it cannot sprout on day 9 (write `sow` for `P3`)"
    ]


def test_young_plants_that_were_brought() -> None:
    """A plant that was set in need not have been sown."""
    rows = done(Deed.TRANSPLANT, 5, named("P3")), picked(30, 20, named("P3"))

    assert by(never_sown, run(sown(0, which=named("P1")), *rows)) == []


def test_log_without_sowing() -> None:
    """A log that says nothing of sowing is not held to it plant by plant."""
    assert by(never_sown, run(picked(30, 20, named("P3")))) == []


def test_more_plants_than_spots() -> None:
    """A tub holds no more plants than its system has spots."""
    head = setup(tubs=(Tub("tub", replace(TUB, spots=3)),))

    assert by(spots_exceeded, run(sown(), head=head)) == [
        (
            "e.yaml:7:5: error[spots-exceeded]: 4 plants stand in `crate`, which has 3 spots "
            "(write 3 plants or fewer, or correct `spots` in gear.yaml)"
        )
    ]


def test_as_many_plants_as_spots() -> None:
    """A full tub is right."""
    assert by(spots_exceeded, run(sown())) == []


def test_move_into_a_full_tub() -> None:
    """A move into a tub without a free spot is an error at the move."""
    tubs = Tub("left", TUB), Tub("right", replace(TUB, id="tray", spots=2))
    plants = tuple(Plant(f"P{n}", n, "left" if n < 3 else "right", "", (), place(7)) for n in range(1, 5))
    move = done(Deed.MOVE, 20, named("P1"), tub="right")

    assert by(spots_exceeded, run(sown(), move, head=setup(tubs=tubs, plants=plants))) == [
        (
            "e.yaml:120:5: error[spots-exceeded]: 3 plants stand in `tray` on day 20, which has 2 spots "
            "(write 2 plants or fewer, or correct `spots` in gear.yaml)"
        )
    ]


def test_stopped_without_beginning() -> None:
    """A routine that never began is not stopped."""
    assert by(routine_unknown, run(sown(), done(Deed.STOP, 40, what="feed"))) == [
        (
            "e.yaml:140:5: warning[routine-unknown]: `feed` is stopped on day 40, but no such routine was running "
            "(write `from_now` where `feed` began)"
        )
    ]


def test_stopped_by_a_near_word() -> None:
    """Where a routine of a like name runs, that name is offered."""
    feeding = Routine("feed", day(5), 5, place(105))

    assert by(routine_unknown, run(sown(), feeding, done(Deed.STOP, 40, what="feeds"))) == [
        (
            "e.yaml:140:5: warning[routine-unknown]: `feeds` is stopped on day 40, "
            "but no such routine was running (write `feed`)"
        )
    ]


def test_stopped_twice() -> None:
    """A routine that was stopped is not stopped again."""
    feeding = Routine("feed", day(5), 5, place(105))
    stops = done(Deed.STOP, 40, what="feed"), done(Deed.STOP, 50, what="feed")

    assert by(routine_unknown, run(sown(), feeding, *stops)) == [
        (
            "e.yaml:150:5: warning[routine-unknown]: `feed` is stopped on day 50, but no such routine was running "
            "(write `from_now` where `feed` began)"
        )
    ]


def test_stopped_while_running() -> None:
    """What runs can be stopped; a lamp's setting counts as a routine."""
    feeding = Routine("feed", day(5), 5, place(105))
    stops = done(Deed.STOP, 40, what="feed"), done(Deed.STOP, 40, what="light")

    assert by(routine_unknown, run(sown(), feeding, lit(0, 14), *stops)) == []
