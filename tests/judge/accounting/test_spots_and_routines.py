"""Spots of tubs, and routines that are stopped."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Which
from sitegen.core.records.setup import Plant, Setup, Tub
from sitegen.judge.accounting.plants import routine_unknown, spots_exceeded
from tests.judge.builders import (
    TUB,
    Row,
    by,
    checked,
    day,
    done,
    lit,
    lost,
    named,
    place,
    run,
    setup,
    sown,
)


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
    both = Tub("left", TUB), Tub("right", replace(TUB, id="tray", spots=2))
    plants = tuple(Plant(f"P{n}", n, "left" if n < 3 else "right", "", (), place(7)) for n in range(1, 5))

    assert by(
        spots_exceeded, run(sown(), move(20, named("P1"), "right"), head=setup(tubs=both, plants=plants))
    ) == [
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
    """A running routine can be stopped; a lamp's setting counts as one."""
    feeding = Routine("feed", day(5), 5, place(105))
    stops = done(Deed.STOP, 40, what="feed"), done(Deed.STOP, 40, what="light")

    assert by(routine_unknown, run(sown(), feeding, lit(0, 14), *stops)) == []


def crowded(source: Source, plants: str, where: str, spots: str) -> Finding:
    """More plants than spots."""
    number = spots.split(maxsplit=1)[0]
    write = "write 1 plant" if number == "1" else f"write {number} plants"
    return Finding(
        "spots-exceeded",
        source,
        f"{plants} {'stands' if plants == '1 plant' else 'stand'} in {where}, which has {spots}",
        f"{write} or fewer, or correct `spots` in gear.yaml",
        plants,
        f"at most {number}",
    )


def tubs(**spots: int | None) -> Setup:
    """Tubs with so many spots: P1 and P2 in the first, P3 and P4 in the last."""
    made = tuple(Tub(tub, replace(TUB, id=f"{tub}-box", spots=number)) for tub, number in spots.items())
    first, *_, last = made
    where = {1: first.id, 2: first.id, 3: last.id, 4: last.id}
    plants = tuple(Plant(f"P{n}", n, tub, "", (), place(7)) for n, tub in where.items())
    return setup(tubs=made, plants=plants, spans=(("tubs", place(8)), ("plants", place(7))))


def move(when: int | tuple[int, int], which: Which, tub: str) -> Event:
    """Plants moved to another tub."""
    return done(Deed.MOVE, when, which, tub=tub)


@pytest.mark.parametrize(
    ("head", "rows", "expected"),
    [
        (tubs(left=2, right=2), [], []),
        (
            tubs(left=1, right=0),
            [],
            [
                crowded(place(8), "2 plants", "`left-box`", "1 spot"),
                crowded(place(8), "2 plants", "`right-box`", "0 spots"),
            ],
        ),
        (tubs(left=None, right=1), [], [crowded(place(8), "2 plants", "`right-box`", "1 spot")]),
        (tubs(left=2, middle=0, right=2), [], []),
        (
            tubs(left=2, middle=0, right=2),
            [move(20, named("P1"), "middle")],
            [crowded(place(120), "1 plant", "`middle-box` on day 20", "0 spots")],
        ),
        (tubs(left=2, right=3), [move(20, named("P1"), "right"), move(30, named("P3"), "left")], []),
        (
            tubs(left=2, right=3),
            [move(20, named("P1"), "right"), move(30, named("P2"), "right")],
            [crowded(place(130), "4 plants", "`right-box` on day 30", "3 spots")],
        ),
        (
            tubs(left=2, right=2),
            [move(20, named("P1"), "right"), move(30, named("P2"), "right")],
            [
                crowded(place(120), "3 plants", "`right-box` on day 20", "2 spots"),
                crowded(place(130), "4 plants", "`right-box` on day 30", "2 spots"),
            ],
        ),
        (tubs(left=2, right=2), [lost(20, named("P4")), move(20, named("P1"), "right")], []),
        (
            tubs(left=2, right=2),
            [move((20, 22), named("P1"), "right"), lost(23, named("P4"))],
            [crowded(place(120), "3 plants", "`right-box` on day 22", "2 spots")],
        ),
    ],
)
def test_spots(head: Setup, rows: list[Row], expected: list[Finding]) -> None:
    """Each tub has a spot for every plant, at the start and, for the tub moved to, after each move."""
    assert checked(spots_exceeded, run(sown(), *rows, head=head)) == expected


def test_one_tub_too_small() -> None:
    """With one tub the finding lies at the plants."""
    head = setup(tubs=(Tub("tub", replace(TUB, spots=3)),))

    assert checked(spots_exceeded, run(sown(), head=head)) == [
        crowded(place(7), "4 plants", "`crate`", "3 spots")
    ]


def unknown_routine(line: int, what: str, mend: str = "", running: str = "") -> Finding:
    """A stop of a routine that does not run."""
    return Finding(
        "routine-unknown",
        place(line),
        f"`{what}` is stopped on day {line - 100}, but no such routine was running",
        mend or f"write `from_now` where `{what}` began",
        what,
        running,
    )


def stop(when: int, what: str) -> Event:
    """A routine stopped."""
    return done(Deed.STOP, when, what=what)


def routine(when: int, what: str) -> Routine:
    """A routine begun."""
    return Routine(what, day(when), when, place(100 + when))


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([routine(5, "feed"), stop(5, "feed")], []),
        ([routine(0, "feed"), stop(5, "feed")], []),
        ([routine(6, "feed"), stop(5, "feed")], [unknown_routine(105, "feed")]),
        ([lit(5, 14), stop(5, "light")], []),
        ([lit(6, 14), stop(5, "light")], [unknown_routine(105, "light")]),
        ([lit(5, 14), stop(5, "lights")], [unknown_routine(105, "lights", "write `light`", "light")]),
        (
            [routine(5, "feed"), routine(5, "water"), lit(0, 14), stop(9, "prune")],
            [unknown_routine(109, "prune", running="feed, light, water")],
        ),
        ([routine(5, "feed"), stop(20, "feed"), routine(20, "feed"), stop(30, "feed")], []),
        ([routine(5, "feed"), stop(20, "feed"), routine(25, "feed"), stop(30, "feed")], []),
        (
            [routine(5, "feed"), stop(20, "feed"), stop(21, "feed"), routine(25, "feed"), stop(24, "feed")],
            [unknown_routine(121, "feed"), unknown_routine(124, "feed")],
        ),
        (
            [routine(5, "feed"), stop(10, "prune"), stop(20, "feed"), stop(30, "prune")],
            [unknown_routine(110, "prune", running="feed"), unknown_routine(130, "prune")],
        ),
    ],
)
def test_routines(rows: list[Row], expected: list[Finding]) -> None:
    """A routine runs from its day until it is stopped, and may be begun again."""
    assert checked(routine_unknown, run(sown(), *rows)) == expected
