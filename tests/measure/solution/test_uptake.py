"""Water taken up, drift and bands of one tub."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitegen.core.facts.figure import Per, Rate, Several
from sitegen.core.facts.tree import TubFacts
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.records.setup import Crop
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.ranges import share_of
from sitegen.measure.solution.solution import solution_of
from tests.measure.builders import event, joint, litres, ml, reading, remarks_of, run_of, setup_of

FILLED = event(Deed.WATER, 10, filled=True)


def water(day: int, volume: float, **more: Any) -> Event:
    """A refill."""
    return event(more.pop("deed", Deed.WATER), day, amount=litres(volume), **more)


def tub(*events: Event, readings: tuple[Reading, ...] = (), **head: Any) -> TubFacts:
    """The one tub of a run of four plants."""
    (facts,) = solution_of(run_of(replace(setup_of(), **head), events=events, readings=readings)).tubs
    return facts


def volume(amount: float, per: Per, step: float = 10) -> Rate:
    """So much water a day, to two digits."""
    return Rate(exactly(amount, Dimension.VOLUME, step), per)


def test_refills_over_their_days() -> None:
    """What was added after the first filling, over the days from it to the last refill."""
    uptake = tub(FILLED, water(15, 2), water(20, 4)).uptake
    assert uptake.per_day.value == volume(600, Per.DAY)
    assert uptake.per_plant_day.value == volume(150, Per.PLANT_AND_DAY)
    assert remarks_of(uptake.per_day) == "over 10 days"


def test_a_full_change_begins_anew() -> None:
    """What a full change poured away is nobody's uptake: days and water begin again after it."""
    changed = water(30, 8, deed=Deed.CHANGE)
    assert tub(FILLED, water(20, 2), changed, water(40, 4)).uptake.per_day.value == volume(300, Per.DAY)


def test_lost_plants_take_nothing() -> None:
    """Plant-days end with the plant."""
    lost = event(Deed.LOST, 15, joint("P1", "P2"))
    uptake = tub(FILLED, lost, water(20, 3)).uptake
    assert uptake.per_plant_day.value == volume(100, Per.PLANT_AND_DAY)


def test_an_unmeasured_refill_opens_the_rate() -> None:
    """A refill that nobody measured makes the uptake a lower bound."""
    unmeasured = event(Deed.WATER, 20, amount=unknown(Dimension.VOLUME))
    uptake = tub(FILLED, water(15, 2), unmeasured).uptake
    assert isinstance(uptake.per_day.value, Rate)
    assert (uptake.per_day.value.amount.low, uptake.per_day.value.amount.high) == (200, None)
    assert remarks_of(uptake.per_day) == "over 10 days; one refill was not measured"


def test_no_refill() -> None:
    """A tub that was only filled took nothing that was recorded."""
    uptake = tub(FILLED).uptake
    assert (uptake.per_day.value, remarks_of(uptake.per_day)) == (
        None,
        "no refill after the first fill was logged",
    )
    assert (uptake.interval.value, remarks_of(uptake.interval)) == (None, "no refill was logged")


def test_days_between_fillings() -> None:
    """Three lengths or more have a mean; fewer are shown one by one."""
    days = [exactly(gap, Dimension.DAYS, 1) for gap in (5, 10)]
    assert tub(FILLED, water(15, 2)).uptake.interval.value == days[0]
    assert tub(FILLED, water(15, 2), water(25, 2)).uptake.interval.value == Several(tuple(days))
    four = tub(FILLED, water(15, 2), water(25, 2), water(31, 2)).uptake.interval
    assert four.value == exactly(7, Dimension.DAYS, 0.1)


def ec(day: int, value: float, moment: str = "") -> Reading:
    """EC of the tub."""
    return reading("ec", day, exactly(value, Dimension.CONDUCTIVITY, 0.1), tub="tub", moment=moment, line=day)


def test_drift_of_a_solution_left_alone() -> None:
    """From one reading to the next with nothing put in between."""
    trend = tub(FILLED, readings=(ec(12, 1.5), ec(14, 1.75), ec(18, 2.25))).trend
    assert trend.ec.value == Rate(exactly(0.125, Dimension.CONDUCTIVITY, 0.01), Per.DAY)
    assert remarks_of(trend.ec) == "over 6 days, 2 pairs of readings"


def test_what_was_put_in_is_no_drift() -> None:
    """A pair with water or feed between its readings does not count."""
    fed = event(Deed.FEED, 13, tub="tub", product="syrup", amount=ml(9))
    trend = tub(FILLED, fed, readings=(ec(12, 1.5), ec(14, 2.0))).trend
    assert (trend.ec.value, remarks_of(trend.ec)) == (
        None,
        "something was added between every two readings",
    )


def test_before_and_after_tell_which_reading_counts() -> None:
    """After the feed of one visit to before the feed of the next is the solution's own way."""
    fed = [event(Deed.FEED, day, tub="tub", product="syrup", amount=ml(9)) for day in (12, 16)]
    readings = (ec(12, 1.0, "before"), ec(12, 2.0, "after"), ec(16, 1.5, "before"), ec(16, 2.0, "after"))
    assert tub(FILLED, *fed, readings=readings).trend.ec.value == Rate(
        exactly(-0.125, Dimension.CONDUCTIVITY, 0.01), Per.DAY
    )


def test_readings_within_the_usual_band() -> None:
    """How many readings lay in the band that sources give for the crop, with the interval of the share."""
    tomato = Crop("tomato", "Tomato", "fruiting", "Solanum lycopersicum")
    within = tub(FILLED, readings=(ec(12, 1.5), ec(14, 2.5), ec(18, 4.0)), crop=tomato).trend.ec_within
    assert within.value == share_of(2, 3)
    assert remarks_of(within).startswith("2 to 4 is usual for this crop, going by sources")


def test_no_band_for_the_crop() -> None:
    """A crop that no table has is held against none."""
    within = tub(FILLED, readings=(ec(12, 1.5),)).trend.ec_within
    assert (within.value, remarks_of(within)) == (None, "no usual range for this crop is known here")


def test_feed_a_litre() -> None:
    """All of a product over all the water of the tub."""
    fed = event(Deed.FEED, 15, tub="tub", product="syrup", amount=ml(20))
    (dosing,) = tub(event(Deed.WATER, 0, filled=True), water(15, 2), fed).doses
    assert dosing.per_litre.value == exactly(2, Dimension.VOLUME_DOSE, 0.1)


def test_feed_in_water_that_was_not_measured() -> None:
    """Water of unknown amount leaves an upper bound of feed a litre."""
    fed = event(Deed.FEED, 15, tub="tub", product="syrup", amount=ml(20))
    (dosing,) = tub(
        event(Deed.WATER, 0, filled=True), event(Deed.WATER, 15, amount=unknown(Dimension.VOLUME)), fed
    ).doses
    assert isinstance(dosing.per_litre.value, Quantity)
    assert (dosing.per_litre.value.low, dosing.per_litre.value.high) == (0, 2.5)
