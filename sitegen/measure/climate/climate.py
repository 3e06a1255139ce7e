"""Air, humidity, water temperature, hours of light and degree days.

In: readings and sensor exports, the crop's base temperature. Out: `Climate`. Exports are reduced to daily ranges;
what was not recorded stays empty. Without a base or a sensor there are no degree days; days without samples are never
filled in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from sitegen.core.facts.figure import NOT_RECORDED, Figure, Label, counted_remark, remark
from sitegen.core.facts.indices import DailyRange, TubClimate
from sitegen.core.facts.tree import Climate, PlotPoint
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Crop, Tub
from sitegen.core.reference.base_temperatures import base_temperature_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, total
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.day_night import by_light
from sitegen.measure.climate.light import (
    dli_of,
    energy_of,
    lamp_energy,
    light_sum_of,
    mean_dli_of,
    settings_of,
)
from sitegen.measure.climate.light_readings import light_readings, lit_settings
from sitegen.measure.climate.sensors import (
    DIMENSIONS,
    days_of,
    gap_figures,
    samples_by_tub,
    series_of,
)
from sitegen.measure.climate.vapour import Sampled, leaf_deficit, pairs_of, sampled_deficit, vapour_figure
from sitegen.measure.methods import day_key, figure, formula
from sitegen.measure.ranges import reading_range
from sitegen.measure.run.axis import end_of

CHARTED = (*DIMENSIONS, "ppfd")


@formula(reads=("entries.day", "events.day", "crop.base_temperature"))
def degree_days(lowest_c: float, highest_c: float, base_c: float) -> float:
    """Degree days.

    Of one day; a run's are their sum over the days that a sensor covered.

    Parameters
    ----------
    lowest_c, highest_c
        Air temperature of the day [°C].
    base_c
        Below which the crop does not develop [°C].

    Returns
    -------
    float
        Degree days [°C d], never below 0.

    Notes
    -----
    Method 1 of the source, with the mean of the day's two extremes::

        max(0, (T max + T min) / 2 - T base)

    Method 2 raises either extreme to the base first; it gives more where a night falls below the base. There is
    no upper limit here. In a room of nearly constant temperature degree days say little more than days do.

    References
    ----------
    McMaster, G. S. and Wilhelm, W. W. (1997). Growing degree-days: one equation, two interpretations. Agricultural
    and Forest Meteorology 87, 291-300 (method 1).

    """
    return max(0.0, (highest_c + lowest_c) / 2 - base_c)


def _base(crop: Crop) -> tuple[float, str | Label] | None:
    """The base [°C] and its source: the journal's own, else a published one."""
    if crop.base_temperature is not None:
        source = crop.base_temperature_source or Label("own base temperature", "site")
        return crop.base_temperature.middle, source
    published = base_temperature_of(crop)
    return (published.celsius, published.source) if published else None


def degree_days_of(run: Run, name: str, days: Sequence[DailyRange]) -> Figure:
    """Degree days from sowing to the end of the run or of the log."""
    base = _base(run.setup.crop)
    end = end_of(run) or Day.on(run.last_day)
    sampled = [day for day in days if 0 <= day.day <= end.last]
    known = [day for day in sampled if day.whole]
    if base is None or not known:
        few = counted_remark("days_with_few_samples", len(sampled)) or remark("no_air_sensor")
        return figure(name, None, degree_days, (), remark("base_unknown") if base is None else few)
    each = {day.day: degree_days(day.low, day.high, base[0]) for day in known}
    least = math.fsum(amount for day, amount in each.items() if day <= end.first)
    most = math.fsum(each.values()) if len(known) == end.last + 1 else None
    value = Quantity(least, most, Dimension.HEAT_SUM, about=end.about, step=1)
    rows = [export.source for export in run.rows.exports if export.name == "air_temperature"]
    return figure(
        name,
        value,
        degree_days,
        rows,
        remark("above_base", temperature=base[0], source=base[1]),
        counted_remark("days_without_samples", end.last + 1 - len(sampled), all=end.last + 1),
        counted_remark("days_with_few_samples", len(sampled) - len(known)),
    )


def _figure(run: Run, path: str, name: str, daily: Iterable[DailyRange]) -> Figure:
    """The range of readings and exports together."""
    readings = run.rows.read(name)
    sampled = [Quantity(d.low, d.high, DIMENSIONS[name]) for d in daily]
    value = reading_range([*(reading.value for reading in readings), *sampled])
    exports = [export for export in run.rows.exports if export.name == name]
    undated = remark("export_not_dated") if exports and not run.setup.dated else None
    return figure(
        f"climate.{path}",
        value,
        reading_range,
        [*(reading.source for reading in readings), *(export.source for export in exports)],
        counted_remark("readings", len(readings)),
        counted_remark("sensor_days", len(sampled)),
        undated,
        None if value or undated else NOT_RECORDED,
    )


