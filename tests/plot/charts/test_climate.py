"""Temperature, humidity and vapour pressure deficit: daily bars, means, readings by hand, days without samples."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.figure import Figure, remark
from sitegen.core.facts.indices import TubClimate
from sitegen.core.facts.tree import Climate
from sitegen.core.site.chart import Chart
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    EMPTY_CLIMATE,
    NOTHING,
    charts,
    degrees,
    facts,
    hovers,
    layer,
    pieces,
    read,
    sampled,
    setup,
    texts,
    whole_run,
)


def temperature(climate: Climate, last: int = 58) -> Chart:
    """A chart of temperature alone."""
    return charts(facts(climate=climate, last=last))["temperature"]


def test_a_finding_in_words() -> None:
    """The ends, how many days a sensor ran, the days without samples, and what was not recorded."""
    air = replace(EMPTY_CLIMATE, air_daily=sampled(0, 58, 21, without=(30, 31, 45)))

    assert temperature(air).description == (
        "Air: lowest 19 °C on day 0, highest 24 °C on day 0; logged by a sensor on 56 days. Each bar runs "
        "from the day's lowest reading to its highest, and the line joins the daily means. No readings on "
        "days 30-31 and 45. Water: not recorded."
    )


def test_a_day_is_a_bar_from_its_lowest_to_its_highest_sample() -> None:
    """On hover it says both, the mean and how many samples there were."""
    svg = temperature(replace(EMPTY_CLIMATE, air_daily=sampled(10, 12, 21))).wide

    assert hovers(svg, "air-days") == [
        f"Day {day}: 19 to 24 °C, mean 21 (24 readings)" for day in (10, 11, 12)
    ]
    assert len(pieces(svg, "air-means")) == 1


def test_the_line_of_means_breaks_where_a_day_has_no_samples() -> None:
    """Nothing is drawn over a gap."""
    svg = temperature(replace(EMPTY_CLIMATE, air_daily=sampled(0, 20, 21, without=(9,)))).wide

    assert len(pieces(svg, "air-means")) == 2
    assert len(layer(svg, "air-days")) == 20


def test_single_readings_are_points_and_water_is_told_by_its_symbol() -> None:
    """Air is round and water square; nothing joins them."""
    climate = replace(
        EMPTY_CLIMATE,
        readings=(read(9, "air_temperature", degrees(22)), read(20, "water_temperature", degrees(19))),
    )
    drawn = temperature(climate)

    assert layer(drawn.wide, "air-points")[0].get("d") != layer(drawn.wide, "water-points")[0].get("d")
    assert sorted(texts(drawn.wide, "labels")) == ["air", "water"]
    assert layer(drawn.wide, "air-means") == []
    assert drawn.description == "Air: measured once, 22 °C on day 9. Water: measured once, 19 °C on day 20."


def test_readings_of_one_day_have_no_lowest_and_highest_day() -> None:
    """Two tubs read at one visit are named with their values."""
    points = [read(82, "water_temperature", degrees(value)) for value in (22, 23)]
    named = tuple(replace(p, subject=tub) for p, tub in zip(points, ("left", "right"), strict=True))
    run = facts(setup(2, tubs=("left", "right")), climate=replace(EMPTY_CLIMATE, readings=named))
    found = "Water, measured on day 82: 22 °C in Left tub and 23 °C in Right tub. Air: not recorded."
    assert charts(run)["temperature"].description == found


def test_a_temperature_in_fahrenheit_stands_at_the_same_place() -> None:
    """Ticks are round in the unit shown."""
    drawn = charts(whole_run(), "us")["temperature"]

    assert drawn.title == "Temperature, °F"
    assert texts(drawn.wide, "numbers") == ["60", "65", "70", "75", "80"]


def test_a_long_run_has_fewer_bars_and_says_so() -> None:
    """Bars that would touch are put together; none of them holds a day without samples."""
    drawn = temperature(replace(EMPTY_CLIMATE, air_daily=sampled(0, 179, 21, without=(90,))), last=179)
    said = hovers(drawn.wide, "air-days")

    assert said[0] == "Days 0-1: 19 to 24 °C, mean 21 (48 readings)"
    assert len(layer(drawn.narrow, "air-days")) < len(said) < 100
    assert "Days too close together share a bar" in drawn.description
    assert len(drawn.table.rows) == 179


def test_samples_from_before_sowing_are_left_out() -> None:
    """The axis begins with day 0."""
    svg = temperature(replace(EMPTY_CLIMATE, air_daily=sampled(-3, 4, 21))).wide

    assert len(layer(svg, "air-days")) == 5


def test_degree_days_are_said_where_they_are_known() -> None:
    """With the note that names their base."""
    warm = Figure(
        "climate.tubs.tub.degree_days",
        exactly(1276, Dimension.HEAT_SUM),
        "degree_days",
        remarks=(remark("above_base", temperature=4.0, source="a handbook"),),
    )
    climate = replace(
        EMPTY_CLIMATE,
        air_daily=sampled(0, 4, 21),
        tubs=(TubClimate("tub", "Slate tub", NOTHING, NOTHING, NOTHING, warm),),
    )

    assert temperature(climate).description.endswith("Degree days: 1276 °C d above 4.0 °C (a handbook).")


def test_humidity_has_the_scale_of_its_values() -> None:
    """It begins where the values begin, and says so."""
    drawn = charts(whole_run())["humidity"]

    assert texts(drawn.wide, "numbers")[0] == "50"
    assert drawn.description.endswith("The scale begins at 50 %, not at 0.")


def test_vapour_deficit_stands_on_0() -> None:
    """In a chart of its own, with two decimals at most."""
    drawn = charts(whole_run())

    assert texts(drawn["vpd"].wide, "numbers")[0] == "0"
    assert drawn["vpd"].title == "Vapour pressure deficit, kPa"
    assert hovers(drawn["vpd"].wide, "air-days")[0] == "Day 0: 0 to 5 kPa, mean 2 (24 readings)"


def test_a_single_reading_of_humidity_has_a_chart() -> None:
    """It needs no sensor; a reading that lies between bounds is a bar."""
    between = Quantity(55, 60, Dimension.SHARE)
    drawn = charts(facts(climate=replace(EMPTY_CLIMATE, readings=(read(9, "humidity", between),))))

    assert list(drawn) == ["humidity"]
    assert hovers(drawn["humidity"].wide, "air-ranges") == ["Humidity, day 9: 55-60 %"]


def test_readings_of_light_stand_on_0_with_their_tubs() -> None:
    """A mark a reading; where there are several tubs each mark and row names its own."""
    read_light = (
        read(9, "ppfd", exactly(210, Dimension.PHOTON_FLUX, 1), "left"),
        read(20, "ppfd", exactly(300, Dimension.PHOTON_FLUX, 1), "right"),
    )
    found = facts(setup(tubs=("left", "right")), climate=replace(EMPTY_CLIMATE, readings=read_light))
    drawn = charts(found)["ppfd"]

    assert drawn.title == "Light at the plants, µmol/m²/s"
    assert texts(drawn.wide, "numbers")[0] == "0"
    assert hovers(drawn.wide, "air-points") == [
        "Light at the plants, Left tub, day 9: 210 µmol/m²/s",
        "Light at the plants, Right tub, day 20: 300 µmol/m²/s",
    ]
    assert drawn.description == (
        "Light at the plants: 2 readings by hand, from 210 µmol/m²/s on day 9 to 300 µmol/m²/s on day 20; "
        "nothing was measured in between."
    )
