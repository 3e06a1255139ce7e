"""Day and night by the lamp: mean temperature and vapour pressure deficit while it is on, and while it is off.

In: a tub's lamp settings with the time at which it goes on, and samples of sensors. Out: figures. Times are those of the
clock of the journal's zone. A period that a change may have fallen into is left out. Where the lamp's hours are a
range the means are from the lowest to the highest that they allow.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from itertools import accumulate, groupby, pairwise
from statistics import fmean, median

from sitegen.core.facts.figure import NO_FIGURE, Figure, counted_remark, remark
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.light import Setting
from sitegen.measure.climate.sensors import WHOLE_DAY, Samples
from sitegen.measure.methods import Conditions, figure, formula

A_DAY, HOURS_A_DAY = timedelta(days=1), 24.0
# As sensors resolve; common practice, no source.
STEPS = {Dimension.TEMPERATURE: 0.1, Dimension.PRESSURE: 0.01}


@dataclass(frozen=True, slots=True)
class Period:
    """A stretch of light or of dark, at most from `since` to `until`; at least the stretch `sure`, which is a part of it.

    Light begins when the lamp goes on, which is known, and ends when it goes off; dark ends when it goes on again.
    """

    since: datetime
    until: datetime
    sure: timedelta
    lit: bool
    about: bool = False


ALIKE: Conditions = {"the samples that may be of either are alike": ("lights.day", "lights.hours")}


@formula(reads=("lights.day", "lights.hours"), exact_if=ALIKE)
def mean_of_periods(means: Sequence[float]) -> float:
    """Mean by day and by night.

    Of the air while the lamp is on, and while it is off.

    Parameters
    ----------
    means
        The mean of the readings of each period, at least one [°C, or kPa].

    Returns
    -------
    float
        Mean [°C, or kPa]; each period weighs the same.

    Notes
    -----
    ::

        mean = Σ (mean of the readings of a period) / number of periods

    A period goes on at the lamp's time and lasts its hours; the night goes on over midnight, until the lamp goes on
    again. Times are by the clock of the journal's zone: a timer that was not set when the clocks changed would be an hour
    off. The deficit is taken of each pair of temperature and humidity read at one time, then averaged. A period with
    fewer than half of the readings that the sensor's usual interval gives is left out, and so is one on a day on which
    the lamp's setting may have been changed; where that day is not certain the mean is about. Where the hours are a range
    the mean is from the lowest to the highest that they allow. Half is common practice and has no source.

    References
    ----------
    By definition of the quantities.

    """
    return fmean(means)


def periods_of(run: Run, settings: Sequence[Setting]) -> Iterator[Period]:
    """The periods of a tub's lamp on days of one schedule; none where no time of going on is known."""
    start = run.setup.start.date
    if start is None or not run.setup.dated:
        return
    for schedule, group in groupby(settings, key=_schedule):
        lasting = list(group)
        if schedule is None:
            continue
        since, until = lasting[0].since, lasting[-1].until
        # On the day of a change it is not known at what time.
        first = since.last + (lasting[0].entry is not None)
        end = datetime.combine(start + until.first * A_DAY, time())
        on, hours = schedule
        vague = any(day.about or not day.single for day in (since, until)) or hours.about or hours.by_eye
        for day in range(first, until.first):
            goes_on = datetime.combine(start + day * A_DAY, time()) + timedelta(minutes=on)
            found = _of_day(goes_on, hours)
            yield from (replace(period, about=vague) for period in found if period.until <= end)


def _schedule(setting: Setting) -> tuple[int, Quantity] | None:
    """When the lamp goes on and for how long; None where either is not known."""
    use = setting.use
    if use.off or use.on is None or use.hours is None:
        return None
    return use.on, use.hours


def _of_day(goes_on: datetime, hours: Quantity) -> Iterator[Period]:
    """Light and dark from the moment the lamp goes on until it does again; those of which a part is sure."""
    again = goes_on + A_DAY
    least = timedelta(hours=min(hours.low, HOURS_A_DAY))
    most = A_DAY if hours.high is None else timedelta(hours=min(hours.high, HOURS_A_DAY))
    found = (
        Period(goes_on, goes_on + most, least, lit=True),
        Period(goes_on + least, again, A_DAY - most, lit=False),
    )
    yield from (period for period in found if period.sure)


def by_light(
    name: str,
    run: Run,
    settings: Sequence[Setting],
    samples: Samples,
    dimension: Dimension,
    kinds: Sequence[str],
) -> tuple[Figure, Figure]:
    """The mean of a sensor's samples by day and by night, as `day_…` and `night_…`; `kinds` are those of its exports.

    No figure where the journal does not say when the lamp goes on.
    """
    if not any(map(_schedule, settings)):
        return NO_FIGURE, NO_FIGURE
    periods = list(periods_of(run, settings))
    exports = [export.source for export in run.rows.exports if export.name in kinds]
    rows = [*exports, *(setting.source for setting in settings if setting.source)]
    path, _, last = name.rpartition(".")
    day, night = (
        _mean(f"{path}.{word}_{last}", [p for p in periods if p.lit is lit], samples, dimension, rows)
        for word, lit in (("day", True), ("night", False))
    )
    return day, night


def _mean(
    name: str, periods: Sequence[Period], samples: Samples, dimension: Dimension, rows: Sequence[Source]
) -> Figure:
    """The mean of the periods that have enough samples."""
    times = [moment for moment, _ in samples]
    usual = median([(later - earlier).total_seconds() for earlier, later in pairwise(times)] or [math.inf])
    found: list[tuple[float, float]] = []
    about, few = False, 0
    for period in periods:
        inside = samples[bisect_left(times, period.since) : bisect_left(times, period.until)]
        if not inside:
            continue
        bounds = _bounds(period, inside, usual)
        if bounds is None:
            few += 1
        else:
            found.append(bounds)
            about = about or period.about
    if not found:
        missing = counted_remark("periods_with_few_samples", few) or remark("no_samples_by_light")
        return figure(name, None, mean_of_periods, (), missing)
    low, high = (mean_of_periods(ends) for ends in zip(*found, strict=True))
    value = Quantity(low, high, dimension, about=about, step=STEPS[dimension])
    counts = (counted_remark("periods", len(found)), counted_remark("periods_with_few_samples", few))
    return figure(name, value, mean_of_periods, rows, *counts)


def _bounds(period: Period, inside: Samples, usual: float) -> tuple[float, float] | None:
    """The lowest and the highest mean of a period, wherever it ended inside its bounds; None with few samples."""
    if (
        len({moment for moment, _ in inside}) * usual
        < WHOLE_DAY * (period.until - period.since).total_seconds()
    ):
        return None
    values = [value for _, value in inside]
    edge = period.since + period.sure if period.lit else period.until - period.sure
    before = sum(moment < edge for moment, _ in inside)
    sure = before if period.lit else len(inside) - before
    if sure * usual < WHOLE_DAY * period.sure.total_seconds():
        return None
    ordered = values if period.lit else values[::-1]
    means = [total / number for number, total in enumerate(accumulate(ordered), 1) if number >= max(1, sure)]
    return min(means), max(means)
