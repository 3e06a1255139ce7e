"""Degree days: warmth above the temperature at which a crop begins to develop.

In: daily ranges of air temperature, the crop's base temperature. Out: a figure. Without a base or a sensor there
are no degree days; days without samples are never filled in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.indices import DailyRange
from sitegen.core.facts.remark import Label, counted_remark, remark
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Crop
from sitegen.core.reference.base_temperatures import base_temperature_of
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import formula
from sitegen.measure.working import figure


@formula
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
    last = run.ended.day.last if run.ended else run.last_day
    known = [day for day in days if 0 <= day.day <= last]
    if base is None or not known:
        return figure(
            name, None, degree_days, (), remark("base_unknown" if base is None else "no_air_sensor")
        )
    whole = math.fsum(degree_days(day.low, day.high, base[0]) for day in known)
    missing = last + 1 - len(known)
    value = Quantity(whole, None if missing else whole, Dimension.HEAT_SUM, step=1)
    rows = [export.source for export in run.rows.exports if export.name == "air_temperature"]
    return figure(
        name,
        value,
        degree_days,
        rows,
        remark("above_base", temperature=base[0], source=base[1]),
        counted_remark("days_without_samples", missing, all=last + 1),
    )
