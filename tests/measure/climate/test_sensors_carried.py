"""Readings and exports side by side: days, tubs, flags and rows."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.indices import DailyRange
from sitegen.core.facts.tree import Climate, PlotPoint
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Deed, Event, Reading, Run
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of, degree_days_of
from sitegen.measure.climate.sensors import daily_range, sensor_gaps
from sitegen.measure.climate.vapour import leaf_vapour_pressure_deficit, vapour_pressure_deficit
from sitegen.measure.ranges import reading_range
from tests.measure.builders import FRUITING, event, place, reading, remarks_of, run_of, setup_of
from tests.measure.values import amount, bounds, lines

START = dt.datetime(2025, 3, 1)


def export(
    name: str, *samples: tuple[float, float], tub: str = "tub", line: int = 1, unit: str = ""
) -> Export:
    """A sensor's series; each sample comes so many hours after the start."""
    times = tuple(START + dt.timedelta(hours=hours) for hours, _ in samples)
    return Export(name, tub, place(line), times, tuple(value for _, value in samples), unit)


def run(*rows: Reading | Export | Event, tubs: tuple[str, ...] = ("tub",), **head: Any) -> Run:
    """A run with these readings, exports and events."""
    return run_of(
        setup_of(tubs=tubs, **head),
        readings=[row for row in rows if isinstance(row, Reading)],
        exports=[row for row in rows if isinstance(row, Export)],
        events=[row for row in rows if isinstance(row, Event)],
    )


def climate(*rows: Reading | Export | Event, **more: Any) -> Climate:
    """Its climate."""
    return climate_of(run(*rows, **more))


def degrees(low: float, high: float | None = None, **flags: Any) -> Quantity:
    """A temperature to the degree."""
    return Quantity(low, low if high is None else high, Dimension.TEMPERATURE, step=1, **flags)


def percent(low: float, high: float | None = None, **flags: Any) -> Quantity:
    """A humidity to the per cent."""
    return Quantity(low, low if high is None else high, Dimension.SHARE, step=1, **flags)


def read(name: str, value: Quantity, day: int = 9, line: int = 0, **more: Any) -> Reading:
    """A reading at the lone tub."""
    return reading(name, day, value, (), line, tub=more.pop("tub", "tub"), **more)


def test_reading_range_keeps_flags_and_the_coarsest_step() -> None:
    """The range goes from the lowest low to the highest high, with every flag of its readings."""
    found = reading_range(
        [
            degrees(20, 22, about=True),
            replace(degrees(18), step=0.5, open=1),
            replace(degrees(19, 25), by_eye=True, unweighed=2),
        ]
    )
    assert found == Quantity(18, 25, Dimension.TEMPERATURE, True, True, 1, 2, 1)
    assert reading_range([degrees(20), replace(degrees(18), high=None)]) == replace(degrees(18), high=None)
    assert reading_range([degrees(20)]) == degrees(20)
    assert reading_range([]) is None


def test_readings_and_exports_make_one_range() -> None:
    """Single readings and every day of a sensor span the range, with the rows of both and of nothing else."""
    facts = climate(
        read("air_temperature", degrees(16), line=50),
        read("humidity", percent(60), line=51),
        export("air_temperature", (1, 18.5), (2, 24), (30, 26.5), line=2),
        export("humidity", (1, 55), line=3),
    )
    assert (facts.air.value, lines(facts.air)) == (Quantity(16, 26.5, Dimension.TEMPERATURE, step=1), [2, 50])
    assert (facts.humidity.value, lines(facts.humidity)) == (
        Quantity(55, 60, Dimension.SHARE, step=1),
        [3, 51],
    )
    assert (facts.water.value, lines(facts.water)) == (None, [])
    assert [(f.name, f.formula) for f in (facts.air, facts.humidity, facts.water)] == [
        (f"climate.{name}", "reading_range") for name in ("air", "humidity", "water")
    ]


def test_each_kind_of_sensor_has_its_own_days() -> None:
    """Air, humidity and water by day, over all sensors of a kind."""
    facts = climate(
        export("air_temperature", (1, 18), (2, 24)),
        export("air_temperature", (3, 27), tub="", line=2),
        export("humidity", (1, 55), line=3),
        export("water_temperature", (25, 19), line=4),
    )
    assert facts.air_daily == (DailyRange(0, 18, 23, 27, 3, whole=False),)
    assert facts.humidity_daily == (DailyRange(0, 55, 55, 55, 1, whole=False),)
    assert facts.water_daily == (DailyRange(1, 19, 19, 19, 1, whole=False),)
    assert [(s.reading, s.tub, s.days) for s in facts.series] == [
        ("air_temperature", "tub", (DailyRange(0, 18, 21, 24, 2, whole=False),)),
        ("air_temperature", "", (DailyRange(0, 27, 27, 27, 1, whole=False),)),
        ("humidity", "tub", (DailyRange(0, 55, 55, 55, 1, whole=False),)),
        ("water_temperature", "tub", (DailyRange(1, 19, 19, 19, 1, whole=False),)),
    ]


