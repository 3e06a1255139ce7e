"""Readings side by side: the range they span, and the points to draw.

In: readings. Out: an interval from the lowest to the highest, `PlotPoint`s. Never averages over days
without a reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from sitegen.core.facts.remark import NOT_RECORDED, Remark, counted_remark
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.measure.methods import formula


@formula
def reading_range(values: Sequence[Quantity]) -> Quantity | None:
    """Lowest to highest reading.

    The span of what was read, not of what was there between the readings.

    Parameters
    ----------
    values
        Readings of one kind.

    Returns
    -------
    Quantity or None
        From the lowest to the highest [as read]; None without a reading.

    Notes
    -----
    ::

        range = min(readings) to max(readings)

    """
    if not values:
        return None
    highs = [value.high for value in values if value.high is not None]
    return replace(
        values[0],
        low=min(value.low for value in values),
        high=max(highs) if len(highs) == len(values) else None,
        about=any(value.about for value in values),
        by_eye=any(value.by_eye for value in values),
        open=sum(value.open for value in values),
        unweighed=sum(value.unweighed for value in values),
        step=max(value.step for value in values),
    )


def range_remark(readings: int) -> Remark:
    """How many readings stand behind a range."""
    return counted_remark("readings", readings) or NOT_RECORDED


def points(readings: Iterable[tuple[Reading, str]]) -> tuple[PlotPoint, ...]:
    """Readings with their subjects, ready to be drawn."""
    return tuple(PlotPoint(r.day, subject, r.value, r.source, r.at, r.moment) for r, subject in readings)
