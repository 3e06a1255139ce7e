"""Readings and sensor exports of air and water."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.facts.indices import DailyRange
from sitegen.core.records.files import Export
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from tests.measure.builders import place, reading, remarks_of, run_of, setup_of

HOURS = [dt.datetime(2025, 3, 1, h) for h in (6, 12, 18)] + [dt.datetime(2025, 3, 3, 12)]


def exported(values: tuple[float, ...], unit: str = "°C", start: Start | None = None) -> Run:
    """A run with one export of air temperature."""
    export = Export("air_temperature", "tub", place(1), tuple(HOURS), values, unit)
    run = run_of(setup_of(start=start))
    return replace(run, rows=replace(run.rows, exports=(export,)))


def test_daily_ranges() -> None:
    """An export becomes one range for each day that has samples."""
    facts = climate_of(exported((18.0, 24.0, 21.0, 20.0)))
    assert facts.air_daily == (DailyRange(0, 18, 21, 24, 3), DailyRange(2, 20, 20, 20, 1, whole=False))
    assert (facts.air.value, remarks_of(facts.air)) == (
        Quantity(18, 24, Dimension.TEMPERATURE),
        "logged by a sensor on 2 days",
    )


def test_units_of_exports() -> None:
    """An export in degrees Fahrenheit is read in degrees Celsius."""
    assert climate_of(exported((50.0, 50.0, 50.0, 50.0), "°F")).air_daily[0].mean == 10


def test_gaps_are_left_out() -> None:
    """A sample that is not a number is no sample."""
    assert climate_of(exported((18.0, float("nan"), 20.0, 20.0))).air_daily[0].samples == 2


def test_undated_start_places_nothing() -> None:
    """Where day 0 has no date an export cannot be placed, and the figure says so."""
    facts = climate_of(exported((18.0, 24.0, 21.0, 20.0), start=Start()))
    assert (facts.air_daily, facts.air.value) == ((), None)
    assert remarks_of(facts.air) == "a sensor's readings cannot be placed: the start has no date"


def test_readings() -> None:
    """Single readings give the range; `at` tells what was read."""
    warm, cool = (exactly(t, Dimension.TEMPERATURE, 1) for t in (22, 18))
    facts = climate_of(
        run_of(readings=[reading("water_temperature", 4, warm), reading("water_temperature", 9, cool)])
    )
    assert facts.water.value == Quantity(18, 22, Dimension.TEMPERATURE, step=1)
    assert [point.at for point in facts.readings] == ["water_temperature"] * 2


def test_light_hours() -> None:
    """Hours as set; a changed setting is a range and is said, hours that nobody noted are not recorded."""
    run = run_of()
    assert remarks_of(climate_of(run).light_hours) == "not recorded"
    uses = [
        (0, LampUse(hours=exactly(16, Dimension.DURATION))),
        (20, LampUse(hours=exactly(12, Dimension.DURATION))),
    ]
    lights = tuple(Light(Day.on(day), None, place(day + 1), "tub", use) for day, use in uses)
    facts = climate_of(replace(run, rows=replace(run.rows, lights=lights)))
    assert facts.light_hours.value == Quantity(12, 16, Dimension.DURATION)
    assert remarks_of(facts.light_hours) == "the setting was changed"
