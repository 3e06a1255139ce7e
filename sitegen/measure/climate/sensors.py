"""Sensor exports reduced to days, and the holes in them.

In: exports. Out: samples by tub, `DailyRange`s, gaps. Never fills a gap and never spreads one day's samples over
another.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from statistics import median

from sitegen.core.facts.figure import Label, Named, Remark, counted_remark, remark
from sitegen.core.facts.indices import DailyRange, SensorSeries
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Run
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.core.values.units import CANONICAL, Dimension, unit_named
from sitegen.measure.methods import figure, formula

DIMENSIONS = {
    "air_temperature": Dimension.TEMPERATURE,
    "humidity": Dimension.SHARE,
    "water_temperature": Dimension.TEMPERATURE,
}
GAP = 3  # times the usual interval; common practice, no source
WHOLE_DAY = 0.5  # of the usual number of samples; common practice, no source
SECONDS_A_DAY = 24 * 60 * 60
NAMED_GAPS = 3  # more are counted, not listed

Samples = tuple[tuple[datetime, float], ...]


@formula(reads=())
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

        mean = Σ reading / number of readings

    Every reading weighs the same: a day with a gap leans towards the hours that were logged. A day with fewer than
    half of the readings that the sensor's usual interval gives counts as a part of a day: neither its mean nor its degree
    days count. Half is common practice and has no source.

    """
    return DailyRange(day, min(values), math.fsum(values) / len(values), max(values), len(values))


@formula(reads=())
def sensor_gaps(times: Sequence[datetime]) -> tuple[tuple[datetime, datetime], ...]:
    """Gaps in a sensor's series.

    Parameters
    ----------
    times
        Of its samples, in order.

    Returns
    -------
    tuple[tuple[datetime, datetime], ...]
        The last sample before each gap and the first one after it.

    Notes
    -----
    With the median of all intervals as the usual one::

        gap: interval > 3 · usual interval

    Three times is common practice and has no source.

    """
    intervals = [(later - earlier).total_seconds() for earlier, later in pairwise(times)]
    if not intervals:
        return ()
    longest = GAP * median(intervals)
    return tuple((a, b) for a, b in pairwise(times) if (b - a).total_seconds() > longest)


def _canonical(export: Export, dimension: Dimension) -> Iterator[tuple[datetime, float]]:
    """The samples that are numbers, in the canonical unit."""
    unit = unit_named(export.unit, dimension) or CANONICAL[dimension]
    as_is = unit == CANONICAL[dimension]  # exact conversion of a long series is slow where it changes nothing
    for time, value in zip(export.times, export.values, strict=True):
        if math.isfinite(value):
            yield time, value if as_is else unit.to_canonical(value)


def samples_by_tub(run: Run, name: str) -> dict[str, Samples]:
    """All samples of one kind in the order of time, by tub; the empty name is a sensor of no tub."""
    found: dict[str, list[tuple[datetime, float]]] = {}
    for export in (export for export in run.rows.exports if export.name == name):
        found.setdefault(export.tub, []).extend(_canonical(export, DIMENSIONS[name]))
    return {tub: tuple(sorted(samples)) for tub, samples in found.items()}


def days_of(run: Run, samples: Iterable[tuple[datetime, float]]) -> tuple[DailyRange, ...]:
    """Samples by day; nothing where day 0 has no date."""
    start = run.setup.start
    if start.date is None or not run.setup.dated:
        return ()
    days: dict[int, list[float]] = {}
    times: dict[int, set[datetime]] = {}
    for time, value in samples:
        day = (time.date() - start.date).days
        days.setdefault(day, []).append(value)
        times.setdefault(day, set()).add(time)
    wanted = WHOLE_DAY * _usual_number(sorted(time for each in times.values() for time in each))
    return tuple(
        replace(daily_range(day, days[day]), whole=len(times[day]) >= wanted) for day in sorted(days)
    )


def _usual_number(times: Sequence[datetime]) -> float:
    """How many samples the usual interval of a sensor gives in a day."""
    intervals = [(later - earlier).total_seconds() for earlier, later in pairwise(times)]
    return SECONDS_A_DAY / median(intervals) if intervals else math.inf


def series_of(run: Run, sampled: Mapping[str, Mapping[str, Samples]]) -> tuple[SensorSeries, ...]:
    """Each sensor by itself."""
    return tuple(
        SensorSeries(name, tub, days_of(run, samples))
        for name, by_tub in sampled.items()
        for tub, samples in by_tub.items()
    )


def _longest(run: Run, gaps: Sequence[tuple[datetime, datetime]]) -> list[Remark]:
    """The longest gaps: from which day, how long."""
    start = run.setup.start.date
    longest = sorted(gaps, key=lambda gap: gap[0] - gap[1])[:NAMED_GAPS]
    parts = []
    for before, after in sorted(longest):
        dated = start is not None and run.setup.dated
        day = Day.on((before.date() - start).days) if start and dated else before.date().isoformat()
        parts.append(remark("gap", hours=(after - before).total_seconds() / 3600, day=day))
    more = counted_remark("shorter_gaps", len(gaps) - len(parts))
    return [*parts, more] if more else parts


def gap_figures(run: Run, sampled: Mapping[str, Mapping[str, Samples]]) -> tuple[Named, ...]:
    """How many gaps each sensor has."""
    return tuple(
        _gaps(run, name, tub, samples) for name, by_tub in sampled.items() for tub, samples in by_tub.items()
    )


def _gaps(run: Run, name: str, tub: str, samples: Samples) -> Named:
    key = slug(f"{name.replace('_', ' ')} {tub}")
    gaps = sensor_gaps([time for time, _ in samples])
    rows = [e.source for e in run.rows.exports if (e.name, e.tub) == (name, tub)]
    label = Label(name, "reading", tub if len(run.setup.tubs) > 1 else "")
    return Named(
        key, label, figure(f"climate.gaps.{key}", counted(len(gaps)), sensor_gaps, rows, *_longest(run, gaps))
    )
