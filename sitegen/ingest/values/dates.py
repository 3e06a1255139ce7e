"""Dates and days as people write them: `2025-10-19`, `26`, `33-38`, `about 36`, `before 40`.

In: a single value. Out: a date or a `Day`, or None and a finding.
"""

from __future__ import annotations

import calendar
import datetime as dt
import re
from collections.abc import Iterator
from functools import lru_cache

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.language.months import month_of
from sitegen.core.language.text import in_words, listed
from sitegen.core.values.day import YEARS, Day, is_counted
from sitegen.ingest.values.normalize import (
    with_digit_signs,
    with_digits,
    with_flags,
    with_signs,
    without_quotes,
)
from sitegen.ingest.yaml.nodes import Scalar

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_DAY = re.compile(r"(?:day )?(?P<flag>about |before )?(?P<first>\d{1,4})(?:\s*[-–]\s*(?P<last>\d{1,4}))?")
_CACHED = 4096  # texts: runs have the same days


def parse_date(scalar: Scalar, key: str, findings: Findings, since: dt.date | None = None) -> dt.date | None:
    """A date: `2026-04-12`, and any other spelling that is one date alone, such as `2026-4-12` or `12 April 2026`.

    A date without its year is offered as the first one from `since` on.
    """
    date = _one_date(scalar.text)
    if date is not None and is_counted(date):
        return date
    if date is not None:
        message = f"`{scalar.text}` is in the year {date.year}; dates are read from {YEARS[0]} to {YEARS[-1]}"
        scalar.report(findings, "not-a-date", message, "check the year", "a date such as 2025-10-19")
        return None
    message, mend = _date_error(scalar, key, since)
    scalar.report(findings, "not-a-date", message, mend, "a date such as 2025-10-19")
    return None


def _one_date(text: str) -> dt.date | None:
    """The date that a text is, in one reading only."""
    if _DATE.fullmatch(text):
        try:
            return dt.date.fromisoformat(text)
        except ValueError:
            return None
    only = only_reading(without_quotes(text.strip()))
    return dt.date.fromisoformat(only) if only else None


def parse_day(scalar: Scalar, key: str, findings: Findings) -> Day | None:
    """A day number, a span, `about 36` or `before 40`."""
    day = _written_day(scalar.text) or _written_day(_day_in_format(scalar.text))
    if isinstance(day, Day):
        return day
    if day is None:
        message = f"`{scalar.text}` is not a day; `{key}` counts days since sowing"
        scalar.report(findings, "not-a-day", message, _day_mend(scalar, key), "days since sowing")
        return None
    message = f"the days `{scalar.text}` end before they begin"
    scalar.report(findings, "reversed-range", message, scalar.written(day))
    return None


def _day_in_format(text: str) -> str:
    """`~36`, `Days 33 to 38` and `around day 36` in the spelling of the format."""
    plain = without_quotes(text.strip()).strip().lower()
    plain = re.sub(r"\bdays?\s*(?=\d)", "", with_digits(plain))
    return re.sub(r"(\d)\s*(?:to|\.\.+|…)\s*(\d)", r"\1-\2", with_signs(plain))


@lru_cache(_CACHED)
def _written_day(text: str) -> Day | str | None:
    """The day; a reversed range the right way round, as text; None for any other text."""
    match = _DAY.fullmatch(text)
    if match is None:
        return None
    first, last = int(match["first"]), int(match["last"] or match["first"])
    if last < first:
        return f"{last}-{first}"
    if match["flag"] == "before ":
        return Day(0, first - 1, before=True) if first > 1 else Day.on(0)
    return Day(first, last, about=match["flag"] == "about ")


