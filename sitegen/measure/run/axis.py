"""The one day axis of an experiment, its length and its last entry.

In: a run. Out: `DayAxis` and two figures. Never looks at the clock: a running experiment is as long as its
log.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.facts.figure import Figure, remark
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import day_key, figure, formula


@formula
def day_count(end: Day) -> Quantity:
    """Length in days.

    From sowing, which is day 0, to the end that the log records; to its last entry while there is no end.

    Parameters
    ----------
    end
        The day of the end or of the last entry [day].

    Returns
    -------
    Quantity
        Days since sowing [days].

    Notes
    -----
    ::

        length = last day - 0

    """
    return Quantity(end.first, end.last, Dimension.DAYS, about=end.about, step=1)


@formula
def first_day(days: Iterable[Day]) -> Day | None:
    """First day seen.

    The earliest day on which the log says that it was there. It may have been there unseen since the visit
    before.

    Parameters
    ----------
    days
        The days on which it was seen [day].

    Returns
    -------
    Day or None
        The earliest; None where it was never seen.

    Notes
    -----
    ::

        first = min(days)

    """
    return min(days, key=day_key, default=None)


@formula
def last_day(days: Iterable[Day]) -> Day | None:
    """Last day seen.

    Parameters
    ----------
    days
        The days on which it was seen [day].

    Returns
    -------
    Day or None
        The latest; None where it was never seen.

    Notes
    -----
    ::

        last = max(days)

    """
    return max(days, key=lambda day: (day.last, day.first), default=None)


def axis_of(run: Run) -> DayAxis:
    """The axis that everything of the run is drawn on."""
    return DayAxis.covering(run.last_day, run.setup.start)


def _last_entry(run: Run) -> tuple[Day | None, tuple[Source, ...]]:
    day = last_day(entry.day for entry in run.rows.entries)
    return day, tuple(entry.source for entry in run.rows.entries if entry.day == day)[-1:]


def length_of(run: Run) -> Figure:
    """How long the run took, or has taken."""
    if run.ended is not None:
        return figure("length", day_count(run.ended.day), day_count, (run.ended.source,))
    day, rows = _last_entry(run)
    value = None if day is None else day_count(day)
    return figure("length", value, day_count, rows, remark("to_last_entry" if day else "no_entry"))


def last_entry_of(run: Run) -> Figure:
    """The day of the last entry."""
    day, rows = _last_entry(run)
    return figure("last_entry", day, last_day, rows)
