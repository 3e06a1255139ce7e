"""Which plants stand on a day, and where."""

from __future__ import annotations

import datetime as dt

from sitegen.core.findings.source import Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Event, Rows, Which
from sitegen.core.records.setup import Crop, Plant, Setup, System, Tub
from sitegen.core.records.tables import event_of
from sitegen.core.values.day import Day, Start

HERE = Source("e.yaml")
PLANTS = ("P1", "P2", "P3", "P4")


def _event(
    deed: Deed, number: int, *ids: str, last: int | None = None, tub: str = "", lost: int = 0
) -> Event:
    which = Which(count=lost, of=4) if lost else Which(ids)
    day = Day(number, last or number)
    return event_of(deed, day=day, entry=number, source=HERE, which=which, tub=tub)


def _roster(*events: Event) -> Roster:
    crate = System("crate", "Crate")
    setup = Setup(
        id="run",
        season="spring",
        source=HERE,
        title="Run",
        crop=Crop("sorrel", "Sorrel", "leafy"),
        start=Start(dt.date(2025, 3, 1), "day"),
        plants=tuple(
            Plant(plant, n, "left" if n < 3 else "right", "", (), HERE) for n, plant in enumerate(PLANTS, 1)
        ),
        tubs=(Tub("left", crate), Tub("right", crate)),
    )
    return Roster.of(setup, Rows(events=events))


def test_all_stand_until_one_is_lost() -> None:
    """A plant stands up to the day before its loss."""
    roster = _roster(_event(Deed.LOST, 20, "P2"))

    assert roster.standing(19) == PLANTS
    assert roster.standing(20) == ("P1", "P3", "P4")
    assert (roster.count(19), roster.count(20)) == (4, 3)


def test_losses_without_a_name_are_counted() -> None:
    """Two plants lost without a name leave two, though nobody knows which."""
    roster = _roster(_event(Deed.LOST, 20, lost=2))

    assert (roster.standing(30), roster.count(19), roster.count(30)) == (PLANTS, 4, 2)


def test_more_lost_than_there_were() -> None:
    """The count never falls below none."""
    assert _roster(_event(Deed.LOST, 20, lost=3), _event(Deed.LOST, 25, lost=3)).count(30) == 0


def test_a_moved_plant() -> None:
    """From the day of its move a plant stands in the other tub; the first move is remembered."""
    roster = _roster(_event(Deed.MOVE, 20, "P1", tub="right"), _event(Deed.MOVE, 30, "P1", tub="left"))

    assert [roster.tub_of("P1", day) for day in (0, 19, 20, 29, 30)] == [
        "left",
        "left",
        "right",
        "right",
        "left",
    ]
    assert roster.tub_of("P2", 30) == "left"
    moved = roster.moved_on("P1")
    assert moved is not None
    assert (moved.day, roster.moved_on("P2")) == (Day.on(20), None)


def test_a_spot_sown_twice() -> None:
    """The days of a plant count from the last sowing in its spot."""
    roster = _roster(_event(Deed.SOW, 0, *PLANTS), _event(Deed.SOW, 9, "P3"))
    days = {plant: sown.day.first for plant in PLANTS if (sown := roster.sown_on(plant))}

    assert days == {"P1": 0, "P2": 0, "P3": 9, "P4": 0}


def test_a_move_to_its_own_tub_is_none() -> None:
    """A plant that is said to go to the tub in which it stands from the start has not moved; its next tub counts."""
    roster = _roster(_event(Deed.MOVE, 10, "P1", tub="left"), _event(Deed.MOVE, 20, "P1", tub="right"))
    moved = roster.moved_on("P1")
    assert moved is not None
    assert moved.day == Day.on(20)