def _light_hours(run: Run) -> Figure:
    lights = sorted(run.rows.lights, key=lambda light: (*day_key(light.day), light.source))
    known = [
        (light, exactly(0, Dimension.DURATION) if light.use.off else light.use.hours) for light in lights
    ]
    hours = [(light, value) for light, value in known if value is not None]
    rows = (light.source for light, _ in hours)
    value = reading_range([value for _, value in hours])
    changed = remark("setting_changed") if len({value for _, value in hours}) > 1 else None
    return figure("climate.light_hours", value, reading_range, rows, None if hours else NOT_RECORDED, changed)


def _readings(run: Run) -> tuple[PlotPoint, ...]:
    """Readings of air, water and light; `at` is the kind of reading."""
    wanted = (reading for reading in run.rows.readings if reading.name in CHARTED)
    found = sorted(wanted, key=lambda r: (*day_key(r.day), r.source))
    return tuple(PlotPoint(r.day, r.tub, r.value, r.source, r.name, r.moment) for r in found)


def _tub(run: Run, tub: Tub, sampled: Sampled) -> TubClimate:
    """Light, current and warmth of a tub; a sensor of no tub stands for all of them."""
    path, settings = f"climate.tubs.{tub.id}", settings_of(run, tub.id)
    air = sampled["air_temperature"]
    own = tub.id if tub.id in air else ""
    day, night = by_light(
        f"{path}.temperature", run, settings, air.get(own, ()), Dimension.TEMPERATURE, ("air_temperature",)
    )
    both = ("air_temperature", "humidity")
    dry_day, dry_night = by_light(
        f"{path}.vpd", run, settings, pairs_of(sampled, own), Dimension.PRESSURE, both
    )
    lit = lit_settings(settings, light_readings(run, tub.id))
    return TubClimate(
        key=tub.id,
        label=tub.system.name if len(run.setup.tubs) == 1 else tub.id,
        dli=dli_of(lit, f"{path}.dli"),
        mean_dli=mean_dli_of(lit, f"{path}.mean_dli"),
        light_sum=light_sum_of(lit, f"{path}.light_sum"),
        energy=energy_of(run, tub.id, settings, f"{path}.energy"),
        degree_days=degree_days_of(
            run, f"{path}.degree_days", days_of(run, air.get(tub.id) or air.get("", ()))
        ),
        day_temperature=day,
        night_temperature=night,
        day_vpd=dry_day,
        night_vpd=dry_night,
    )


def _energy(tubs: Iterable[TubClimate]) -> Figure:
    """All lamps together; at least that where one is not known."""
    each = [tub.energy for tub in tubs]
    known = [figure.value for figure in each if isinstance(figure.value, Quantity)]
    missing = [Quantity(0.0, None, Dimension.ENERGY, unweighed=1)] * (len(each) - len(known))
    value = total([*known, *missing], Dimension.ENERGY) if known else None
    return figure(
        "climate.energy",
        value,
        lamp_energy,
        (row for one in each for row in one.rows),
        *(said for one in each for said in one.remarks),
        remark("lamp_a_tub") if len(each) > 1 else None,
    )


def climate_of(run: Run) -> Climate:
    """The climate of a run."""
    sampled = {name: samples_by_tub(run, name) for name in DIMENSIONS}
    daily = {
        name: days_of(run, (sample for samples in by_tub.values() for sample in samples))
        for name, by_tub in sampled.items()
    }
    vapour = sampled_deficit(run, sampled)
    tubs = tuple(_tub(run, tub, sampled) for tub in run.setup.tubs)
    return Climate(
        air=_figure(run, "air", "air_temperature", daily["air_temperature"]),
        humidity=_figure(run, "humidity", "humidity", daily["humidity"]),
        water=_figure(run, "water", "water_temperature", daily["water_temperature"]),
        light_hours=_light_hours(run),
        readings=_readings(run),
        air_daily=daily["air_temperature"],
        humidity_daily=daily["humidity"],
        water_daily=daily["water_temperature"],
        vpd_daily=vapour,
        series=series_of(run, sampled),
        vpd=vapour_figure(run, vapour),
        leaf_vpd=leaf_deficit(run),
        energy=_energy(tubs),
        tubs=tubs,
        gaps=gap_figures(run, sampled),
    )
