"""For how long a verdict about a run holds.

In: a run, a day. Out: the stretch of days on which `judge` says the same as on that day. Only what is yet to come and
what has gone silent turn with the calendar.
"""

from __future__ import annotations

from datetime import date, timedelta

from sitegen.core.records.rows import Run
from sitegen.core.values.date_range import DateRange
from sitegen.judge.case import last_date
from sitegen.judge.record import goes_silent


def holds(run: Run, today: date) -> DateRange:
    """The stretch around a day on which the same is found in a run."""
    last, silent = last_date(run), goes_silent(run)
    if last is not None and last > today:  # what is yet to come is said with the day itself
        return DateRange(today, today)
    turns = [when for when in (last, silent) if when is not None]
    before = [when for when in turns if when <= today]
    after = [when for when in turns if when > today]
    return DateRange(max(before, default=None), min(after) - timedelta(days=1) if after else None)
