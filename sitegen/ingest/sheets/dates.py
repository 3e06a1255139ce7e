"""Days and times in the cells of spreadsheets.

In: a cell, and the order of the parts of dates, if the item of `readings:` gives one. Out: a day or a moment, or None
and a finding.
"""

from __future__ import annotations

import datetime as dt
import re

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import Day
from sitegen.ingest.yaml.nodes import Scalar

_CLOCK = r"(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2})(?:\.\d+)?)?\s*(?P<half>[AaPp]\.?[Mm]\.?)?"
_SLASHED = re.compile(rf"(?P<a>\d{{1,4}})[./-](?P<b>\d{{1,2}})[./-](?P<c>\d{{1,4}})(?:,?[ T]+{_CLOCK})?")


def sheet_day(scalar: Scalar, order: str, setup: Setup, findings: Findings) -> Day | None:
    """A day number, or a date counted from the start."""
    if re.fullmatch(r"\d{1,4}", scalar.text):
        return Day.on(int(scalar.text))
    moment = moment_of(scalar, order, findings, "a day or a date")
    if moment is None:
        return None
    day = setup.start.day_of(moment.date())
    if day is None:
        message = "a date, but the start is unknown: its day cannot be counted"
        mend = "keep day numbers in the spreadsheet, or give the `start`"
        scalar.report(findings, "date-without-start", message, mend)
    return day


def moment_of(
    scalar: Scalar, order: str, findings: Findings, wanted: str = "a date or time"
) -> dt.datetime | None:
    """A date or time: ISO 8601, or with slashes or dots where the order of its parts is known."""
    try:
        return dt.datetime.fromisoformat(scalar.text)
    except ValueError:
        pass
    match = _SLASHED.fullmatch(scalar.text)
    if match and len(match["a"]) == 4:
        order = "year first"
    if match and not order:
        message = f"`{scalar.text}` can be read in two ways: day first or month first"
        mend = "write `dates: day first` or `dates: month first` beside `file:`"
        scalar.report(findings, "not-a-date", message, mend)
        return None
    try:
        if match:
            return _combined(match, order)
    except ValueError:
        pass
    mend = "write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05"
    scalar.report(findings, "bad-cell", f"`{scalar.text}` is not {wanted}", mend)
    return None


def _combined(match: re.Match[str], order: str) -> dt.datetime:
    """The moment of a match; raises ValueError where the calendar or the clock has none."""
    a, b, c = int(match["a"]), int(match["b"]), int(match["c"])
    parts = {"year first": (a, b, c), "day first": (c, b, a), "month first": (c, a, b)}
    date = dt.date(*parts[order])
    if match["hour"] is None:
        return dt.datetime.combine(date, dt.time())
    hour = int(match["hour"])
    if match["half"]:
        if not 1 <= hour <= 12:
            raise ValueError(hour)
        hour = hour % 12 + (12 if match["half"][0] in "Pp" else 0)
    return dt.datetime.combine(date, dt.time(hour, int(match["minute"]), int(match["second"] or 0)))
