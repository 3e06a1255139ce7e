"""Water and feed: what was measured, what was not, and what is only a routine."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.core.facts.tree import Dosing, Solution, TubFacts
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import PPM_SCALES, Dimension
from sitegen.measure.solution.solution import solution_of
from tests.measure.builders import event, litres, ml, reading, remarks_of, routine, run_of, setup_of

RATE = exactly(3, Dimension.VOLUME_DOSE, 1)


def water(day: int, amount: Quantity | None = None, **more: Any) -> Event:
    """Water into the tub."""
    return event(Deed.WATER, day, tub=more.pop("tub", "tub"), amount=amount, **more)


def feed(day: int, amount: Quantity | None = None, **more: Any) -> Event:
    """Syrup into the tub."""
    more = {"tub": "tub", "product": "syrup", "line": 1500 + day, **more}
    return event(Deed.FEED, day, amount=amount, **more)


def solution(
    *events: Event, routines: Any = (), readings: Any = (), tubs: tuple[str, ...] = ("tub",)
) -> Solution:
    """The solution of a run."""
    run = run_of(setup_of(tubs=tubs), events=events, routines=routines, readings=readings)
    return solution_of(run)


def tub(*events: Event, **more: Any) -> TubFacts:
    """The lone tub."""
    return solution(*events, **more).tubs[0]


def dose(*events: Event, **more: Any) -> Dosing:
    """The lone product."""
    (found,) = tub(*events, **more).doses
    return found


def test_first_filling_is_the_reservoir() -> None:
    """Filling a tub for the first time takes its reservoir, and is no refill."""
    facts = tub(water(0, filled=True), water(9, litres(2)))
    assert (facts.water.value, facts.refills.value) == (litres(10), counted(1))


def test_filling_up_later_is_not_measured() -> None:
    """A later `filled` is an unknown amount: the total is a lower bound."""
    facts = tub(water(0, filled=True), water(9, filled=True))
    assert facts.water.value == Quantity(8000, None, Dimension.VOLUME, unweighed=1, step=1000)
    assert (remarks_of(facts.water), facts.refills.value) == ("one refill was not measured", counted(1))


def test_a_first_filling_written_as_an_amount_is_no_refill() -> None:
    """8 L on day 0 fill the empty tub as `filled` does; the 2 L on day 9 are the first refill."""
    facts = tub(water(0, litres(8)), water(9, litres(2)))
    assert (facts.water.value, facts.refills.value) == (litres(10), counted(1))


def test_a_weekly_routine_adds_no_dose() -> None:
    """`every week` is said and not totalled."""
    facts = solution(water(0, filled=True), water(9, litres(1)), routines=[routine(5, "every week", ml(20))])
    assert facts.tubs[0].doses == ()


def test_full_change() -> None:
    """A full change is its amount, or the reservoir; it is a change and not a refill."""
    changed = event(Deed.CHANGE, 20, tub="tub", amount=litres(7))
    again = event(Deed.CHANGE, 30, tub="tub", filled=True)
    facts = tub(water(0, filled=True), changed, again)
    assert (facts.water.value, facts.changes.value, facts.refills.value) == (
        litres(23),
        counted(2),
        counted(0),
    )


def test_dose_by_volume() -> None:
    """Doses add up, one that nobody measured opens the total."""
    facts = dose(feed(5, ml(10)), feed(9, ml(5)), feed(12, unknown(Dimension.VOLUME)))
    assert facts.total.value == Quantity(15, None, Dimension.VOLUME, unweighed=1, step=1)
    assert (facts.label.name, facts.kind, remarks_of(facts.total)) == (
        "Syrup",
        "feed",
        "one dose was not measured",
    )
    assert facts.times.value == counted(3)


def test_dose_rate_takes_the_water_of_its_visit() -> None:
    """3 ml/L with 2 L poured at the same visit is 6 ml."""
    total = dose(water(9, litres(2)), feed(9, RATE)).total.value
    assert isinstance(total, Quantity)
    assert (total.low, total.high, total.dimension) == (6, 6, Dimension.VOLUME)


def test_as_labelled() -> None:
    """`as labelled` is the product's own dose with the water of the visit."""
    total = dose(water(0, filled=True), feed(0, as_labelled=True)).total.value
    assert isinstance(total, Quantity)
    assert (total.low, total.high) == (16, 16)


def test_rate_without_water_is_unknown() -> None:
    """A rate at a visit without measured water is an unknown amount, not nothing."""
    assert dose(feed(9, RATE)).total.value == unknown(Dimension.VOLUME)
    assert dose(water(0, litres(1)), water(9), feed(9, RATE)).total.value == unknown(Dimension.VOLUME)


def test_acid_is_never_feed() -> None:
    """Acids and bases stand by themselves."""
    acid = event(Deed.ADJUST, 9, tub="tub", product="ph-down", amount=ml(2))
    facts = tub(acid, feed(9, ml(10)))
    assert [d.total.value for d in facts.doses] == [ml(10)]
    assert [(d.product, d.total.value) for d in facts.adjusted] == [("ph-down", ml(2))]


