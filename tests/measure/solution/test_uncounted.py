"""Routines that the log did not count leave totals open."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.facts.tree import Solution, TubFacts
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event
from sitegen.core.values.quantity import Quantity
from sitegen.measure.solution.solution import solution_of
from tests.measure.builders import event, litres, ml, remarks_of, routine, run_of, setup_of

FILLED = event(Deed.WATER, 0, filled=True)
REFILL = event(Deed.WATER, 20, amount=litres(2))
FED = event(Deed.FEED, 20, tub="tub", product="syrup", amount=ml(10))


def tub(*routines: Routine) -> TubFacts:
    """The one tub of a run that was filled, topped up once and fed once."""
    run = run_of(events=(FILLED, REFILL, FED))
    (facts,) = solution_of(replace(run, rows=replace(run.rows, routines=routines))).tubs
    return facts


def bounds(value: object) -> tuple[float, float | None]:
    """Both ends of a quantity."""
    assert isinstance(value, Quantity)
    return value.low, value.high


@pytest.mark.parametrize("often", ["every refill", "every top-up", "at each topping up"])
def test_topping_up_by_routine_opens_water_and_feed(often: str) -> None:
    """Feed at every refill, some not logged: water, refills, feed and doses are at least what was logged."""
    found = tub(routine(5, often, ml(10)))
    (dosing,) = found.doses

    assert bounds(dosing.total.value) == (10, None)
    assert bounds(dosing.times.value) == (1, None)
    assert bounds(found.refills.value) == (1, None)
    assert bounds(found.water.value)[1] is None
    assert (remarks_of(dosing.total), remarks_of(found.water)) == (
        "not counting doses at refills that were not logged",
        "not counting refills done as a routine",
    )


def test_nothing_is_divided_by_what_was_not_counted() -> None:
    """With top-ups between the entries, uptake and the time between fillings are not known, and why is said."""
    uptake = tub(routine(5, "every refill", ml(10))).uptake

    assert (uptake.per_day.value, uptake.interval.value) == (None, None)
    assert (remarks_of(uptake.per_day), remarks_of(uptake.interval)) == (
        "not counting refills done as a routine",
    ) * 2


def test_logged_refills_are_counted() -> None:
    """A routine at every logged refill leaves nothing open."""
    found = tub(routine(5, "every logged refill", ml(10)))
    (dosing,) = found.doses

    assert bounds(dosing.total.value) == (10, 10)
    assert bounds(found.refills.value) == (1, 1)


def test_a_weekly_dose_opens_the_feed_alone() -> None:
    """Feed by the week says nothing about water."""
    found = tub(routine(5, "every week", ml(10)))
    (dosing,) = found.doses

    assert bounds(dosing.total.value) == (10, None)
    assert bounds(found.refills.value) == (1, 1)


@pytest.mark.parametrize(
    "often",
    ["bei jedem Nachfüllen", "jede zweite Füllung", "mit dem Wasser", "beim Gießen", "bei jeder Auffuellung"],
)
def test_topping_up_is_understood_in_german(often: str) -> None:
    """A frequency in German that speaks of filling or of water opens water and refills."""
    found = tub(routine(5, often, ml(10)))

    assert bounds(found.refills.value) == (1, None)
    assert bounds(found.water.value)[1] is None


@pytest.mark.parametrize(
    ("often", "each"),
    [
        ("bei jedem Nachfüllen", True),
        ("bei jeder Füllung", True),
        ("jedes Auffüllen", True),
        ("bei jeder zweiten Füllung", False),
        ("jede Woche", False),
    ],
)
def test_each_filling_is_understood_in_german(often: str, *, each: bool) -> None:
    """Every filling is a dose at each logged one; every second filling is not."""
    assert routine(5, often, ml(10)).at_each_filling is each


def loose(tubs: tuple[str, ...] = ("left", "right"), *more: Event) -> Solution:
    """Two tubs, each filled and topped up, and a refill that names neither."""
    own = [event(Deed.WATER, day, tub=each, amount=litres(3)) for day in (1, 30) for each in tubs]
    return solution_of(
        run_of(setup_of(tubs=tubs), events=[*own, event(Deed.WATER, 20, amount=litres(2)), *more])
    )


def test_a_refill_of_no_tub_opens_each_tub() -> None:
    """It may have gone into either: each tub has from none of it to all of it, both together have it exactly."""
    found = loose()

    assert bounds(found.water.value) == (14000, 14000)
    assert [bounds(each.water.value) for each in found.tubs] == [(6000, 8000)] * 2
    assert [bounds(each.refills.value) for each in found.tubs] == [(2, 3)] * 2
    assert bounds(found.refills.value) == (5, 5)
    assert remarks_of(found.tubs[0].water) == "for one refill the tub was not recorded"


def test_a_change_of_no_tub_opens_each_tub() -> None:
    """A full change of the solution that names no tub may have been made in either, once."""
    found = loose(("left", "right"), event(Deed.CHANGE, 40, amount=litres(3)))

    assert [bounds(each.changes.value) for each in found.tubs] == [(0, 1)] * 2


def test_no_uptake_is_reckoned_across_a_refill_of_no_tub() -> None:
    """What a refill replaced is not known where another one may have gone into the tub before it."""
    uptake = loose().tubs[0].uptake

    assert (uptake.per_day.value, uptake.interval.value) == (None, None)
    assert remarks_of(uptake.per_day) == "for one refill the tub was not recorded"