def test_a_day_begins_at_midnight() -> None:
    """A sample a minute before midnight is of that day, one at midnight of the next; before sowing days are negative."""
    last_minute = 24 - 1 / 60
    found = climate(export("air_temperature", (-1, 17), (last_minute, 18), (24, 19), (48, 20))).air_daily
    assert [(day.day, day.mean) for day in found] == [(-1, 17), (0, 18), (1, 19), (2, 20)]


def test_two_exports_of_one_sensor_are_one_series() -> None:
    """Exports of one kind and tub are put together in the order of time."""
    late = export("air_temperature", (10, 20), (11, 20), (12, 20), line=1)
    early = export("air_temperature", (1, 18), (2, 18), line=2)
    (gap,) = climate(late, early).gaps
    assert (gap.key, gap.figure.value, lines(gap.figure)) == ("air-temperature-tub", counted(1), [1, 2])


def test_infinite_samples_are_none() -> None:
    """What is not a finite number is no sample; an export without a known unit is read in the canonical one."""
    found = climate(
        export("air_temperature", (1, math.inf), (2, -math.inf), (3, math.nan), (4, 20), unit="bogus")
    )
    assert found.air_daily == (DailyRange(0, 20, 20, 20, 1, whole=False),)


def test_units_of_exports() -> None:
    """65, 75 and -40 °F are 18.3333, 23.8889 and -40 °C (NIST SP 811, by definition)."""
    (day,) = climate(export("air_temperature", (1, 65), (2, 75), (3, -40), unit="°F")).air_daily
    assert [day.low, day.high] == pytest.approx([-40, 23.8889], abs=5e-5)
    (day,) = climate(export("air_temperature", (1, 65), unit="°F")).air_daily
    assert day.mean == pytest.approx(18.3333, abs=5e-5)


def test_a_start_known_to_the_month_places_no_sample() -> None:
    """Samples have a day only where day 0 is dated to the day; readings are kept all the same."""
    facts = climate(
        read("air_temperature", degrees(16)),
        export("air_temperature", (1, 18)),
        start=Start(START.date(), "month"),
    )
    assert (facts.air_daily, facts.air.value, lines(facts.air)) == ((), degrees(16), [1, 5009])
    assert [gap.figure.value for gap in facts.gaps] == [counted(0)]


def test_daily_range() -> None:
    """Lowest, mean and highest of a day's samples, and how many."""
    assert daily_range(3, (20, 18, 25, 21)) == DailyRange(3, 18, 21, 25, 4)


def test_gaps_against_the_usual_interval() -> None:
    """A gap is longer than three times the median interval, of which a single one is never."""
    hours = [START + dt.timedelta(hours=n) for n in (0, 1, 2, 5, 6, 9.1, 10)]
    assert sensor_gaps(hours) == ((hours[4], hours[5]),)
    assert sensor_gaps(hours[:2]) == ()
    assert sensor_gaps([]) == ()


def test_points_of_readings() -> None:
    """Readings of air and water by day, then as written: where, what and when of the visit; others are left out."""
    rows = (
        read("humidity", percent(60), 12, line=3),
        read("water_temperature", degrees(19), 9, line=2, moment="before", tub=""),
        read("air_temperature", degrees(22), 9, line=1),
        read("leaf_temperature", degrees(21), 9, line=4),
        read("ec", exactly(1, Dimension.CONDUCTIVITY), 9, line=5),
    )
    assert climate(*rows).readings == (
        PlotPoint(Day.on(9), "tub", degrees(22), place(1), "air_temperature"),
        PlotPoint(Day.on(9), "", degrees(19), place(2), "water_temperature", "before"),
        PlotPoint(Day.on(12), "tub", percent(60), place(3), "humidity"),
    )


