"""A tub that plants of two runs stand in: water, feed and current of each as an interval, and no rate."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from sitegen.core.facts.figure import Figure, Money
from sitegen.core.facts.tree import Facts
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Run
from sitegen.core.records.setup import Lamp, LampUse, Price, Prices, SharedTub
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure, with_other_logs
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    ml,
    pick,
    place,
    remarks_of,
    routine,
    run_of,
    setup_of,
)
from tests.measure.naming import by_name
from tests.measure.values import amount

START = dt.date(2025, 3, 1)
LAMP = Lamp("bar", "Bar", exactly(50, Dimension.POWER, 1))
USE = LampUse(LAMP, exactly(10, Dimension.DURATION, 1))  # half a kilowatt hour a day
SHARED = "the tub was shared with another run"
PRICES = Prices("EUR", Price(0.3, exactly(1, Dimension.ENERGY)), Price(0.5, litres(1)))


def a_run(name: str, other: str, later: int, *events: Event, lit: bool = False, **tables: object) -> Run:
    """A run in the one tub that it shares with another, sown so many days after the first."""
    setup = setup_of(start=Start(START + dt.timedelta(days=later), "day"))
    setup = replace(setup, id=name, shares=(SharedTub("tub", other, place(3)),))
    lights = [Light(Day.on(0), None, place(2), "tub", USE)] if lit else []
    return run_of(setup, events=list(events), lights=lights, **tables)


def both(one: Run, two: Run) -> tuple[Facts, Facts]:
    """The facts of two runs that share a tub."""
    return tuple(  # type: ignore[return-value]
        measure(with_other_logs(run, {other.id: other}), PRICES) for run, other in ((one, two), (two, one))
    )


def bounds(figure: Figure) -> tuple[float, float | None]:
    """Both ends of a quantity."""
    return amount(figure).low, amount(figure).high


FIRST = (
    event(Deed.WATER, 0, filled=True),  # 8 L
    event(Deed.WATER, 5, amount=litres(1)),
    event(Deed.FEED, 5, tub="tub", product="syrup", amount=ml(10)),
    event(Deed.WATER, 20, amount=litres(2)),
    event(Deed.END, 40, kept=False),
)
SECOND = (
    event(Deed.WATER, 0, amount=litres(3)),
    event(Deed.FEED, 0, tub="tub", product="syrup", amount=ml(5)),
    event(Deed.WATER, 29, amount=litres(4)),
    event(Deed.WATER, 31, amount=litres(5)),  # day 41 of the first run, which had ended
    event(Deed.END, 50, kept=False),
)


def test_water_lies_between_that_of_the_days_alone_and_all() -> None:
    """The first ten days are of the first run alone, the last of the second: the rest may be of either crop."""
    first, second = both(a_run("one", "two", 0, *FIRST), a_run("two", "one", 10, *SECOND))

    assert bounds(first.solution.water) == (9000, 8000 + 1000 + 2000 + 3000 + 4000)
    assert bounds(second.solution.water) == (5000, 3000 + 4000 + 5000 + 8000 + 1000 + 2000)
    assert bounds(first.solution.tubs[0].water) == bounds(first.solution.water)
    assert remarks_of(first.solution.water) == SHARED


def test_what_is_put_in_is_counted_once() -> None:
    """What is certainly of each run is together no more than what both logs have, which bounds each of them."""
    first, second = both(a_run("one", "two", 0, *FIRST), a_run("two", "one", 10, *SECOND))
    whole = 8000 + 1000 + 2000 + 3000 + 4000 + 5000

    for subject in ("solution.water", "solution.tubs.tub.water"):
        lows = [amount(by_name(facts)[subject]).low for facts in (first, second)]
        assert sum(lows) <= whole


def test_a_filling_and_a_dose_of_another_log_may_be_one_of_this_tub() -> None:
    """Refills, doses and how often they were given: those of this log at least, at most those of both."""
    first, second = both(a_run("one", "two", 0, *FIRST), a_run("two", "one", 10, *SECOND))
    (tub,), (other,) = first.solution.tubs, second.solution.tubs

    assert bounds(tub.refills) == (2, 4)
    assert bounds(other.refills) == (3, 5)
    assert bounds(tub.doses[0].total) == (10, 15)
    assert bounds(other.doses[0].total) == (0, 15)
    assert (bounds(tub.doses[0].times), bounds(other.doses[0].times)) == ((1, 2), (1, 2))


def test_a_product_of_the_other_log_is_listed() -> None:
    """A run whose own log has no feed says at most that of the other log, and never that none was given."""
    first, second = both(a_run("one", "two", 0, *FIRST), a_run("two", "one", 10))
    (dosing,) = second.solution.tubs[0].doses

    assert (dosing.product, bounds(dosing.total), bounds(dosing.times)) == ("syrup", (0, 10), (0, 1))
    assert "no feed was logged" not in remarks_of(second.harvest.costs.feed)
    assert bounds(first.solution.tubs[0].doses[0].total) == (10, 10)


def test_the_lamp_burns_once() -> None:
    """Current: of ten days alone to all forty, and of ten days alone to all fifty."""
    first, second = both(a_run("one", "two", 0, *FIRST, lit=True), a_run("two", "one", 10, *SECOND, lit=True))

    assert bounds(first.climate.energy) == (5, 20)
    assert bounds(second.climate.energy) == (pytest.approx(9.5), 25)
    assert SHARED in remarks_of(first.climate.energy)


def test_no_rate_is_given_of_a_shared_tub() -> None:
    """Nothing a litre, a kilowatt hour, a plant and day, 100 g or a square metre."""
    picks = [pick(39, joint("P1"), grams(100))]
    first, _ = both(a_run("one", "two", 0, *FIRST, lit=True, picks=picks), a_run("two", "one", 10, *SECOND))
    names = [
        *(f"harvest.per.{name}" for name in ("litre", "kilowatt_hour", "kilogram", "mol", "square_metre")),
        *(f"solution.tubs.tub.uptake.{name}" for name in ("per_day", "per_plant_day", "interval")),
        *(f"solution.tubs.tub.trend.{name}" for name in ("ec", "ph")),
        "solution.tubs.tub.doses.syrup.per_litre",
        "harvest.costs.per_100_g",
    ]
    found = by_name(first)

    assert {name: (found[name].value, remarks_of(found[name])) for name in names} == dict.fromkeys(
        names, (None, SHARED)
    )


def test_costs_are_an_interval() -> None:
    """Water and electricity at their prices, from those of the days alone to all."""
    first, _ = both(a_run("one", "two", 0, *FIRST, lit=True), a_run("two", "one", 10, *SECOND, lit=True))
    costs = first.harvest.costs

    assert (costs.water.value, costs.electricity.value) == (
        Money(4.5, 9.0, "EUR"),
        Money(1.5, 6.0, "EUR"),
    )
    assert SHARED in remarks_of(costs.total)


@pytest.mark.parametrize("start", [Start(), Start(START, "month")])
def test_without_dates_all_may_be_of_either(start: Start) -> None:
    """Where the days of two runs cannot be compared, nothing is of one of them alone."""
    one = a_run("one", "two", 0, *FIRST)
    two = a_run("two", "one", 10, *SECOND)
    first, _ = both(replace(one, setup=replace(one.setup, start=start)), two)

    # The filling of day 0 may have topped up what the other had in it.
    assert first.solution.water.value is None
    assert remarks_of(first.solution.water) == SHARED


def test_a_routine_of_the_other_log_opens_the_sum() -> None:
    """Top-ups that the other log did not count leave water and feed of both without an upper bound."""
    two = a_run("two", "one", 10, *SECOND, routines=[routine(5, "every refill", ml(5))])
    first, _ = both(a_run("one", "two", 0, *FIRST), two)

    assert bounds(first.solution.water) == (9000, None)
    assert bounds(first.solution.tubs[0].doses[0].total) == (10, None)


UNCOUNTED = "the tub was shared with another run, whose log is not counted"


def test_another_run_that_is_not_read_opens_the_sum() -> None:
    """Nobody knows what a log has that is not read: the reason is told, and no sum of feed passes for all of it."""
    one = a_run("one", "two", 0, *FIRST)
    facts = measure(with_other_logs(one, {"two": None}), PRICES)
    (tub,) = facts.solution.tubs

    assert (facts.solution.water.value, remarks_of(facts.solution.water)) == (None, UNCOUNTED)
    assert (bounds(tub.refills), remarks_of(tub.refills)) == ((2, None), UNCOUNTED)
    assert (tub.doses[0].total.value, bounds(tub.doses[0].times)) == (None, (1, None))


def test_without_feed_of_its_own_beside_a_log_that_is_not_read() -> None:
    """A run with no feed in its log does not say that none was given."""
    facts = measure(with_other_logs(a_run("one", "two", 0, FIRST[0]), {"two": None}), PRICES)

    assert remarks_of(facts.harvest.costs.feed) == UNCOUNTED


def test_feed_of_a_second_tub_is_the_least_beside_a_log_that_is_not_read() -> None:
    """What was given in a tub of its own is at least what feed has cost: another log may have given more."""
    setup = replace(setup_of(tubs=("left", "right"), start=Start(START, "day")), id="one")
    priced = tuple(replace(each, price=Price(2.0, ml(10))) for each in setup.products)
    setup = replace(setup, products=priced, shares=(SharedTub("right", "two", place(3)),))
    fed = event(Deed.FEED, 5, tub="left", product=priced[0].id, amount=ml(10))
    facts = measure(with_other_logs(run_of(setup, events=[fed]), {"two": None}), PRICES)

    assert facts.harvest.costs.feed.value == Money(2.0, None, "EUR")
    assert (
        remarks_of(facts.harvest.costs.feed)
        == "right: a tub shared with another run, whose log is not counted"
    )


def test_a_tub_of_two_names_is_one() -> None:
    """Tubs that two runs name otherwise are the same, in the order in which they are written."""
    setup = replace(setup_of(tubs=("left", "right"), start=Start(START, "day")), id="one")
    setup = replace(setup, shares=(SharedTub("right", "two", place(3)),))
    own = [event(Deed.WATER, 3, tub=tub, amount=litres(1)) for tub in ("left", "right")]
    first, _ = both(run_of(setup, events=own), a_run("two", "one", 0, event(Deed.WATER, 4, amount=litres(2))))
    left, right = first.solution.tubs

    assert (bounds(left.water), remarks_of(left.water)) == ((1000, 1000), "")
    assert (bounds(right.water), remarks_of(right.water)) == (
        (0, 3000),
        "right: a tub shared with another run",
    )
    assert bounds(first.solution.water) == (1000, 4000)
