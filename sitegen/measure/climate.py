"""Air, humidity, water temperature and hours of light.

In: readings and sensor exports. Out: `Climate`. Exports are reduced to daily ranges; what was not recorded
stays empty.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from sitegen.core.facts import Climate, DailyRange, Figure, PlotPoint
from sitegen.core.quantity import Quantity, exactly
from sitegen.core.rows import Export, Run
from sitegen.core.text import plural
from sitegen.core.units import CANONICAL, Dimension, unit_named
from sitegen.measure.ranges import reading_range
from sitegen.measure.working import day_key, figure, remarks

__all__ = ["climate_of", "daily_range"]

DIMENSIONS = {
    "air_temperature": Dimension.TEMPERATURE,
    "humidity": Dimension.SHARE,
    "water_temperature": Dimension.TEMPERATURE,
}


def daily_range(day: int, values: Sequence[float]) -> DailyRange:
    """Daily range of a sensor.

    Parameters
    ----------
    day
        Day of the experiment [day].
    values
        All samples of that day, at least one [as exported, in the canonical unit].

    Returns
    -------
    DailyRange
        Lowest, mean and highest sample, and how many there were.

    Notes
    -----
    ::

        mean = Σ sample / number of samples

    Every sample weighs the same: a day with a gap leans towards the hours that were logged.

    """
    return DailyRange(day, min(values), math.fsum(values) / len(values), max(values), len(values))


def _samples(export: Export, name: str) -> Iterator[tuple[datetime, float]]:
    """The samples that are numbers, in the canonical unit."""
    unit = unit_named(export.unit, DIMENSIONS[name]) or CANONICAL[DIMENSIONS[name]]
    as_is = (
        unit == CANONICAL[DIMENSIONS[name]]
    )  # exact conversion of a long series is slow where it changes nothing
    for time, value in zip(export.times, export.values, strict=True):
        if math.isfinite(value):
            yield time, value if as_is else unit.to_canonical(value)


def _daily(run: Run, name: str) -> tuple[DailyRange, ...]:
    """Exports of one name by day; nothing where day 0 has no date."""
    if run.setup.start.date is None or not run.setup.dated:
        return ()
    days: dict[int, list[float]] = {}
    for export in (export for export in run.rows.exports if export.name == name):
        for time, value in _samples(export, name):
            days.setdefault((time.date() - run.setup.start.date).days, []).append(value)
    return tuple(daily_range(day, days[day]) for day in sorted(days))


def _figure(run: Run, path: str, name: str, daily: Iterable[DailyRange]) -> Figure:
    """The range of readings and exports together."""
    readings = run.rows.read(name)
    sampled = [Quantity(d.low, d.high, DIMENSIONS[name]) for d in daily]
    value = reading_range([*(reading.value for reading in readings), *sampled])
    exports = [export for export in run.rows.exports if export.name == name]
    undated = (
        "a sensor's export has no place: the start is not dated" if exports and not run.setup.dated else ""
    )
    note = remarks(
        plural(len(readings), "reading") if readings else "",
        f"a sensor on {plural(len(sampled), 'day')}" if sampled else "",
        undated,
        "" if value or undated else "not recorded",
    )
    rows = [*(reading.source for reading in readings), *(export.source for export in exports)]
    return figure(f"climate.{path}", value, reading_range, rows, note)


def _light_hours(run: Run) -> Figure:
    lights = sorted(run.rows.lights, key=lambda light: (*day_key(light.day), light.source))
    known = [
        (light, exactly(0, Dimension.DURATION) if light.use.off else light.use.hours) for light in lights
    ]
    hours = [(light, value) for light, value in known if value is not None]
    rows = (light.source for light, _ in hours)
    unsaid = "not recorded" if not hours else ""
    changed = len({value for _, value in hours}) > 1
    note = remarks(unsaid, "the setting was changed" if changed else "")
    return figure("climate.light_hours", reading_range([v for _, v in hours]), reading_range, rows, note)


def _readings(run: Run) -> tuple[PlotPoint, ...]:
    """Readings of air and water; `at` is what was read."""
    wanted = (reading for reading in run.rows.readings if reading.name in DIMENSIONS)
    found = sorted(wanted, key=lambda r: (*day_key(r.day), r.source))
    return tuple(PlotPoint(r.day, r.tub, r.value, r.source, r.name, r.moment) for r in found)


def climate_of(run: Run) -> Climate:
    """What the plants stood in."""
    daily = {name: _daily(run, name) for name in DIMENSIONS}
    return Climate(
        air=_figure(run, "air", "air_temperature", daily["air_temperature"]),
        humidity=_figure(run, "humidity", "humidity", daily["humidity"]),
        water=_figure(run, "water", "water_temperature", daily["water_temperature"]),
        light_hours=_light_hours(run),
        readings=_readings(run),
        air_daily=daily["air_temperature"],
        humidity_daily=daily["humidity"],
    )
