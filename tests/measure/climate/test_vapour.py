"""Dryness of the air against published points and a second implementation."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.records.files import Export
from sitegen.core.records.rows import Reading, Run
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.vapour import (
    leaf_vapour_pressure_deficit,
    saturation_vapour_pressure,
    vapour_pressure_deficit,
)
from tests.measure.builders import place, reading, remarks_of, run_of
from tests.measure.published import published

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("row", published("saturation_vapour_pressure"), ids=lambda row: row["case"])
def test_published_pressures(row: dict[str, str]) -> None:
    """The worked examples of the source, to the digits printed."""
    assert saturation_vapour_pressure(float(row["temperature"])) == pytest.approx(
        float(row["pressure"]), abs=5e-4
    )


@given(st.floats(1, 40), st.floats(0, 100))
def test_second_implementation(air: float, humidity: float) -> None:
    """The deficit stays within 0.4 % of saturation of another library's equation."""
    other = psychrolib.GetVaporPressureDeficit(
        air, psychrolib.GetHumRatioFromRelHum(air, humidity / 100, 101325), 101325
    )
    assert vapour_pressure_deficit(air, humidity) == pytest.approx(
        other / 1000, abs=0.004 * saturation_vapour_pressure(air)
    )


def test_saturated_air() -> None:
    """Saturated air has a deficit of 0, not of minus 0."""
    assert math.copysign(1, vapour_pressure_deficit(20, 100)) == 1
    assert vapour_pressure_deficit(20, 100) == 0


def test_worked_deficits() -> None:
    """25 °C at 60 %: 1.267 kPa of air, 0.909 and 1.083 kPa at a leaf 2 and 1 °C cooler; worked from the equation."""
    assert vapour_pressure_deficit(25, 60) == pytest.approx(1.267, abs=5e-4)
    leaf = [leaf_vapour_pressure_deficit(25 - cooler, 25, 60) for cooler in (2, 1)]
    assert leaf == pytest.approx([0.909, 1.083], abs=5.1e-4)


def test_condensation() -> None:
    """A leaf below the dew point has a deficit below 0."""
    assert leaf_vapour_pressure_deficit(10, 20, 90) < 0


def degrees(name: str, value: float, tub: str = "tub", day: int = 9) -> Reading:
    """A reading of a temperature."""
    return reading(name, day, exactly(value, Dimension.TEMPERATURE, 1), tub=tub, line=len(name) + day)


def percent(value: float, tub: str = "tub", day: int = 9) -> Reading:
    """A reading of humidity."""
    return reading("humidity", day, exactly(value, Dimension.SHARE, 1), tub=tub)


def test_readings_of_one_visit() -> None:
    """Temperature and humidity of one visit make a deficit; the leaf's needs the leaf's own temperature."""
    climate = climate_of(run_of(readings=[degrees("air_temperature", 25), percent(60)]))
    assert isinstance(climate.vpd.value, Quantity)
    assert climate.vpd.value.low == pytest.approx(1.267, abs=5e-4)
    assert (remarks_of(climate.vpd), climate.leaf_vpd.value) == ("1 pair of readings", None)
    with_leaf = climate_of(
        run_of(readings=[degrees("air_temperature", 25), percent(60), degrees("leaf_temperature", 23)])
    )
    assert isinstance(with_leaf.leaf_vpd.value, Quantity)
    assert with_leaf.leaf_vpd.value.low == pytest.approx(0.909, abs=5e-4)


def test_readings_of_two_visits_or_tubs_are_no_pair() -> None:
    """A temperature is never paired with a humidity of another time or place."""
    other_day = climate_of(run_of(readings=[degrees("air_temperature", 25), percent(60, day=10)]))
    other_tub = climate_of(run_of(readings=[degrees("air_temperature", 25, "left"), percent(60, "right")]))
    assert (other_day.vpd.value, other_tub.vpd.value) == (None, None)
    assert remarks_of(other_day.vpd) == "air temperature and humidity were not recorded together"


def exported(warm: tuple[float, ...], damp: tuple[float, ...], *, late: int = 0) -> Run:
    """Two exports of one tub, a sample an hour; the second may begin some minutes later."""
    start = dt.datetime(2025, 3, 1)
    times = [start + dt.timedelta(hours=hour) for hour in range(len(warm))]
    other = [time + dt.timedelta(minutes=late) for time in times]
    exports = (
        Export("air_temperature", "tub", place(1), tuple(times), warm, "°C"),
        Export("humidity", "tub", place(2), tuple(other), damp, "%"),
    )
    run = run_of()
    return replace(run, rows=replace(run.rows, exports=exports))


def test_exports_are_paired_by_time() -> None:
    """The day's mean is that of the deficits, not the deficit of the mean temperature."""
    (day,) = climate_of(exported((15, 25), (60, 60))).vpd_daily
    assert day.mean == pytest.approx((0.4 * 1.705 + 0.4 * 3.168) / 2, abs=5e-4)
    assert climate_of(exported((15, 25), (60, 60), late=5)).vpd_daily == ()
