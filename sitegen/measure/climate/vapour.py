"""Vapour pressure deficit of the air and at the leaf.

In: temperatures and humidities. Out: pressures, as plain numbers. Outside -20 to 60 °C the equation is not meant to
be used.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sitegen.core.facts.figure import Figure, counted_remark, remark
from sitegen.core.facts.indices import DailyRange
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Reading, Run
from sitegen.core.values.quantity import Quantity, exactly, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.sensors import Samples, days_of
from sitegen.measure.methods import figure, formula
from sitegen.measure.ranges import reading_range

# FAO-56, eq. 11: Tetens' equation over water.
E0_KPA, SLOPE, OFFSET_C = 0.6108, 17.27, 237.3


@formula(reads=("readings.value",))
def saturation_vapour_pressure(temperature_c: float) -> float:
    """Saturation vapour pressure.

    Parameters
    ----------
    temperature_c
        Of the air [°C].

    Returns
    -------
    float
        Pressure of water vapour in saturated air [kPa].

    Notes
    -----
    With T in °C::

        e₀(T) = 0.6108 · exp(17.27 T / (T + 237.3))

    Other equations differ from it by less than half a per cent between 0 and 40 °C.

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equation 11.

    """
    return E0_KPA * math.exp(SLOPE * temperature_c / (temperature_c + OFFSET_C))


@formula(reads=("readings.value",))
def vapour_pressure_deficit(temperature_c: float, humidity_percent: float) -> float:
    """Vapour pressure deficit of the air.

    Parameters
    ----------
    temperature_c
        Of the air [°C].
    humidity_percent
        Relative humidity, 0 to 100 [%].

    Returns
    -------
    float
        Deficit [kPa]; 0 in saturated air.

    Notes
    -----
    ::

        VPD = e₀(T) · (1 - RH/100)

    Taken of each pair of temperature and humidity read at one time, then averaged over the day: the deficit of a day's
    mean temperature would be lower.

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equations 10 and 11.

    """
    return saturation_vapour_pressure(temperature_c) * (1 - humidity_percent / 100) + 0.0


@formula(reads=("readings.value",))
def leaf_vapour_pressure_deficit(leaf_c: float, air_c: float, humidity_percent: float) -> float:
    """Vapour pressure deficit at the leaf.

    Only where the temperature of a leaf was logged: it is never guessed from that of the air.

    Parameters
    ----------
    leaf_c, air_c
        Of the leaf and of the air [°C].
    humidity_percent
        Relative humidity of the air, 0 to 100 [%].

    Returns
    -------
    float
        Deficit [kPa]; below 0 where water condenses on the leaf.

    Notes
    -----
    ::

        VPD leaf = e₀(T leaf) - e₀(T air) · RH/100

    References
    ----------
    Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop Evapotranspiration. FAO Irrigation and Drainage
    Paper 56, equation 11, at both temperatures.

    """
    return saturation_vapour_pressure(leaf_c) - saturation_vapour_pressure(air_c) * humidity_percent / 100


STEP_KPA = 0.01
Sampled = Mapping[str, Mapping[str, Samples]]
ReadingsByKind = dict[str, Reading]


def sampled_deficit(run: Run, sampled: Sampled) -> tuple[DailyRange, ...]:
    """The deficit of each pair of samples taken at one time by the sensors of one tub, by day."""
    return days_of(run, [pair for tub in sampled["air_temperature"] for pair in pairs_of(sampled, tub)])


def pairs_of(sampled: Sampled, tub: str) -> Samples:
    """The deficit at each time at which the sensors of a tub have both samples."""
    humidity = dict(sampled["humidity"].get(tub, ()))
    return tuple(
        (time, vapour_pressure_deficit(warmth, humidity[time]))
        for time, warmth in sampled["air_temperature"].get(tub, ())
        if time in humidity
    )


def _together(run: Run, *names: str) -> Iterator[ReadingsByKind]:
    """Single readings of several kinds, taken at one visit at one tub; of two of a kind, the later in the log."""
    places: dict[tuple[int | None, str], ReadingsByKind] = {}
    for reading in sorted(run.rows.readings, key=lambda reading: reading.source):
        if reading.name in names and reading.entry is not None:
            places.setdefault((reading.entry, reading.tub), {})[reading.name] = reading
    complete = (visit for visit in places.values() if len(visit) == len(names))
    yield from ({name: visit[name] for name in names} for visit in complete)


def _air(visit: ReadingsByKind) -> Quantity:
    return propagate(
        vapour_pressure_deficit,
        increasing=[visit["air_temperature"].value],
        decreasing=[visit["humidity"].value],
        dimension=Dimension.PRESSURE,
        step=STEP_KPA,
    )


def _leaf(visit: ReadingsByKind) -> Quantity:
    return propagate(
        leaf_vapour_pressure_deficit,
        increasing=[visit["leaf_temperature"].value],
        decreasing=[visit["air_temperature"].value, visit["humidity"].value],
        dimension=Dimension.PRESSURE,
        step=STEP_KPA,
    )


def vapour_figure(run: Run, daily: tuple[DailyRange, ...]) -> Figure:
    """From the lowest to the highest daily mean of a sensor and single reading."""
    read = list(_together(run, "air_temperature", "humidity"))
    means = [exactly(day.mean, Dimension.PRESSURE, STEP_KPA) for day in daily if day.whole]
    value = reading_range([*means, *(_air(visit) for visit in read)])
    rows = [*_exports(run), *_sources(read)] if value else ()
    return figure(
        "climate.vpd",
        value,
        vapour_pressure_deficit,
        rows,
        counted_remark("sensor_means", len(means)),
        counted_remark("days_with_few_samples", len(daily) - len(means)),
        counted_remark("paired_readings", len(read)),
        None if value else remark("no_paired_readings"),
    )


def _exports(run: Run) -> list[Source]:
    return [export.source for export in run.rows.exports if export.name in ("air_temperature", "humidity")]


def _sources(read: list[ReadingsByKind]) -> list[Source]:
    return [reading.source for visit in read for reading in visit.values()]


def leaf_deficit(run: Run) -> Figure:
    """At the leaf, where its temperature was logged with that and the humidity of the air."""
    read = list(_together(run, "leaf_temperature", "air_temperature", "humidity"))
    value = reading_range([_leaf(visit) for visit in read])
    visits = counted_remark("visits", len(read)) or remark("leaf_temperature_not_recorded")
    return figure("climate.leaf_vpd", value, leaf_vapour_pressure_deficit, _sources(read), visits)
