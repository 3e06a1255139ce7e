"""The one day axis of an experiment, its length and its last entry.

In: a run. Out: `DayAxis` and two figures. Never looks at the clock: a running experiment is as long as its
log.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sitegen.core.facts.figure import Figure, remark
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import figure, formula


@formula(
    reads=("entries.day", "events.day"), exact_if={"another entry is as late": ("entries.day", "events.day")}
)
def day_count(end: Day) -> Quantity:
    """Length in days.

    From sowing, which is day 0, to the end that the log records; to its last visit while there is no end.

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


@formula(
    reads=("events.day", "picks.day", "milestones.day"),
    exact_if={"another day is as early": ("events.day", "picks.day", "milestones.day")},
)
def first_day(days: Iterable[Day]) -> Day | None:
    """First day seen.

    The earliest day on which the log says that it was there. It may have been there unseen since the visit
    before. Of days that are spans the first is one too.

    Parameters
    ----------
    days
        The days on which it was seen [day].

    Returns
    -------
    Day or None
        The earliest, as a span of the days that it can be; None where it was never seen.

    Notes
    -----
    ::

        first = min(first days) to min(last days)

    """
    found = tuple(days)
    if not found:
        return None
    return _flagged(min(day.first for day in found), min(day.last for day in found), found)


@formula(
    reads=("entries.day", "events.day", "picks.day"),
    exact_if={"another day is as late": ("entries.day", "events.day", "picks.day")},
)
def last_day(days: Iterable[Day]) -> Day | None:
    """Last day seen.

    Parameters
    ----------
    days
        The days on which it was seen [day].

    Returns
    -------
    Day or None
        The latest, as a span of the days that it can be; None where it was never seen.

    Notes
    -----
    ::

        last = max(first days) to max(last days)

    """
    found = tuple(days)
    if not found:
        return None
    return _flagged(max(day.first for day in found), max(day.last for day in found), found)


def meet(day: Day, other: Day | None) -> bool:
    """Whether two days can be the same one."""
    return other is not None and day.first <= other.last and other.first <= day.last


def _flagged(first: int, last: int, days: Iterable[Day]) -> Day:
    """A span with the flags of the days that meet it; "before" stays where nothing else was there as early."""
    span = Day(first, last)
    near = [day for day in days if meet(day, span)]
    before = last > first and all(day.before for day in near if day.first == first)
    return Day(first, last, any(day.about for day in near), before)


def axis_of(run: Run) -> DayAxis:
    """The axis that everything of the run is drawn on."""
    return DayAxis.covering(run.last_day, run.setup.start)


def _last_entry(run: Run) -> tuple[Day | None, tuple[Source, ...]]:
    """The day of the last entry, and the entries that can be it; of those of one day the last in the log."""
    entries = run.rows.entries
    day = last_day(entry.day for entry in entries)
    rows = {entry.day: entry.source for entry in entries if meet(entry.day, day)}
    return day, tuple(rows.values())


def end_of(run: Run) -> Day | None:
    """The day of the end, or of the last entry while there is none; None without either.

    An end "before day 60" is not earlier than the entries before it.
    """
    if run.ended is None:
        return _last_entry(run)[0]
    end = run.ended.day
    if not end.before:
        return end
    seen = [entry.day.first for entry in run.rows.entries if entry.day.last <= end.last]
    return replace(end, first=max([0, *seen]), before=False)


def length_of(run: Run) -> Figure:
    """How long the run took, or has taken."""
    day = end_of(run)
    value = None if day is None else day_count(day)
    if run.ended is not None:
        return figure("length", value, day_count, (run.ended.source,))
    _, rows = _last_entry(run)
    return figure("length", value, day_count, rows, remark("to_last_entry" if day else "no_entry"))


def last_entry_of(run: Run) -> Figure:
    """The day of the last entry."""
    day, rows = _last_entry(run)
    return figure("last_entry", day, last_day, rows)
