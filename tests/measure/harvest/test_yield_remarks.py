"""What is said with yields, times and costs."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, Literal

import pytest

from sitegen.core.facts.figure import NOT_SAID, Label, Remark, RemarkCode, figures, remark
from sitegen.core.facts.indices import HarvestPer
from sitegen.core.facts.tree import Harvest
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Pick
from sitegen.core.records.setup import Claims, Lamp, LampUse, Price, Prices, Product, Seed, Setup
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import (
    FRUITING,
    SYRUP,
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    pick,
    place,
    routine,
    run_of,
    seeds,
    setup_of,
    some,
    unweighed,
)

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 2, *FOUR)
ENDED = event(Deed.END, 100, kept=False)
PICKED = pick(80, joint("P1"), grams(100))
UNWEIGHED = pick(81, joint("P1"), unweighed())
NOT_WEIGHED = remark("picks_not_weighed", n=1)
Row = Event | Pick | MilestoneRow | Light | Routine


def harvest(
    *rows: Row, setup: Setup | None = None, prices: Prices | None = None, ended: bool = True
) -> Harvest:
    """The harvest of a run of 100 days."""
    events = [SOWN, *(row for row in rows if isinstance(row, Event)), *([ENDED] if ended else [])]
    run = run_of(
        setup or setup_of(),
        events=events,
        picks=[row for row in rows if isinstance(row, Pick)],
        milestones=[row for row in rows if isinstance(row, MilestoneRow)],
        lights=[row for row in rows if isinstance(row, Light)],
        routines=[row for row in rows if isinstance(row, Routine)],
    )
    return measure(run, prices or Prices()).harvest


def per(*rows: Row, **more: Any) -> HarvestPer:
    """Its yields."""
    return harvest(*rows, **more).per


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


RATES = tuple(each.name for each in fields(HarvestPer))


def remarks_of(found: HarvestPer) -> dict[str, tuple[Remark, ...]]:
    """The remarks of each yield."""
    return {name: getattr(found, name).remarks for name in RATES}


def test_why_a_yield_is_missing() -> None:
    """What is not known of the other side is said; without a harvest, that there was none."""
    assert remarks_of(per(PICKED)) == {
        "stem": said("one_stem_a_spot"),
        "plant_picked": (),
        "square_metre": said("footprint_not_recorded"),
        "litre": said("not_recorded"),
        "kilowatt_hour": said("lamp_not_recorded"),
        "kilogram": said("lamp_not_recorded"),
        "mol": said("footprint_not_recorded"),
        "day": (),
        "plant_day": (),
        "week_of_picking": said("picked_on_one_day"),
    }
    assert per(pick(80, some(), grams(9))).plant_picked.remarks == said("picked_plants_not_kept")
    assert remarks_of(per()) == dict.fromkeys(RATES, said("no_harvest"))


def test_what_is_uncertain_of_both_sides_is_said() -> None:
    """Remarks of the harvest come first, then those of the other side; a yield that is missing says only why."""
    water = event(Deed.WATER, 3, amount=litres(10))
    assert per(PICKED, UNWEIGHED, water).litre.remarks == (NOT_WEIGHED,)
    more = event(Deed.WATER, 9)
    not_measured = remark("fillings_not_measured", n=1)
    assert per(PICKED, water, more).litre.remarks == (not_measured,)
    assert per(PICKED, UNWEIGHED, water, more).litre.remarks == (NOT_WEIGHED, not_measured)
    assert per(PICKED, UNWEIGHED).stem.remarks == said("one_stem_a_spot")
    assert per(PICKED, UNWEIGHED, ended=False).day.remarks == (NOT_WEIGHED, remark("to_last_entry"))


LAMP = Lamp(
    "bar",
    "Bar",
    exactly(24, Dimension.POWER, 1),
    exactly(200, Dimension.PHOTON_FLUX, 10),
    exactly(30, Dimension.LENGTH, 1),
)
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1), exactly(30, Dimension.LENGTH, 1))
LIT = Light(Day.on(0), None, place(1), "t1", USE)


def test_light_of_tubs() -> None:
    """What is not known of any tub's light is said once."""
    setup = setup_of(tubs=("t1", "t2", "t3"))
    side = exactly(50, Dimension.LENGTH, 1)
    first, *others = setup.tubs
    wide = replace(first, system=replace(first.system, footprint=(side, side)))
    ground = replace(setup, tubs=(wide, *others))
    dark = replace(others[0], system=wide.system)
    assert per(PICKED, LIT, setup=ground).mol.remarks == said("footprint_not_recorded")
    assert per(PICKED, LIT, setup=replace(ground, tubs=(wide, dark, others[1]))).mol.remarks == said(
        "lamp_not_recorded", "footprint_not_recorded"
    )
    assert per(PICKED, LIT, setup=replace(ground, tubs=(wide, dark))).mol.remarks == said("lamp_not_recorded")
    assert per(PICKED, LIT, setup=replace(ground, tubs=(wide,))).mol.remarks == ()


