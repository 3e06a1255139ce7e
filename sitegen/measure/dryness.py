"""Vapour pressure deficit from sensors and single readings.

In: samples and readings of air temperature, humidity and leaves. Out: figures and daily ranges. Never pairs a
temperature with a humidity of another time or place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sitegen.core.facts import DailyRange, Figure
from sitegen.core.finding import Source
from sitegen.core.quantity import Quantity, carry, exactly
from sitegen.core.rows import Reading, Run
from sitegen.core.tongue import tr, tr_n
from sitegen.core.units import Dimension
from sitegen.measure.ranges import reading_range
from sitegen.measure.sensors import Samples, days_of
from sitegen.measure.vapour import leaf_vapour_pressure_deficit, vapour_pressure_deficit
from sitegen.measure.working import figure, remarks

__all__ = ["leaf_deficit", "sampled_deficit", "vapour_figure"]

STEP_KPA = 0.01
Sampled = Mapping[str, Mapping[str, Samples]]
Here = dict[str, Reading]


def sampled_deficit(run: Run, sampled: Sampled) -> tuple[DailyRange, ...]:
    """The deficit of each pair of samples taken at one time by the sensors of one tub, by day."""
    return days_of(run, [pair for tub in sampled["air_temperature"] for pair in _pairs(sampled, tub)])


def _pairs(sampled: Sampled, tub: str) -> Samples:
    humidity = dict(sampled["humidity"].get(tub, ()))
    return tuple(
        (time, vapour_pressure_deficit(warmth, humidity[time]))
        for time, warmth in sampled["air_temperature"][tub]
        if time in humidity
    )


def _together(run: Run, *names: str) -> Iterator[Here]:
    """Single readings of several kinds, taken at one visit at one tub."""
    places: dict[tuple[int | None, str], Here] = {}
    for reading in run.rows.readings:
        if reading.name in names and reading.entry is not None:
            places.setdefault((reading.entry, reading.tub), {})[reading.name] = reading
    yield from (here for here in places.values() if len(here) == len(names))


def _air(here: Here) -> Quantity:
    return carry(
        vapour_pressure_deficit,
        up=[here["air_temperature"].value],
        down=[here["humidity"].value],
        dimension=Dimension.PRESSURE,
        step=STEP_KPA,
    )


def _leaf(here: Here) -> Quantity:
    return carry(
        leaf_vapour_pressure_deficit,
        up=[here["leaf_temperature"].value],
        down=[here["air_temperature"].value, here["humidity"].value],
        dimension=Dimension.PRESSURE,
        step=STEP_KPA,
    )


def vapour_figure(run: Run, daily: tuple[DailyRange, ...]) -> Figure:
    """From the lowest to the highest daily mean of a sensor and single reading."""
    read = list(_together(run, "air_temperature", "humidity"))
    means = [exactly(day.mean, Dimension.PRESSURE, STEP_KPA) for day in daily]
    value = reading_range([*means, *(_air(here) for here in read)])
    note = remarks(
        tr_n("daily means of a sensor on {n} day", "daily means of a sensor on {n} days", len(means))
        if means
        else "",
        tr_n("{n} pair of readings", "{n} pairs of readings", len(read)) if read else "",
        "" if value else tr("air temperature and humidity at one time: not recorded"),
    )
    rows = [*_exports(run), *_sources(read)] if value else ()
    return figure("climate.vpd", value, vapour_pressure_deficit, rows, note)


def _exports(run: Run) -> list[Source]:
    return [export.source for export in run.rows.exports if export.name in ("air_temperature", "humidity")]


def _sources(read: list[Here]) -> list[Source]:
    return [reading.source for here in read for reading in here.values()]


def leaf_deficit(run: Run) -> Figure:
    """At the leaf, where its temperature was logged with that and the humidity of the air."""
    read = list(_together(run, "leaf_temperature", "air_temperature", "humidity"))
    value = reading_range([_leaf(here) for here in read])
    note = (
        tr_n("{n} visit", "{n} visits", len(read))
        if read
        else tr("leaf temperature: not recorded with those of the air")
    )
    return figure("climate.leaf_vpd", value, leaf_vapour_pressure_deficit, _sources(read), note)
