"""The day that a photo was taken on: from its own clock, else from its name.

In: a header, a file name, the start and the time zone. Out: a date and a `Day`, each where known. Never reads a file.
"""

from __future__ import annotations

import re
from datetime import date, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sitegen.core.day import Day, Start
from sitegen.ingest.photo_headers import Header

__all__ = ["date_in_name", "date_taken", "day_in_name", "day_taken"]

LONG_BEFORE = -366  # days: a clock that was never set dates photos years before the start

_DATE = re.compile(
    r"(?<!\d)(?P<y>20\d\d)(?P<s>[-_.]?)(?P<m>\d\d)(?P=s)(?P<d>\d\d)(?=\D|$|\d{6}(?!\d))"  # time may follow
)
_DAY = re.compile(r"(?<![a-z])day[-_ ]?(?P<n>\d{1,4})(?!\d)", re.IGNORECASE)


def day_taken(header: Header, name: str, start: Start, zone: str) -> tuple[date | None, Day | None]:
    """When a photo was taken: its clock before its name, a date before a day number."""
    dates = [found for found in (date_taken(header, zone), date_in_name(name)) if found is not None]
    for found in dates:
        day = start.day_of(found)
        if day is not None and day.last >= LONG_BEFORE:
            return found, day
    return next(iter(dates), None), day_in_name(name)


def date_taken(header: Header, zone: str) -> date | None:
    """The date by the photo's clock, in the journal's zone where the clock says its own."""
    if not header.taken:
        return None
    local = datetime.fromisoformat(header.taken)
    try:
        told = datetime.fromisoformat(header.taken + header.offset)
        return told.astimezone(ZoneInfo(zone)).date() if told.tzinfo and zone else local.date()
    except (ValueError, OverflowError, ZoneInfoNotFoundError):
        return local.date()


def date_in_name(name: str) -> date | None:
    """`2025-10-19-first-cut.jpg`, `IMG_20251019_143000.jpg`."""
    for found in _DATE.finditer(name):
        try:
            return date(int(found["y"]), int(found["m"]), int(found["d"]))
        except ValueError:
            continue
    return None


def day_in_name(name: str) -> Day | None:
    """`day-26-roots.jpg`."""
    found = _DAY.search(name)
    return Day.on(int(found["n"])) if found else None
