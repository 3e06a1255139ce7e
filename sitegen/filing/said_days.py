"""The day that a line begins with which is said today: `yesterday`, `am 20. Oktober`, `day 31`.

In: a text, today. Out: `WrittenDay`, as `written_days` has it. Here words that count from today are a day, and a date
without a year is the last one of that name.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

from sitegen.filing.written_days import WrittenDay, day_at

_BACK = {"today": 0, "heute": 0, "yesterday": 1, "gestern": 1, "vorgestern": 2, "the day before yesterday": 2}
_RELATIVE = re.compile(
    rf"(?P<word>{'|'.join(sorted(_BACK, key=len, reverse=True))})(?=[\s:,;.–—-]|$)", re.IGNORECASE
)
# `5 may have died` is no date; one of these says that a day and a month are meant.
_SURELY = re.compile(r"(?:on|am)\s|(?:\w+\s+)?\d{1,2}(?:st|nd|rd|th|\.)", re.IGNORECASE)
_SIGN = re.compile(r"\s*(?:[:,;–—-]|$)")


def said_day(text: str, today: dt.date) -> WrittenDay | None:
    """The day at the head of a text; None where there is none, and without a `when` where it is uncertain."""
    if relative := _RELATIVE.match(text):
        date = today - dt.timedelta(days=_BACK[relative["word"].lower()])
        return WrittenDay(f"date: {date.isoformat()}", 0, relative.end(), date=date)
    found = day_at(text, today=today)
    if found is not None and found.relative:
        message = f"`{text[: found.end]}` may be one of several days"
        return replace(found, message=message, mend="write the date in its place")
    if found is None or not found.yearless:
        return found
    if not (_SURELY.match(text) or _SIGN.match(text, found.end)):
        return None
    return _last_of(text[: found.end], found, today)


def _last_of(text: str, found: WrittenDay, today: dt.date) -> WrittenDay:
    """A date without a year: the last that was."""
    for year in range(today.year, today.year - 5, -1):
        with_year = day_at(f"{text} {year}", today=today)
        if with_year is not None and with_year.date is not None and with_year.date <= today:
            return replace(with_year, end=found.end)
    return replace(found, message=f"`{text.strip()}` is not a date", mend="write it as `2026-03-02`")