def test_a_deficit_of_readings_carries_flags() -> None:
    """Ranges of temperature and humidity make a range of the deficit, with the flags of both and a step of 0.01 kPa."""
    facts = climate(
        read("air_temperature", degrees(20, 25, by_eye=True), line=8),
        read("humidity", percent(60, 70, about=True), line=9),
    )
    found = amount(facts.vpd)
    # FAO-56, eq. 11: e0 of 20 and 25 °C are 2.338 and 3.168 kPa.
    assert bounds(found) == (
        pytest.approx(0.3 * 2.338, abs=5e-4),
        pytest.approx(0.4 * 3.168, abs=5e-4),
    )
    assert replace(found, low=0, high=0) == Quantity(
        0, 0, Dimension.PRESSURE, about=True, by_eye=True, step=0.01
    )
    assert (lines(facts.vpd), facts.vpd.name, facts.vpd.formula) == (
        [8, 9],
        "climate.vpd",
        "vapour_pressure_deficit",
    )


def test_deficits_of_sensors_and_of_readings_make_one_range() -> None:
    """Daily means of a sensor and single pairs span the range; both exports are rows."""
    facts = climate(
        read("air_temperature", degrees(25), line=8),
        read("humidity", percent(60), line=9),
        export("air_temperature", (1, 20), (13, 25), line=2),
        export("humidity", (1, 60), (13, 60), line=3),
        export("water_temperature", (1, 20), line=4),
    )
    mean = (vapour_pressure_deficit(20, 60) + vapour_pressure_deficit(25, 60)) / 2
    low, high = bounds(facts.vpd)
    assert (low, high) == (pytest.approx(mean), pytest.approx(vapour_pressure_deficit(25, 60)))
    assert (amount(facts.vpd).step, lines(facts.vpd)) == (0.01, [2, 3, 8, 9])
    assert [(day.day, day.samples) for day in facts.vpd_daily] == [(0, 2)]


def test_a_day_with_few_samples_has_no_mean_deficit() -> None:
    """A day with a sixth of the usual samples is left out of the daily means, and said."""
    hourly = [float(hour) for hour in range(28)]
    facts = climate(
        export("air_temperature", *((hour, 20 if hour < 24 else 30) for hour in hourly), line=2),
        export("humidity", *((hour, 60) for hour in hourly), line=3),
    )
    assert [(day.samples, day.whole) for day in facts.vpd_daily] == [(24, True), (4, False)]
    assert bounds(facts.vpd) == (pytest.approx(vapour_pressure_deficit(20, 60)),) * 2
    assert remarks_of(facts.vpd) == "daily means of a sensor on 1 day; not counting 1 day with few readings"


@given(st.integers(1, 12), st.integers(1, 24))
def test_half_of_the_usual_samples_make_a_whole_day(every: int, wanted: int) -> None:
    """A day is whole from half of the samples that the usual interval gives in 24 hours; common practice, no source."""
    usual = 24 / every
    full = list(range(0, 24 * 4, every))
    last = [24 * 5 + n * every for n in range(min(wanted, math.ceil(usual)))]
    found = climate(export("air_temperature", *((hour, 20.0) for hour in (*full, *last)))).air_daily
    assert found[-1].whole == (2 * len(last) >= usual)


def test_no_deficit_without_both_sensors_of_one_tub() -> None:
    """Air of one tub and humidity of another, or at other times, or air alone, make no deficit and no rows."""
    for other in (
        export("humidity", (1, 60), tub="", line=3),
        export("humidity", (1.5, 60), line=3),
        export("water_temperature", (1, 60), line=3),
    ):
        facts = climate(export("air_temperature", (1, 20), line=2), other)
        assert (facts.vpd_daily, facts.vpd.value, lines(facts.vpd)) == ((), None, [])


def test_pairs_are_of_one_visit() -> None:
    """A reading from a spreadsheet belongs to no visit and makes no pair; of two of one visit the later counts."""
    warm, damp = read("air_temperature", degrees(25), line=70), read("humidity", percent(60), line=71)
    visits = run(warm, damp)
    sheet = tuple(row._replace(entry=None) for row in visits.rows.readings)
    assert climate_of(replace(visits, rows=replace(visits.rows, readings=sheet))).vpd.value is None
    again = read("humidity", percent(100), line=77)
    assert bounds(climate(warm, damp, again).vpd) == (0, 0)
    assert climate(again, damp, warm).vpd == climate(warm, damp, again).vpd
    other_day = (read("air_temperature", degrees(20), 12), read("humidity", percent(60), 12))
    assert bounds(climate(warm, damp, *other_day).vpd) == (
        vapour_pressure_deficit(20, 60),
        vapour_pressure_deficit(25, 60),
    )