_PARTS = re.compile(r"(\d{1,4})[./\- ]+(\d{1,2})[./\- ]+(\d{1,4})")
_NAMED = (
    re.compile(r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?\s+(?P<month>[^\W\d]+)\.?,?\s+(?P<year>\d{4})"),
    re.compile(r"(?P<month>[^\W\d]+)\.?\s+(?P<day>\d{1,2})(?:st|nd|rd|th)?,?\s+(?P<year>\d{4})"),
    re.compile(r"(?P<month>[^\W\d]+)\.?,?\s+(?P<year>\d{4})(?P<day>)"),
)


def _date_error(scalar: Scalar, key: str, since: dt.date | None) -> tuple[str, str | Mend]:
    """Message and mend for a text that is not a date."""
    text = scalar.text
    if digits := only_reading(with_digit_signs(text)):
        return f"`{text}` is not a date: a letter stands for a digit", scalar.written(digits, key=key)
    if key == "date" and re.fullmatch(r"\d{1,3}", text):
        return f"`{text}` is a day, not a date", f"write `day: {text}`"
    if too_late := _day_beyond_month(text):
        return too_late
    readings = list(dict.fromkeys(_readings(text, month_alone=key == "start")))
    if len(readings) > 1:
        offers = listed([f"`{key}: {reading}`" for reading in readings], "or")
        last = ", or year first" if "-" in text and len(text) <= 8 else ""
        ways = f"in {in_words(len(readings))} ways: day first or month first{last}"
        return f"`{text}` can be read {ways}", f"write {offers}"
    message = f"`{text}` is not a date; `{key}` wants year-month-day"
    if readings:
        sure = not re.match(r"\d{1,2}\D+\d{1,2}\D+\d{2}$", text)  # two digits of a year may be those of a day
        return message, scalar.written(readings[0], key=key, safe=sure)
    return message, _advised_date(scalar, key, since)


def _advised_date(scalar: Scalar, key: str, since: dt.date | None) -> str | Mend:
    """The advice for a text with no year, or with none of a date: what the author wrote stays in it."""
    text = scalar.text
    if since is not None and (dates := _without_year(text, since)):
        if len(dates) == 1:
            return scalar.written(dates[0], key=key, safe=False)
        return f"write {listed([f'`{key}: {date}`' for date in dates], 'or')}"
    if named := re.fullmatch(
        r"(\d{1,2})(?:st|nd|rd|th|\.)?\s+([^\W\d]+)\.?|([^\W\d]+)\.?\s+(\d{1,2})(?:st|nd|rd|th)?", text
    ):
        month, day = month_of(named[2] or named[3]), int(named[1] or named[4])
        if month and day <= 31:
            return f"write the year too: `{key}: YYYY-{month:02}-{day:02}`"
    if re.fullmatch(r"[12]\d{3}", text):
        vague = f"write the month too, such as `start: {text}-06`, or `start: unknown`"
        return vague if key == "start" else f"write month and day too: `{key}: {text}-MM-DD`"
    return f"write year, month and day, such as `{key}: 2025-10-19`"


_NO_YEAR = re.compile(r"(\d{1,2})[./\- ](\d{1,2})[./]?")
_NO_YEAR_NAMED = re.compile(
    r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?\s+(?P<month>[^\W\d]+)\.?"
    r"|(?P<month_first>[^\W\d]+)\.?\s+(?P<day_last>\d{1,2})(?:st|nd|rd|th)?"
)


def _without_year(text: str, since: dt.date) -> list[str]:
    """The dates that a day and a month may mean, each the first one from a date on."""
    if parts := _NO_YEAR.fullmatch(text):
        orders = [(parts[1], parts[2])] if "-" in text else [(parts[2], parts[1]), (parts[1], parts[2])]
    elif named := _NO_YEAR_NAMED.fullmatch(text):
        month = month_of(named["month"] or named["month_first"])
        orders = [(str(month), named["day"] or named["day_last"])]
    else:
        return []
    years = [str(year) for year in range(since.year, since.year + 2)]
    found = []
    for month_text, day in orders:
        dates = [date for year in years if (date := _date(year, month_text, day)) >= since.isoformat()]
        found += dates[:1]
    return list(dict.fromkeys(found))


def _day_beyond_month(text: str) -> tuple[str, str] | None:
    """Message and mend for a day that its month does not have; None for any other text."""
    match = re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", text)
    if match is None or not 1 <= int(match[2]) <= 12 or int(match[1]) < 1:
        return None
    days = calendar.monthrange(int(match[1]), int(match[2]))[1]
    month = f"{calendar.month_name[int(match[2])]} {match[1]}"
    first, last = f"{match[1]}-{match[2]}-01", f"{match[1]}-{match[2]}-{days}"
    return f"`{text}` is not a date: {month} has {days} days", f"write a day from `{first}` to `{last}`"


def _readings(text: str, *, month_alone: bool) -> Iterator[str]:
    """The dates that a text may mean; with `month_alone`, months too."""
    if match := _PARTS.fullmatch(text.strip(" .")):
        a, b, c = match.groups()
        orders = [(a, b, c), (a, c, b)] if len(a) == 4 else [(c, b, a), (c, a, b)]
        found = [date for y, m, d in orders if (date := _date(y, m, d))]
        yield from found[:1] if len(a) == 4 else found
        if len(a) == len(c) == 2 and "-" in text and (date := _date(a, b, c)):
            yield date
    if re.fullmatch(r"\d{8}", text) and (date := _date(text[:4], text[4:6], text[6:])):
        yield date
    named = next((match for pattern in _NAMED if (match := pattern.fullmatch(text.strip()))), None)
    month = month_of(named["month"]) if named else 0
    if named and month and named["day"] and (date := _date(named["year"], str(month), named["day"])):
        yield date
    if month_alone and named and month and not named["day"]:
        yield f"{named['year']}-{month:02}"
    if month_alone and (match := re.fullmatch(r"(\d{1,2})[/.](\d{4})", text)) and 1 <= int(match[1]) <= 12:
        yield f"{match[2]}-{int(match[1]):02}"


@lru_cache(_CACHED)
def only_reading(text: str) -> str:
    """The date that a text with a whole year is, in one reading only; empty for any other text."""
    if not re.search(r"(?<!\d)\d{4}(?!\d)", text):
        return ""
    if (parts := _PARTS.fullmatch(text)) and len(parts[1]) == 4:
        return _date(parts[1], parts[2], parts[3])
    found = set(_readings(text, month_alone=False))
    return found.pop() if len(found) == 1 else ""


def _date(year: str, month: str, day: str) -> str:
    whole = f"20{year}" if len(year) == 2 else year
    try:
        return dt.date(int(whole), int(month), int(day)).isoformat()
    except ValueError:
        return ""


def _day_mend(scalar: Scalar, key: str) -> str | Mend:
    """The mend for a text that is not a day."""
    text = scalar.text
    if key == "day" and (dates := list(_readings(text, month_alone=False))):
        return f"write {listed([f'`date: {date}`' for date in dict.fromkeys(dates)], 'or')}"
    if weeks := re.fullmatch(r"(\d{1,2}) weeks?", text):
        return f"write `{key}: about {7 * int(weeks[1])}`"
    if key == "day" and re.fullmatch(r"-\d+", text):
        return "write `day: 0` for what was done before sowing too"
    digits = with_digit_signs(text)
    in_format = with_flags(with_digits(re.sub(r"\s*\bdays?$|\.0+$", "", text)))
    for meant, safe in ((digits, not re.search("[lI]", text)), (in_format, True)):
        if meant != text and isinstance(_written_day(_day_in_format(meant)), Day):
            return scalar.written(meant, key=key, safe=safe)
    if broken := re.fullmatch(r"(\d{1,4})[.,]\d+", text):
        return f"write a whole number of days, `{key}: {broken[1]}` or `{key}: {int(broken[1]) + 1}`"
    return f"write days since sowing, such as `{key}: 26`, `{key}: 33-38`, `{key}: about 36` or `{key}: before 40`"
