"""Days and times in the cells of spreadsheets.

In: a cell, and the order of the parts of dates, if the item of `readings:` gives one. Out: a day or a moment, or None
and a finding.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import YEARS, Day, is_counted
from sitegen.ingest.values.dates import only_reading
from sitegen.ingest.yaml.nodes import Scalar

MONTHS = 12
_CLOCK = r"(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2})(?:\.\d+)?)?\s*(?P<half>[AaPp]\.?[Mm]\.?)?"
_SLASHED = re.compile(rf"(?P<a>\d{{1,4}})[./-](?P<b>\d{{1,2}})[./-](?P<c>\d{{1,4}})(?:,?[ T]+{_CLOCK})?")


_WORDS_AFTER = re.compile(
    r"(?P<date>\d{1,4}[./-]\d{1,2}[./-]\d{1,4})(?:\s*[,;:–-]\s*|\s+)(?P<words>\(?[^\W\d].*)"
)
_UNSETTLED = "unsettled"  # both orders fit every date of a column, which was reported


def dated_cell(scalar: Scalar) -> tuple[Scalar, str]:
    """A cell of dates without the words after its date, and these."""
    match = _WORDS_AFTER.fullmatch(scalar.text)
    if match is None:
        return scalar, ""
    date = match["date"]
    return Scalar(date, scalar.source.part(0, len(date))), match["words"].strip()


def settled_order(cells: Sequence[Scalar], sheet: str, findings: Findings) -> str:
    """The order of day and month that the dates of a column have; one finding where they leave it open.

    A row whose first number is no month proves the day first, one whose second number is none the month. Both in one
    column is another finding. Empty for a column without such dates.
    """
    open_, proofs = None, dict[str, Scalar]()
    for cell in cells:
        match = _SLASHED.fullmatch(dated_cell(cell)[0].text)
        if match is None or len(match["a"]) == 4:
            continue
        first, second = int(match["a"]), int(match["b"])
        if first > MONTHS >= second:
            proofs.setdefault("day first", cell)
        elif second > MONTHS >= first:
            proofs.setdefault("month first", cell)
        elif first != second:
            open_ = open_ or cell
    if len(proofs) > 1:
        day, month = proofs["day first"], proofs["month first"]
        message = f"`{day.text}` has the day first, and `{month.text}` in line {month.source.line} the month"
        day.report(findings, "not-a-date", message, f"write the dates of `{sheet}` in one order")
        return _UNSETTLED
    if proofs or open_ is None:
        return next(iter(proofs), "day first")
    found = _SLASHED.fullmatch(dated_cell(open_)[0].text)
    both = [_read_as(found, order) for order in ("day first", "month first")] if found else []
    message = f"`{open_.text}` can be {both[0]}, day first, or {both[1]}, month first" if both else ""
    mend = "write `dates: day first` or `dates: month first` beside `file:`"
    open_.report(findings, "not-a-date", message, mend, "dates of which one has a day above 12")
    return _UNSETTLED


def _read_as(match: re.Match[str], order: str) -> str:
    """A date in one order, year first; as it was written where the calendar has no such day."""
    try:
        return _combined(match, order).date().isoformat()
    except ValueError:
        return match.group()


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
    moment = _moment_in(scalar, order, findings, wanted)
    if moment is None or is_counted(moment):
        return moment
    message = f"`{scalar.text}` is in the year {moment.year}; dates are read from {YEARS[0]} to {YEARS[-1]}"
    scalar.report(findings, "bad-cell", message, "check the year")
    return None


def _moment_in(scalar: Scalar, order: str, findings: Findings, wanted: str) -> dt.datetime | None:
    try:
        return dt.datetime.fromisoformat(scalar.text)
    except ValueError:
        pass
    match = _SLASHED.fullmatch(scalar.text)
    if match and len(match["a"]) == 4:
        order = "year first"
    if match and order == _UNSETTLED:
        return None
    try:
        if match:
            return _combined(match, order)
    except ValueError:
        pass
    if not match and (only := only_reading(scalar.text)):
        return dt.datetime.fromisoformat(only)
    mend = "write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05"
    scalar.report(findings, "bad-cell", f"`{scalar.text}` is not {wanted}", mend)
    return None


def _combined(match: re.Match[str], order: str) -> dt.datetime:
    """The moment of a match; raises ValueError where the calendar or the clock has none."""
    a, b, c = int(match["a"]), int(match["b"]), int(match["c"])
    c = c + 2000 if len(match["c"]) == 2 and len(match["a"]) < 4 else c
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