def test_every_refill_counts_at_those_logged() -> None:
    """`every refill` is a dose at the logged refill, and at least that: others may not have been logged."""
    facts = solution(
        water(0, filled=True), water(9, litres(1)), routines=[routine(5, "every refill", ml(20))]
    )
    (dosing,) = facts.tubs[0].doses
    assert (dosing.total.value, dosing.times.value) == (
        Quantity(20, None, Dimension.VOLUME, open=1, step=1),
        Quantity(1, None, Dimension.COUNT, open=1, step=1),
    )
    assert remarks_of(dosing.total) == "not counting doses at refills that were not logged"
    assert [(r.label.name, r.often, r.amount) for r in facts.routines] == [("Syrup", "every refill", ml(20))]


def test_every_logged_refill_counts() -> None:
    """One dose for each `water` from its day until its end; a visit that logs the product itself counts once."""
    fillings = [water(day, litres(1)) for day in (0, 5, 9, 12, 20)]
    facts = dose(*fillings, feed(9, ml(3)), routines=[routine(5, "every logged refill", ml(20), until=20)])
    assert (facts.total.value, facts.times.value) == (ml(43), counted(3))


def test_tubs_are_kept_apart() -> None:
    """Each tub has its own water; all together is their sum."""
    facts = solution(
        water(0, litres(3), tub="left"), water(0, litres(4), tub="right", line=9), tubs=("left", "right")
    )
    assert [(t.label, t.water.value) for t in facts.tubs] == [("left", litres(3)), ("right", litres(4))]
    assert facts.water.value == litres(7)


def test_ranges() -> None:
    """EC and pH are given from the lowest to the highest reading."""
    facts = tub(
        readings=[
            reading("ec", 5, exactly(0.8, Dimension.CONDUCTIVITY, 0.1), tub="tub"),
            reading("ec", 9, exactly(1.4, Dimension.CONDUCTIVITY, 0.1), tub="tub"),
        ]
    )
    assert facts.ec.value == Quantity(0.8, 1.4, Dimension.CONDUCTIVITY, step=0.1)
    assert (remarks_of(facts.ec), facts.ph.value, remarks_of(facts.ph)) == (
        "2 readings",
        None,
        "not recorded",
    )


def test_no_water_logged() -> None:
    """Water that nobody logged is not recorded, not 0 L."""
    facts = tub()
    assert (facts.water.value, remarks_of(facts.water)) == (None, "not recorded")


def ec(
    day: int, value: float, scale: int | None = 500, dimension: Dimension = Dimension.CONDUCTIVITY
) -> Reading:
    """An EC by a meter of a scale."""
    return reading("ec", day, exactly(value, dimension, 0.1), tub="tub", scale=scale)


@pytest.mark.parametrize(("scale", "ppm"), [(500, (1200, 750)), (640, (1536, 960)), (700, (1680, 1050))])
def test_ec_in_ppm_by_the_scale_of_the_meter(scale: int, ppm: tuple[float, float]) -> None:
    """2.4 and 1.5 mS/cm on the three scales: 1200, 1680 and 1050 as makers' charts have them, others worked."""
    found = tub(readings=[ec(5, 2.4, scale), ec(9, 1.5, scale)]).ppm
    assert isinstance(found.value, Quantity)
    assert (found.value.high, found.value.low) == (pytest.approx(ppm[0]), pytest.approx(ppm[1]))
    assert (found.value.dimension, remarks_of(found)) == (PPM_SCALES[scale], "2 readings")


def test_readings_of_several_scales_have_no_ppm() -> None:
    """Ppm of two scales are never one figure; an EC without a scale has none."""
    for scales in ((500, 700), (500, None), (None, None)):
        found = tub(readings=[ec(5, 2.4, scales[0]), ec(9, 1.5, scales[1])])
        assert (found.ppm.name, found.ec.value) == ("", Quantity(1.5, 2.4, Dimension.CONDUCTIVITY, step=0.1))


def test_ppm_of_an_unknown_scale_are_no_ec() -> None:
    """They stay ppm: no range of EC, no drift, no chart has them."""
    facts = solution(readings=[ec(5, 700, None, Dimension.PPM), ec(9, 840, None, Dimension.PPM)])
    (found,) = facts.tubs
    assert found.ppm.value == Quantity(700, 840, Dimension.PPM, step=0.1)
    assert (found.ec.value, found.trend.ec.value, facts.ec) == (None, None, ())
    mixed = solution(readings=[ec(5, 700, None, Dimension.PPM), ec(9, 1.4, None)])
    assert (mixed.tubs[0].ec.value, mixed.tubs[0].ppm.name) == (exactly(1.4, Dimension.CONDUCTIVITY, 0.1), "")