def days(low: int, high: int | None = None, *, about: bool = False) -> Quantity:
    """A time in whole days."""
    return Quantity(low, low if high is None else high, Dimension.DAYS, about=about, step=1)


CLAIM = Day(55, 60)


def claimed(since: Literal["sowing", "transplant", ""], span: Day = CLAIM) -> Setup:
    """A head with a packet."""
    return replace(setup_of(), seed=Seed(claims=Claims(days=span, counted_from=since, by="the grower")))


BY_GROWER = remark("claimed_by", who="the grower")


def test_days_to_the_first_pick() -> None:
    """A later sowing is said with the days from sowing alone; what is missing is said."""
    moved = event(Deed.TRANSPLANT, 20, joint(*FOUR))
    again = harvest(PICKED, moved, seeds(9, 1, "P1")).timing
    assert (again.from_sowing.remarks, again.from_transplant.remarks) == (said("sown_again_later"), ())
    once = harvest(PICKED).timing
    assert (once.from_sowing.remarks, once.from_transplant.remarks) == (
        (),
        said("transplanting_not_recorded"),
    )
    nothing = harvest(moved).timing
    for figure in (nothing.from_sowing, nothing.from_transplant, nothing.picking):
        assert figure.remarks == said("no_harvest")
    assert once.picking.remarks == ()


@pytest.mark.parametrize(
    ("day", "remarks"),
    [(54, said("earlier_than_claim")), (55, ()), (58, ()), (60, ()), (61, said("later_than_claim"))],
)
def test_against_the_packet(day: int, remarks: tuple[Remark, ...]) -> None:
    """Earlier or later is said only where it is certain, then what the packet says."""
    packet = harvest(pick(day, joint("P1"), grams(9)), setup=claimed("sowing")).timing.claim
    assert packet.remarks == (*remarks, remark("claimed_days_from_sowing", days=days(55, 60)), BY_GROWER)


def test_packets_without_comparison() -> None:
    """A packet without days, or that does not say from when, or from what was not recorded."""
    span = Day(55, 60, about=True)
    transplant = remark("claimed_days_from_transplant", days=days(55, 60, about=True))
    not_moved = harvest(PICKED, setup=claimed("transplant", span)).timing
    assert not_moved.claim.remarks == (transplant, BY_GROWER, remark("transplanting_not_recorded"))
    assert not_moved.expected.remarks == said("transplanting_not_recorded")
    unsaid = harvest(PICKED, setup=claimed("")).timing
    assert unsaid.claim.remarks == said("claimed_days_from_unsaid")
    assert unsaid.expected.remarks == said("no_days_claimed_or_from_when")
    for setup in (setup_of(), replace(setup_of(), seed=Seed())):
        bare = harvest(PICKED, setup=setup).timing
        assert bare.claim.remarks == said("no_days_claimed")
        assert bare.expected.remarks == said("no_days_claimed_or_from_when")


def test_the_expected_day() -> None:
    """The packet's days, and what they count from."""
    moved = event(Deed.TRANSPLANT, 20, joint(*FOUR))
    assert harvest(moved, setup=claimed("sowing")).timing.expected.remarks == (
        remark("from_sowing", days=days(55, 60)),
        BY_GROWER,
    )
    assert harvest(moved, setup=claimed("transplant", Day.on(60))).timing.expected.remarks == (
        remark("from_transplant", days=days(60)),
        BY_GROWER,
    )


def test_windows() -> None:
    """The stage that a window runs from, and how many picks are in it."""
    rows = (
        milestone("first_fruit", 60, joint("P1")),
        pick(74, joint("P1"), grams(9), grade="Good"),
        pick(75, joint("P1"), grams(9), grade="Good"),
        pick(90, joint("P1"), grams(9)),
    )
    since = remark("since_stage", stage=Label("first_fruit", "stage"))
    assert [(w.label, w.figure.remarks) for w in harvest(*rows).timing.window] == [
        (Label("Good"), (since, remark("picks", n=2))),
        (NOT_SAID, (since, remark("picks", n=1))),
    ]


