"""Costs: intervals of money, what has no price, and the rows of both sides."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Money
from sitegen.core.facts.indices import Costs
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Event, Pick
from sitegen.core.records.setup import Lamp, LampUse, Price, Prices, Product
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.costs import cost_at_price, cost_per_100_g, sum_of_costs
from tests.measure.builders import (
    FRUITING,
    SYRUP,
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
    unweighed,
)
from tests.measure.values import lines

KWH = Price(0.3, exactly(1, Dimension.ENERGY))
WATER = Price(0.5, litres(1))
PRICES = Prices("EUR", electricity=KWH, water=WATER)
SYRUP_AT_2_CENTS = replace(SYRUP, price=Price(10.0, ml(500)))
LAMP = Lamp("bar", "Bar", replace(exactly(24, Dimension.POWER, 1), about=True))
LIT = Light(Day.on(0), None, place(1), "tub", LampUse(LAMP, exactly(16, Dimension.DURATION, 1)))
FILLED = event(Deed.WATER, 0, amount=litres(4))
ENDED = event(Deed.END, 30, kept=False)
PICKED = pick(25, joint("P1"), grams(200))
# 24 W for 16 hours on 30 days are 11.52 kWh: with this price, 1 euro; by definition.
BRIGHT = replace(LIT, use=replace(LIT.use, lamp=replace(LAMP, power=exactly(24, Dimension.POWER, 1))))
ALL_PRICES = replace(PRICES, electricity=Price(1.0, exactly(11.52, Dimension.ENERGY)))


def fed(day: int, amount: Quantity, product: str = "syrup", deed: Deed = Deed.FEED) -> Event:
    """Some product into the tub."""
    return event(deed, day, None, 1500 + day, tub="tub", product=product, amount=amount)


def costs(
    *rows: Event | Pick | Light | Routine,
    prices: Prices = PRICES,
    products: tuple[Product, ...] = (SYRUP_AT_2_CENTS,),
    **head: Any,
) -> Costs:
    """What a run of 30 days cost."""
    return measure(
        run_of(
            replace(setup_of(), products=products, **head),
            events=[*(row for row in rows if isinstance(row, Event)), ENDED],
            picks=[row for row in rows if isinstance(row, Pick)],
            lights=[row for row in rows if isinstance(row, Light)],
            routines=[row for row in rows if isinstance(row, Routine)],
        ),
        prices,
    ).harvest.costs


def euros(low: float, high: float | None, *, about: bool = False, per: str = "") -> Any:
    """A sum of money, to the last digits of floats."""
    return Money(
        pytest.approx(low),  # type: ignore[arg-type]
        None if high is None else pytest.approx(high),  # type: ignore[arg-type]
        "EUR",
        about,
        per,
    )


def test_formulas_of_costs() -> None:
    """11.52 kWh at 0.30 a kWh, 50 ml at 9.50 for 500 ml, their sum and 100 g of it; by definition."""
    assert cost_at_price(11.52, 0.3, 1) == pytest.approx(3.456)
    assert cost_at_price(50, 9.5, 500) == pytest.approx(0.95)
    assert sum_of_costs([3.456, 0.95]) == pytest.approx(4.406)
    assert cost_per_100_g(4.406, 250) == pytest.approx(1.7624)


def test_all_costs_of_a_run() -> None:
    """Current, feed, acid and water, their sum, 100 g of the harvest; about where the power is."""
    found = costs(LIT, FILLED, fed(5, ml(50)), fed(6, ml(5), deed=Deed.ADJUST), PICKED)
    assert found.electricity.value == euros(3.456, 3.456, about=True)
    assert found.water.value == euros(2, 2)
    assert found.feed.value == euros(1.1, 1.1)
    assert found.total.value == euros(6.556, 6.556, about=True)
    assert found.per_100_g.value == euros(3.278, 3.278, about=True, per="100 g")
    assert [lines(f) for f in (found.electricity, found.water, found.feed, found.total, found.per_100_g)] == [
        [1],
        [1000],
        [1505, 1506],
        [1, 1000, 1505, 1506],
        [1, 1000, 1505, 1506, 2025],
    ]
    figures = (found.electricity, found.feed, found.water, found.total, found.per_100_g, found.value)
    assert [(f.name, f.formula) for f in figures] == [
        ("harvest.costs.electricity", "cost_at_price"),
        ("harvest.costs.feed", "cost_at_price"),
        ("harvest.costs.water", "cost_at_price"),
        ("harvest.costs.total", "sum_of_costs"),
        ("harvest.costs.per_100_g", "cost_per_100_g"),
        ("harvest.costs.value", "cost_at_price"),
    ]


def known(*rows: Event | Pick | Light | Routine, **more: Any) -> Costs:
    """The costs of a run of which all is known: 1 for current, 1 for feed and 2 for water."""
    return costs(BRIGHT, FILLED, fed(5, ml(50)), *rows, prices=ALL_PRICES, **more)


@pytest.mark.parametrize("lacking", [BRIGHT, FILLED, fed(5, ml(50))])
def test_a_cost_that_is_not_known_opens_the_sum(lacking: Event | Light) -> None:
    """Without electricity, water or feed the sum and 100 g have no upper bound; with all three they have one."""
    rows = [row for row in (BRIGHT, FILLED, fed(5, ml(50)), PICKED) if row != lacking]
    found = costs(*rows, prices=ALL_PRICES)
    lost = 2 if lacking == FILLED else 1
    assert found.total.value == euros(4 - lost, None)
    assert found.per_100_g.value == euros(2 - lost / 2, None, per="100 g")
    assert (known(PICKED).total.value, known(PICKED).per_100_g.value) == (
        euros(4, 4),
        euros(2, 2, per="100 g"),
    )


def test_a_cost_of_at_least_nothing_is_not_given() -> None:
    """Nothing measured has no cost, nor has 100 g where neither cost nor harvest has an upper bound."""
    found = costs(event(Deed.WATER, 9), fed(5, unknown(Dimension.VOLUME)))
    assert (found.water.value, remarks_of(found.water)) == (None, "one refill was not measured")
    assert (found.feed.value, remarks_of(found.feed)) == (None, "one dose was not measured")
    opened = costs(FILLED, pick(25, joint("P1"), grams(200)), pick(26, joint("P1"), unweighed())).per_100_g
    assert (opened.value, lines(opened), remarks_of(opened)) == (
        None,
        [],
        "not counting electricity and feed; one pick was not weighed",
    )
    priced = replace(FRUITING, price=Price(4.0, grams(1000)))
    assert costs(pick(26, joint("P1"), unweighed()), crop=priced).value.value is None


def test_a_sum_of_at_least_nothing_is_not_given() -> None:
    """Up to so much of one product, and nobody knows how much of another: together at least nothing, which is no cost."""
    acid = replace(SYRUP_AT_2_CENTS, id="acid")
    up_to = fed(5, replace(ml(7), low=0.0))
    unknown_ = fed(6, unknown(Dimension.VOLUME), "acid", Deed.ADJUST)
    found = costs(up_to, unknown_, prices=Prices("EUR"), products=(SYRUP_AT_2_CENTS, acid))

    assert costs(up_to, prices=Prices("EUR")).feed.value == euros(0, 0.14)
    assert (found.feed.value, found.total.value) == (None, None)


def test_amounts_by_eye_make_costs_about() -> None:
    """Water by eye and a harvest weighed by eye have no exact cost."""
    found = known(event(Deed.WATER, 9, amount=replace(litres(2), by_eye=True)), PICKED)
    assert (found.water.value, found.total.value) == (euros(3, 3, about=True), euros(5, 5, about=True))
    picked = pick(25, joint("P1"), grams(200, by_eye=True))
    assert known(picked).per_100_g.value == euros(2, 2, about=True, per="100 g")


def test_what_was_not_measured_opens_the_costs() -> None:
    """Water of unknown amount leaves water, sum and 100 g without an upper bound."""
    found = costs(FILLED, event(Deed.WATER, 9), fed(5, ml(50)), PICKED)
    assert (found.water.value, found.total.value) == (euros(2, None), euros(3, None))
    assert found.per_100_g.value == euros(1.5, None, per="100 g")
    assert found.electricity.value is None


def test_a_product_without_a_price() -> None:
    """Of two products one without a price makes the feed a lower bound, with the rows of the other alone."""
    bloom = Product("bloom", "Bloom", "feed", price=None)
    found = costs(fed(5, ml(50)), fed(6, ml(9), "bloom"), products=(SYRUP_AT_2_CENTS, bloom)).feed
    assert (found.value, lines(found)) == (euros(1, None), [1505])
    for products in ((bloom,), ()):
        bare = costs(fed(6, ml(9), "bloom"), products=products).feed
        assert (bare.value, lines(bare)) == (None, [])
    assert costs(FILLED).feed.value is None


def test_a_price_in_another_kind_of_unit() -> None:
    """A price by weight says nothing of a volume, nor does one for nothing of it."""
    for price in (Price(10.0, grams(500)), Price(10.0, ml(0))):
        assert costs(fed(5, ml(50)), products=(replace(SYRUP, price=price),)).feed.value is None
    assert costs(FILLED, prices=replace(PRICES, water=Price(0.5, grams(1)))).water.value is None


def test_a_price_for_a_range_counts_with_its_middle() -> None:
    """10 for 400 to 600 ml are 10 for 500 ml."""
    between = Price(10.0, Quantity(400, 600, Dimension.VOLUME))
    assert costs(fed(5, ml(50)), products=(replace(SYRUP, price=between),)).feed.value == euros(1, 1)


def test_prices_need_a_currency() -> None:
    """Without a currency, or without a price, nothing is said of a cost."""
    nowhere = costs(LIT, FILLED, fed(5, ml(50)), PICKED, prices=replace(PRICES, currency=""))
    assert [f.value for f in (nowhere.electricity, nowhere.water, nowhere.feed, nowhere.total)] == [None] * 4
    free = costs(LIT, FILLED, PICKED, prices=Prices("EUR"))
    assert [f.value for f in (free.electricity, free.water, free.total, free.per_100_g)] == [None] * 4
    assert (lines(nowhere.total), lines(free.water)) == ([], [])


@pytest.mark.parametrize(
    ("picks", "low", "high"),
    [
        ((PICKED,), 2, 2),
        ((PICKED, pick(26, joint("P1"), grams(0))), 2, 2),
        ((PICKED, pick(26, joint("P1"), unweighed())), 0, 2),
        ((pick(25, joint("P1"), Quantity(100, 200, Dimension.MASS)),), 2, 4),
        ((pick(25, joint("P1"), Quantity(0, 200, Dimension.MASS)),), 2, None),
    ],
)
def test_100_g_of_an_uncertain_harvest(picks: tuple[Pick, ...], low: float, high: float | None) -> None:
    """The more was picked the less 100 g cost: bounds change places, and fall away where a weight has none."""
    assert known(*picks).per_100_g.value == euros(low, high, per="100 g")


def test_no_harvest_has_no_costs_of_100_g() -> None:
    """Without picks, or with picks of nothing, 100 g have no cost; the run has."""
    for rows in ((), (pick(25, joint("P1"), grams(0)),)):
        found = known(*rows)
        assert (found.per_100_g.value, lines(found.per_100_g), found.total.value) == (None, [], euros(4, 4))


def test_an_about_of_the_harvest() -> None:
    """Weights that are about make the cost of 100 g an about, not that of the run."""
    found = known(pick(25, joint("P1"), grams(200, about=True)))
    assert (found.per_100_g.value, found.total.value) == (euros(2, 2, about=True, per="100 g"), euros(4, 4))


def test_the_value_of_a_harvest() -> None:
    """What the harvest would have cost to buy, where the crop has a price."""
    priced = replace(FRUITING, price=Price(4.0, grams(1000)))
    picks = (pick(25, joint("P1"), grams(200)), pick(26, joint("P1"), Quantity(100, 300, Dimension.MASS)))
    found = costs(*picks, crop=priced).value
    assert (found.value, lines(found)) == (euros(1.2, 2), [2025, 2026])
    assert (costs(*picks).value.value, costs(crop=priced).value.value) == (None, None)


def test_doses_by_routine_open_the_feed() -> None:
    """Doses that were not logged each time leave the cost of feed without an upper bound."""
    found = costs(fed(5, ml(50)), routine(5, "every week", ml(10)))
    assert (found.feed.value, remarks_of(found.feed)) == (
        euros(1, None),
        "not counting doses given as a routine",
    )
    others = replace(routine(5, "every week", ml(10)), product="bloom")
    assert costs(fed(5, ml(50)), others).feed.value == euros(1, None)


def test_a_feed_without_a_cost_names_the_routine_too() -> None:
    """Where the only dose was not measured, the doses by routine that nobody counted are said as well."""
    found = costs(
        fed(5, unknown(Dimension.VOLUME)), replace(routine(5, "every week", ml(10)), product="bloom")
    )
    assert (found.feed.value, remarks_of(found.feed)) == (
        None,
        "one dose was not measured; not counting doses given as a routine",
    )


def test_doses_of_a_counted_routine_are_in_the_feed() -> None:
    """50 ml by hand and 50 ml at the one refill of the routine: 2 euros, with nothing said to be missing."""
    refill = event(Deed.WATER, 9, amount=litres(1))
    found = costs(FILLED, fed(5, ml(50)), refill, routine(6, "every logged refill", ml(50))).feed
    assert (found.value, found.remarks) == (euros(2, 2), ())
    brushed = replace(routine(6, "daily", ml(50)), what="pollinate", product="")
    assert costs(fed(5, ml(50)), brushed).feed.remarks == ()
    at_each = costs(FILLED, fed(5, ml(50)), refill, routine(6, "every refill", ml(50))).feed
    assert (at_each.value, remarks_of(at_each)) == (
        euros(2, None),
        "not counting doses at refills that were not logged",
    )


@pytest.mark.parametrize(
    ("often", "why"),
    [
        ("every week", "not counting doses given as a routine"),
        ("every refill", "not counting doses at refills that were not logged"),
        ("every logged refill", "no refill was logged while feed was a routine"),
    ],
)
def test_a_run_fed_by_routine_is_not_without_feed(often: str, why: str) -> None:
    """Where a routine gave feed and no dose is known, the cost says why instead of "no feed was logged"."""
    found = costs(FILLED, routine(5, often, ml(10))).feed
    assert (found.value, remarks_of(found)) == (None, why)


@given(st.lists(st.tuples(st.integers(1, 9), st.booleans()), min_size=1, max_size=5), st.floats(0.1, 5))
def test_costs_are_amounts_at_their_price(fillings: list[tuple[int, bool]], price: float) -> None:
    """Water costs its litres times the price, and no less for a filling that nobody measured."""
    events = [
        event(Deed.WATER, n, None, n + 1, amount=litres(litre) if known else None)
        for n, (litre, known) in enumerate(fillings)
    ]
    least = price * sum(litre for litre, known in fillings if known)
    found = costs(*events, prices=Prices("EUR", water=Price(price, litres(1))))
    if least:
        assert found.water.value == euros(least, least if all(known for _, known in fillings) else None)
        assert found.total.value == euros(least, None)
    else:
        assert (found.water.value, found.total.value) == (None, None)
