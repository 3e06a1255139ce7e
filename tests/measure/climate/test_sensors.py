"""Gaps of sensors, and series by tub."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.records.files import Export
from sitegen.core.records.rows import Run
from sitegen.core.values.quantity import counted
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.sensors import sensor_gaps
from tests.measure.builders import place, remarks_of, run_of, setup_of

START = dt.datetime(2025, 3, 1)


def minutes(*numbers: int) -> tuple[dt.datetime, ...]:
    """Times after the start."""
    return tuple(START + dt.timedelta(minutes=number) for number in numbers)


def test_more_than_three_intervals_are_a_gap() -> None:
    """Three usual intervals are none yet, a minute more is one."""
    assert sensor_gaps(minutes(0, 5, 10, 25, 30, 35)) == ()
    assert sensor_gaps(minutes(0, 5, 10, 26, 31, 36)) == (minutes(10, 26),)
    assert sensor_gaps(minutes(0)) == ()


def two_tubs() -> Run:
    """A sensor of water in each of two tubs."""
    times = minutes(*range(0, 60, 5), 24 * 60)
    exports = tuple(
        Export("water_temperature", tub, place(line), times, (warm,) * len(times), "°C")
        for line, (tub, warm) in enumerate((("left", 19.0), ("right", 21.0)), 1)
    )
    run = run_of(setup_of(tubs=("left", "right")))
    return replace(run, rows=replace(run.rows, exports=exports))


def test_each_sensor_by_itself() -> None:
    """Sensors of two tubs stay apart in the series and lie together in the daily range."""
    climate = climate_of(two_tubs())
    assert [(s.reading, s.tub, s.days[0].mean) for s in climate.series] == [
        ("water_temperature", "left", 19),
        ("water_temperature", "right", 21),
    ]
    assert (climate.water_daily[0].low, climate.water_daily[0].high) == (19, 21)


def test_gaps_are_named() -> None:
    """A gap is counted, with its length and its day."""
    named = {gap.key: gap.figure for gap in climate_of(two_tubs()).gaps}
    assert list(named) == ["water-temperature-left", "water-temperature-right"]
    assert named["water-temperature-left"].value == counted(1)
    assert remarks_of(named["water-temperature-left"]) == "23.1 h from day 0"