PRICES = Prices("EUR", Price(0.3, exactly(1, Dimension.ENERGY)), Price(0.5, litres(1)))
PRICED = replace(SYRUP, price=Price(10.0, ml(500)))
BLOOM = Product("bloom", "Bloom", "feed")
WATER = event(Deed.WATER, 0, amount=litres(4))


def fed(day: int, product: str = "syrup") -> Event:
    """A dose of some product."""
    return event(Deed.FEED, day, None, 1500 + day, tub="tub", product=product, amount=ml(9))


def costs(*rows: Row, prices: Prices = PRICES, **head: Any) -> dict[str, tuple[Remark, ...]]:
    """The remarks of each cost."""
    setup = replace(setup_of(), products=(PRICED, BLOOM), **head)
    found = harvest(*rows, setup=setup, prices=prices).costs
    return {figure.name.rpartition(".")[2]: figure.remarks for figure in figures(found)}


def without(*things: str) -> Remark:
    """What a sum of costs leaves out."""
    return remark("without_things", things=tuple(Label(thing, "cost") for thing in things))


def no_price(thing: Label) -> tuple[Remark, ...]:
    """That a price is not known."""
    return (remark("price_not_recorded", what=thing),)


def test_costs_that_are_missing() -> None:
    """Each cost says what is missing; the sum names what is not in it."""
    lacking = without("electricity", "feed", "water")
    assert costs(prices=Prices()) == {
        "electricity": no_price(Label("electricity", "cost")),
        "feed": said("no_feed"),
        "water": no_price(Label("water", "cost")),
        "total": (lacking,),
        "per_100_g": (lacking,),
        "value": no_price(Label("Physalis")),
    }
    assert costs() == {
        "electricity": said("lamp_not_recorded"),
        "feed": said("no_feed"),
        "water": said("not_recorded"),
        "total": (lacking,),
        "per_100_g": (lacking,),
        "value": no_price(Label("Physalis")),
    }


def test_costs_that_are_known() -> None:
    """Remarks of the amount stand with its cost; those of sum and harvest with the cost of 100 g."""
    lit = replace(LIT, tub="tub")
    found = costs(WATER, event(Deed.WATER, 9), lit, fed(5), PICKED, UNWEIGHED)
    assert found["water"] == (remark("fillings_not_measured", n=1),)
    assert (found["electricity"], found["feed"], found["total"]) == ((), (), ())
    assert found["per_100_g"] == (NOT_WEIGHED,)
    part = costs(WATER, PICKED, UNWEIGHED)
    assert part["per_100_g"] == (without("electricity", "feed"), NOT_WEIGHED)
    assert (
        costs(WATER)["per_100_g"]
        == costs(WATER, pick(80, joint("P1"), grams(0)))["per_100_g"]
        == said("nothing_weighed")
    )


def test_feed_without_a_price() -> None:
    """Products without a price are named once; doses by routine that were not counted are said to be missing."""
    bloom = remark("without_things", things=(Label("Bloom"),))
    weekly = routine(5, "every week", ml(9))
    assert costs(fed(5), fed(6, "bloom"), fed(7, "bloom"))["feed"] == (bloom,)
    assert costs(fed(5), fed(6, "bloom"), weekly)["feed"] == (bloom, remark("feed_by_routine"))
    assert costs(fed(5), weekly)["feed"] == said("feed_by_routine")
    assert costs(fed(6, "bloom"))["feed"] == said("no_product_has_price")


def test_the_value_of_the_harvest() -> None:
    """A harvest at its price keeps its remarks; one that was not logged says so."""
    priced = replace(FRUITING, price=Price(4.0, grams(1000)))
    assert costs(PICKED, UNWEIGHED, crop=priced)["value"] == (NOT_WEIGHED,)
    assert costs(crop=priced)["value"] == said("no_harvest")


def test_stems_need_no_remark() -> None:
    """Where a spot was left more than one stem, nothing more is said."""
    thinned = event(Deed.THIN, 12, joint(*FOUR), amount=counted(2), each=True)
    assert per(PICKED, thinned).stem.remarks == ()


def test_claimed_days_name_their_source() -> None:
    """Claimed days say from whom the seed is, where that is noted."""
    setup = claimed("sowing")
    assert setup.seed is not None
    claims = replace(setup.seed.claims, by="")
    seed = replace(setup.seed, source="swap table", claims=claims)
    timing = harvest(PICKED, setup=replace(setup, seed=seed)).timing
    source = remark("claim_source", source="swap table")
    assert (timing.claim.remarks[-1], timing.expected.remarks[-1]) == (source, source)
