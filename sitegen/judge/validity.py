"""The dates on which the findings of a run stay the same.

In: a run, a date. Out: the range of dates around it on which `judge` gives the same findings. Only days in the future and
a long time without an entry depend on the date.
"""

from __future__ import annotations

from datetime import date, timedelta

from sitegen.core.records.rows import Run
from sitegen.core.values.date_range import DateRange
from sitegen.judge.context import Context
from sitegen.judge.order import last_date
from sitegen.judge.record import goes_silent


def holds(run: Run, today: date) -> DateRange:
    """The range of dates around a date on which the findings of a run are the same."""
    last, silent = last_date(Context.of(run, today)), goes_silent(run)
    if last is not None and last > today:  # a finding about the future names today
        return DateRange(today, today)
    changes = [when for when in (last, silent) if when is not None]
    before = [when for when in changes if when <= today]
    after = [when for when in changes if when > today]
    return DateRange(max(before, default=None), min(after) - timedelta(days=1) if after else None)
