"""For how long a verdict about a run holds.

In: a run, a day. Out: the stretch of days on which `judge` says the same as on that day. Only what is yet to come and
what has gone silent turn with the calendar.
"""

from __future__ import annotations

from datetime import date, timedelta

from sitegen.core.held import Held
from sitegen.core.rows import Run
from sitegen.judge.order import dates_of
from sitegen.judge.record import goes_silent

__all__ = ["holds"]


def holds(run: Run, today: date) -> Held:
    """The stretch around a day on which the same is found in a run."""
    recorded = dates_of(run)
    if any(when > today for when in recorded):  # what is yet to come is said with the day itself
        return Held(today, today)
    silent = goes_silent(run)
    turns = recorded if silent is None else recorded | {silent}
    before = [when for when in turns if when <= today]
    after = [when for when in turns if when > today]
    return Held(max(before, default=None), min(after) - timedelta(days=1) if after else None)
