"""A stretch of dates during which something holds.

In: dates. Out: `Held`. Never looks at the clock.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Held:
    """From the first to the last day of a stretch, both included; None: without an end on that side."""

    since: date | None = None
    until: date | None = None

    def on(self, day: date) -> bool:
        """Whether a day lies in it."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)

    def within(self, other: Held) -> Held:
        """What both have in common."""
        since = max((day for day in (self.since, other.since) if day), default=None)
        until = min((day for day in (self.until, other.until) if day), default=None)
        return Held(since, until)
