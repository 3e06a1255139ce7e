"""A range of dates, open or closed on either side.

In: dates. Out: `DateRange`. Never looks at the clock.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class DateRange:
    """The first and the last day, both included; None where a side is open."""

    since: date | None = None
    until: date | None = None

    def contains(self, day: date) -> bool:
        """Whether a day is in the range."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)

    def intersection(self, other: DateRange) -> DateRange:
        """The days in both ranges."""
        since = max((day for day in (self.since, other.since) if day), default=None)
        until = min((day for day in (self.until, other.until) if day), default=None)
        return DateRange(since, until)
