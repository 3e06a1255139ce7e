"""The stretch of days that a chart draws, so that most of its width is not empty.

In: the first and the last day that have something to draw, and the day axis of the run. Out: the days between which the
chart is drawn, in steps of the axis.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.language.catalogue import tr
from sitegen.core.values.day import AXIS_STEP, Day, DayAxis

_LONG = 1 / 3  # of the axis, empty before or after: so much is left out; custom, no source
_ROOM = 2  # days left empty at either end


def begins(first: float, axis: DayAxis) -> int:
    """Day 0, or a day shortly before the first mark, where that is long after."""
    day = int((first - _ROOM) // AXIS_STEP * AXIS_STEP)
    return day if day >= _LONG * axis.end else 0


def ends(last: float, axis: DayAxis) -> int:
    """The last day of the run's axis, or a day shortly after the last mark, where that is long before."""
    day = int(-(-(last + _ROOM) // AXIS_STEP) * AXIS_STEP)
    return day if axis.end - day >= _LONG * axis.end else axis.end


def stretch(days: Iterable[Day], axis: DayAxis) -> tuple[int, int]:
    """The first and the last day of a chart of readings."""
    reaches = [day.reach for day in days]
    return begins(min(first for first, _ in reaches), axis), ends(max(last for _, last in reaches), axis)


def stretch_note(first: int, last: int, axis: DayAxis) -> str:
    """A sentence on the days of a chart of readings; empty where these are all."""
    if (first, last) == (0, axis.end):
        return ""
    return tr(
        "Only days {first} to {last} are drawn; there are no readings outside them.", first=first, last=last
    )
