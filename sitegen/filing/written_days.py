"""The day that a line of an inbox begins with: `day 31`, `day thirty-one`, `Tag 33-38`, `about day 36`, `2026-03-02`.

In: a text, a place in it. Out: `WrittenDay`, with the day as the log writes it, or with what is wrong about it. Words
that count from today are no day: nobody knows when they were written. Of two readings, one that is yet to come is none.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.language.text import listed
from sitegen.filing.dates import ORDERS, WEEKDAYS, WrittenDate, date_at, number_at


@dataclass(frozen=True, slots=True)
class WrittenDay:
    """A day, and where its text ends; `when` is `day: 31` or `date: 2026-03-02`.

    Without a `when` it is none: `message` says why, `mend` what to write.
    """

    when: str
    start: int
    end: int
    number: int | None = None
    date: dt.date | None = None
    message: str = ""
    mend: str = ""
    word: str = ""  # that counts from today

    @property
    def relative(self) -> bool:
        """Whether it counts from a day that is not said."""
        return bool(self.word)


_RELATIVE = re.compile(
    r"(?:(?:today|yesterday|tonight|this (?:morning|evening)|last (?:night|week)|heute|gestern|vorgestern"
    rf"|(?:last |on |am |letzten )?(?:{WEEKDAYS}))\b)(?=\s*(?:[:,–-]|$))",
    re.IGNORECASE,
)


def day_at(text: str, start: int = 0, today: dt.date | None = None) -> WrittenDay | None:
    """The day that begins at a place of a text; None where there is none."""
    found = _date_at(text, start, today) or _number_at(text, start)
    if found is not None:
        return found
    if relative := _RELATIVE.match(text, start):
        message = f"`{relative[0]}` is no day: nothing says when it was written"
        mend = "write the date, or the day of the experiment, in its place"
        return WrittenDay("", start, relative.end(), message=message, mend=mend, word=relative[0].lower())
    return None


def _number_at(text: str, start: int) -> WrittenDay | None:
    found = number_at(text, start)
    if found is None or not found.headed:
        return None
    if found.last < found.first:
        message = f"the days `{found.first}-{found.last}` end before they begin"
        return WrittenDay(
            "", start, found.end, message=message, mend=f"write `day {found.last}-{found.first}`"
        )
    return WrittenDay(f"day: {found.text}", start, found.end, number=found.first)


def _date_at(text: str, start: int, today: dt.date | None) -> WrittenDay | None:
    written = line_date(text, start)
    if written is None:
        return None
    if written.year is None:
        message = f"`{written.text}` is in no year that is said"
        return WrittenDay(
            "", start, written.end, message=message, mend="write the year too, as in `2 March 2026`"
        )
    dates = [date for order in ORDERS if (date := written.on(order, written.year))]
    past = [date for date in dates if today is None or date <= today]
    return dated(written, past or dates, start)


def line_date(text: str, start: int = 0) -> WrittenDate | None:
    """The date that begins at a place of a line; `5/8` without a year is a share, of plants or of a spoon."""
    written = date_at(text, start)
    return None if written is None or (written.year is None and written.sign == "/") else written


def dated(written: WrittenDate, readings: Iterable[dt.date], start: int = 0) -> WrittenDay:
    """The day of a date that may mean some dates, or what is wrong where these are none or two."""
    dates = list(dict.fromkeys(readings))
    if len(dates) == 1:
        return WrittenDay(f"date: {dates[0].isoformat()}", start, written.end, date=dates[0])
    if not dates:
        message = f"`{written.text}` is not a date"
        mend = "write it as `2026-03-02`, year, month, day"
    else:
        message = f"`{written.text}` can be read in two ways: day first or month first"
        mend = f"write {listed([f'`{each.isoformat()}`' for each in dates], 'or')}"
    return WrittenDay("", start, written.end, message=message, mend=mend)
