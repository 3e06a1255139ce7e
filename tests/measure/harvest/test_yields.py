"""Yields, timing and costs of a whole run."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import Money, Per, Rate
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Deed, Event, Pick
from sitegen.core.records.setup import Claims, Price, Prices, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.timing import days_against_claim
from sitegen.measure.harvest.yields import weight_per
from tests.measure.builders import (
    SYRUP,
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    pick,
    remarks_of,
    run_of,
    seeds,
    setup_of,
    some,
    unweighed,
)
from tests.measure.published import published

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 2, *FOUR)
ENDED = event(Deed.END, 100, kept=False)


def facts(*rows: Event | Pick, prices: Prices | None = None, stages: Any = (), **head: Any) -> Facts:
    """The facts of a run of 100 days; a head may be set up otherwise."""
    picks = [row for row in rows if isinstance(row, Pick)]
    events = [row for row in rows if isinstance(row, Event)]
    setup = replace(setup_of(**{k: head.pop(k) for k in ("tubs", "groups") if k in head}), **head)
    run = run_of(setup, events=[SOWN, *events, ENDED], picks=picks, milestones=stages)
    return measure(run, prices or Prices())


@pytest.mark.parametrize("row", published("harvest_ratios"), ids=lambda row: row["case"])
def test_published_ratios(row: dict[str, str]) -> None:
    """Grams a litre and a kilowatt hour as published yields give them."""
    assert weight_per(float(row["picked"]), float(row["amount"])) == pytest.approx(float(row["per"]))


def rate(amount: float, per: Per, step: float) -> Rate:
    """So many grams of something."""
    return Rate(exactly(amount, Dimension.MASS, step), per)


def test_a_litre_and_a_day() -> None:
    """The total over the water poured in, and over the days of the run."""
    filled = event(Deed.WATER, 0, amount=litres(10))
    per = facts(filled, pick(90, joint(*FOUR), grams(540))).harvest.per
    assert per.litre.value == rate(54, Per.LITRE, 0.1)
    assert per.day.value == rate(5.4, Per.DAY, 0.01)


def test_a_week_of_picking() -> None:
    """From the first pick to the last; one day of picking has no weeks."""
    per = facts(pick(80, joint("P1"), grams(100)), pick(94, joint("P2"), grams(40))).harvest.per
    assert per.week_of_picking.value == rate(70, Per.WEEK, 1)
    assert (
        remarks_of(facts(pick(80, joint("P1"), grams(100))).harvest.per.week_of_picking)
        == "picked on one day only"
    )


def test_plants_picked() -> None:
    """Only plants that a pick names; `some` plants are no number."""
    per = facts(pick(80, joint("P1", "P2"), grams(100))).harvest.per
    assert per.plant_picked.value == rate(50, Per.PLANT, 1)
    assert (
        remarks_of(facts(pick(80, some(), grams(100))).harvest.per.plant_picked)
        == "which plants were picked was not recorded"
    )


def test_stems() -> None:
    """A spot thinned to two has one or two stems: the yield of a stem lies between."""
    thinned = event(Deed.THIN, 12, joint(*FOUR), amount=exactly(2, Dimension.COUNT, 1), each=True)
    per = facts(thinned, pick(80, joint(*FOUR), grams(80))).harvest.per
    assert per.stem.value == Rate(Quantity(10, 20, Dimension.MASS, step=1), Per.STEM)
    assert (
        remarks_of(facts(pick(80, joint(*FOUR), grams(80))).harvest.per.stem)
        == "no spot kept more than one stem"
    )


def test_ground() -> None:
    """The footprint of the tubs; without one nothing is said of square metres."""
    head = setup_of()
    sides = exactly(50, Dimension.LENGTH, 1), exactly(40, Dimension.LENGTH, 1)
    (tub,) = head.tubs
    wide = replace(tub, system=replace(tub.system, footprint=sides))
    per = measure(run_of(replace(head, tubs=(wide,)), picks=[pick(80, joint("P1"), grams(100))])).harvest.per
    assert per.square_metre.value == rate(500, Per.SQUARE_METRE, 10)
    bare = facts(pick(80, joint("P1"), grams(100))).harvest.per.square_metre
    assert (bare.value, remarks_of(bare)) == (None, "the footprint was not recorded")


def test_nothing_weighed_gives_no_rate() -> None:
    """A pick that nobody weighed gives no yield of anything, and says why."""
    day = facts(pick(80, joint("P1"), unweighed())).harvest.per.day
    assert (day.value, remarks_of(day)) == (None, "")


def days(low: int, high: int | None = None) -> Quantity:
    """A time in whole days."""
    return Quantity(low, low if high is None else high, Dimension.DAYS, step=1)


def test_days_to_the_first_pick() -> None:
    """From sowing, and from the day that the log gives for transplanting."""
    timing = facts(event(Deed.TRANSPLANT, 21, joint(*FOUR)), pick(80, joint("P1"), grams(9))).harvest.timing
    assert (timing.from_sowing.value, timing.from_transplant.value) == (days(80), days(59))
    assert (
        remarks_of(facts(pick(80, joint("P1"), grams(9))).harvest.timing.from_transplant)
        == "transplanting was not recorded"
    )


def claimed(since: Any) -> Seed:
    """A packet that says 60 days."""
    return Seed(claims=Claims(days=Day.on(60), counted_from=since))


def test_against_the_packet() -> None:
    """Counted from what the packet counts from, and from nothing else."""
    rows = event(Deed.TRANSPLANT, 21, joint(*FOUR)), pick(80, joint("P1"), grams(9))
    sowing, transplant = (
        facts(*rows, seed=claimed(x)).harvest.timing.claim for x in ("sowing", "transplant")
    )
    assert (sowing.value, remarks_of(sowing)) == (
        days(20),
        "later; 60 days from sowing; who said so was not recorded",
    )
    assert (transplant.value, remarks_of(transplant)) == (
        days(-1),
        "earlier; 60 days from transplanting; who said so was not recorded",
    )


@pytest.mark.parametrize(
    ("since", "note"),
    [
        ("", "what they count from was not recorded"),
        (
            "transplant",
            "60 days from transplanting; who said so was not recorded; transplanting was not recorded",
        ),
    ],
)
def test_days_are_never_mixed(since: str, note: str) -> None:
    """A claim from transplanting is not held against days from sowing; one that does not say, against nothing."""
    packet = facts(pick(80, joint("P1"), grams(9)), seed=claimed(since)).harvest.timing.claim
    assert (packet.value, remarks_of(packet)) == (None, note)


def test_a_packet_of_75_days_from_transplant() -> None:
    """75 days from transplanting after six weeks of raising are 117 days from sowing."""
    assert days_against_claim(days(117 - 42), Day.on(75)) == days(0)


def test_window_of_grades() -> None:
    """Days from the last stage to picks of each grade, of plants picked by themselves."""
    stages = [milestone("first_fruit", 60, joint("P1", "P2")), milestone("ripe", 70, joint("P1"), line=71)]
    rows = (
        pick(74, joint("P1"), grams(9), grade="good"),
        pick(79, joint("P1"), grams(9), grade="good"),
        pick(90, joint("P1"), grams(9), grade="mealy"),
        pick(90, joint("P1", "P2"), grams(9), grade="mealy", line=99),
    )
    window = facts(*rows, stages=stages).harvest.timing.window
    assert [(w.key, w.figure.value, remarks_of(w.figure)) for w in window] == [
        ("good", days(4, 9), "since ripe fruit; 2 picks"),
        ("mealy", days(20), "since ripe fruit; 1 pick"),
    ]


PRICES = Prices("EUR", water=Price(0.5, litres(1)))
SYRUP_PRICE = Price(10.0, ml(500))


def test_costs() -> None:
    """Water and feed at their prices; what has no price is said."""
    rows = (
        event(Deed.WATER, 0, amount=litres(4)),
        event(Deed.FEED, 5, tub="tub", product="syrup", amount=ml(50)),
        pick(80, joint("P1"), grams(200)),
    )
    costs = facts(*rows, prices=PRICES, products=(replace(SYRUP, price=SYRUP_PRICE),)).harvest.costs
    assert (costs.water.value, costs.feed.value) == (Money(2, 2, "EUR"), Money(1, 1, "EUR"))
    assert (costs.total.value, remarks_of(costs.total)) == (Money(3, None, "EUR"), "not counting electricity")
    assert costs.per_100_g.value == Money(1.5, None, "EUR", per="100 g")
    assert remarks_of(costs.electricity) == "price not recorded: electricity"


def test_costs_of_an_unweighed_harvest() -> None:
    """At least so much was picked for at least so much: nothing bounds the cost of 100 g."""
    rows = (
        event(Deed.WATER, 0, amount=litres(4)),
        pick(80, joint("P1"), grams(200)),
        pick(90, joint("P1"), unweighed()),
    )
    found = facts(*rows, prices=PRICES).harvest.costs.per_100_g
    assert (found.value, remarks_of(found)) == (
        None,
        "not counting electricity and feed; one pick was not weighed",
    )


def test_no_prices() -> None:
    """Without prices nothing is said of costs."""
    costs = facts(pick(80, joint("P1"), grams(200))).harvest.costs
    assert [f.value for f in (costs.electricity, costs.feed, costs.water, costs.total, costs.per_100_g)] == [
        None
    ] * 5


def test_work_by_phase() -> None:
    """Visits, waterings and work by hand in each phase; each kind of work by itself."""
    rows = (
        event(Deed.SPROUTED, 5, joint(*FOUR), amount=exactly(4, Dimension.COUNT, 1)),
        event(Deed.THIN, 12, joint(*FOUR), amount=exactly(1, Dimension.COUNT, 1), each=True),
        event(Deed.WATER, 12, amount=litres(1), line=13),
        pick(80, joint("P1"), grams(9)),
    )
    work = facts(*rows).work
    found = {
        name: [(n.key, n.figure.value.low) for n in table]  # type: ignore[union-attr]
        for name, table in (
            ("visits", work.visits_by_phase),
            ("water", work.waterings_by_phase),
            ("hands", work.hands_on_by_phase),
            ("tasks", work.tasks),
        )
    }
    assert found == {
        "visits": [("germination", 1), ("seedling", 2), ("picking", 1), ("afterwards", 1)],
        "water": [("seedling", 1)],
        "hands": [("seedling", 1), ("picking", 1)],
        "tasks": [("thin_to", 1), ("harvest", 1)],
    }


def test_the_day_of_the_first_pick_by_the_packet() -> None:
    """The packet's days count on from its own beginning; where that was not recorded, no day is named."""
    moved = event(Deed.TRANSPLANT, 20, joint("P1"))
    by_sowing = facts(seed=claimed("sowing")).harvest.timing.expected
    by_transplant = facts(moved, seed=claimed("transplant")).harvest.timing.expected
    unknown = facts(seed=claimed("transplant")).harvest.timing.expected

    assert (by_sowing.value, remarks_of(by_sowing)) == (
        Day.on(60),
        "60 days from sowing; who said so was not recorded",
    )
    assert (by_transplant.value, remarks_of(by_transplant)) == (
        Day.on(80),
        "60 days from transplanting; who said so was not recorded",
    )
    assert (unknown.value, remarks_of(unknown)) == (None, "transplanting was not recorded")