def test_a_deficit_at_the_leaf() -> None:
    """The lowest deficit has the coolest leaf in the warmest, dampest air; below 0 stays below 0."""
    facts = climate(
        read("leaf_temperature", degrees(15, 23), line=7),
        read("air_temperature", degrees(24, 25, about=True), line=8),
        read("humidity", percent(60, 70), line=9),
    )
    found = amount(facts.leaf_vpd)
    assert (found.low, found.high) == (
        leaf_vapour_pressure_deficit(15, 25, 70),
        leaf_vapour_pressure_deficit(23, 24, 60),
    )
    assert found.low < 0
    assert (found.dimension, found.about, found.step, lines(facts.leaf_vpd)) == (
        Dimension.PRESSURE,
        True,
        0.01,
        [7, 8, 9],
    )
    assert (facts.leaf_vpd.name, facts.leaf_vpd.formula) == (
        "climate.leaf_vpd",
        "leaf_vapour_pressure_deficit",
    )


BASED = replace(FRUITING, base_temperature=exactly(10, Dimension.TEMPERATURE, 1))
WARM = [DailyRange(day, 18, 22, 26, 9) for day in range(-2, 12)]


def heat(*events: Event, crop: Crop = BASED) -> Quantity:
    """Degree days of a fortnight of days from 18 to 26 °C, 12 above the base."""
    return amount(degree_days_of(run(*events, crop=crop), "climate.tubs.tub.degree_days", WARM))


def test_degree_days_from_sowing_to_the_end() -> None:
    """Day 0 and the last day count, those before and after do not; an end on a span of days makes it a span."""
    assert heat(event(Deed.END, 9, kept=False)) == exactly(120, Dimension.HEAT_SUM, 1)
    assert heat(event(Deed.END, 9, kept=True), event(Deed.NOTE, 11)) == exactly(120, Dimension.HEAT_SUM, 1)
    assert heat(event(Deed.NOTE, 9)) == exactly(120, Dimension.HEAT_SUM, 1)
    assert heat(event(Deed.END, 8)._replace(day=Day(8, 9))) == Quantity(108, 120, Dimension.HEAT_SUM, step=1)


def test_a_day_without_samples_opens_the_sum() -> None:
    """One day missing makes the sum a lower bound."""
    assert heat(event(Deed.END, 12)) == Quantity(144, None, Dimension.HEAT_SUM, step=1)


def test_a_published_base_is_converted_as_a_reading() -> None:
    """40 °F is 4.4 °C: the base of lettuce (University of Delaware, Weekly Crop Update 2025)."""
    found = heat(event(Deed.END, 9), crop=Crop("lettuce", "Lettuce", "leafy", "Lactuca sativa"))
    assert bounds(found) == (pytest.approx(10 * (22 - 40 / 9)), pytest.approx(10 * (22 - 40 / 9)))


def test_rows_of_degree_days() -> None:
    """Degree days lead to the exports of air temperature only; without a base or a sensor to none."""
    rows = (
        export("air_temperature", *((24 * day + 1, 22.0) for day in range(10)), line=2),
        export("humidity", (1, 60), line=3),
        event(Deed.END, 9),
    )
    found = climate(*rows, crop=BASED).tubs[0].degree_days
    assert (found.value, lines(found), found.formula) == (
        exactly(120, Dimension.HEAT_SUM, 1),
        [2],
        "degree_days",
    )
    for bare in (climate(*rows).tubs[0], climate(*rows[1:], crop=BASED).tubs[0]):
        assert (bare.degree_days.value, lines(bare.degree_days)) == (None, [])


def test_a_sensor_of_no_tub_stands_for_all() -> None:
    """A tub with a sensor of its own takes that one, another the one of no tub."""
    rows = (
        export("air_temperature", *((24 * day + 1, 22.0) for day in range(10)), tub="", line=2),
        export("air_temperature", *((24 * day + 1, 15.0) for day in range(10)), tub="right", line=3),
        event(Deed.END, 9),
    )
    left, right = climate(*rows, tubs=("left", "right"), crop=BASED).tubs
    assert (left.key, bounds(left.degree_days), right.key, bounds(right.degree_days)) == (
        "left",
        (120, 120),
        "right",
        (50, 50),
    )


@given(
    st.lists(
        st.tuples(st.integers(0, 71), st.floats(-5, 40)), min_size=1, max_size=12, unique_by=lambda s: s[0]
    )
)
def test_every_sample_is_in_the_day_it_was_taken(samples: list[tuple[int, float]]) -> None:
    """Days have as many samples as were taken, each between its day's lowest and highest."""
    days = {day.day: day for day in climate(export("air_temperature", *sorted(samples))).air_daily}
    assert sum(day.samples for day in days.values()) == len(samples)
    for hour, value in samples:
        assert days[hour // 24].low <= value <= days[hour // 24].high
    assert all(day.low <= day.mean + 1e-9 and day.mean - 1e-9 <= day.high for day in days.values())
