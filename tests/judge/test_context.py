"""Look-ups that several rules share."""

from __future__ import annotations

import pytest

from sitegen.core.records.rows import Deed, Which
from sitegen.core.values.day import Day
from sitegen.judge.context import Context, explicit
from tests.judge.builders import (
    TODAY,
    Row,
    done,
    everyone,
    lost,
    named,
    none,
    place,
    run,
    setup,
    some_of,
    sown,
)

ALL = ("P1", "P2", "P3", "P4")
LEFT = ("left", ("P1", "P2"))


def context(*rows: Row) -> Context:
    """The context of a run with a group."""
    return Context.of(run(*rows, head=setup(groups=(LEFT,))), TODAY)


def test_once() -> None:
    """A function is called once for each context, even where its result is empty."""
    calls: list[Context] = []

    def function(given: Context) -> tuple[int, ...]:
        calls.append(given)
        return ()

    one, other = context(), context(sown())
    assert [made.once(function) for made in (one, one, other)] == [(), (), ()]
    assert [made is one for made in calls] == [True, False]


def test_log_source() -> None:
    """The log is where its key is, else the whole file."""
    assert context().log_source == place(10)
    assert Context.of(run(head=setup(spans=())), TODAY).log_source == place(1)


@pytest.mark.parametrize(
    ("which", "about", "meant"),
    [
        (None, ALL, ALL),
        (Which(("P1", "P3"), word="all"), ("P1", "P3"), ALL),
        (Which(("P1",), word="left"), ("P1",), ("P1", "P2")),
        (named("P3"), ("P3",), ("P3",)),
        (some_of(2, 4), ALL, ALL),
        (none(), ALL, ALL),
    ],
)
def test_plants_of_a_selection(which: Which | None, about: tuple[str, ...], meant: tuple[str, ...]) -> None:
    """A record is about the plants it names, or about all; words include those lost since the start."""
    assert (context().about(which), context().meant(which)) == (about, meant)


@pytest.mark.parametrize(
    ("which", "plants"),
    [
        (None, ()),
        (named("P1", "P2"), ("P1", "P2")),
        (Which(("P1",), word="P1"), ("P1",)),
        (Which(("P1", "P2"), word="left"), ()),
        (everyone(), ()),
        (some_of(2), ()),
    ],
)
def test_explicit(which: Which | None, plants: tuple[str, ...]) -> None:
    """Only names of single plants are explicit."""
    assert explicit(which) == plants


def test_sowings() -> None:
    """A sowing without plants is in every spot."""
    rows = sown(0), sown(5, which=named("P1")), done(Deed.SOW, 9)

    assert [s.day.first for s in context(*rows).sowings("P1")] == [0, 5, 9]
    assert [s.day.first for s in context(*rows).sowings("P2")] == [0, 9]


@pytest.mark.parametrize(
    ("sowing", "again"),
    [
        (40, ()),
        (41, ("P1",)),
        (50, ("P1",)),
        (51, ()),
        ((38, 41), ("P1",)),
        ((38, 40), ()),
        ((50, 52), ("P1",)),
    ],
)
def test_resown(sowing: int | tuple[int, int], again: tuple[str, ...]) -> None:
    """A plant is sown again after one day, and on another at the latest."""
    made = context(sown(), done(Deed.SOW, sowing, named("P1")))

    assert made.resown(("P1", "P2"), Day.on(40), Day.on(50)) == again


@pytest.mark.parametrize(("day", "number"), [(19, 4), (20, 3), (24, 3), (25, 4), (30, 2)])
def test_standing(day: int, number: int) -> None:
    """A plant stands until the day before its loss, and again from the day that its spot is sown."""
    made = context(sown(), lost(20, named("P1")), sown(25, which=named("P1")), lost(30, some_of(2)))

    assert made.standing(day) == number


def test_all_standing() -> None:
    """Without a loss all plants stand."""
    assert context(sown()).standing(50) == 4
