"""The day that a line begins with which is said today: `yesterday`, `am 20. Oktober`, `day 31`.

In: a text, today. Out: `WrittenDay`, as `written_days` has it. Here words that count from today are a day, and a date
without a year is the last one of that name.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from sitegen.filing.dates import ORDERS, WrittenDate
from sitegen.filing.written_days import WrittenDay, dated, day_at, line_date

_BACK = {"today": 0, "heute": 0, "yesterday": 1, "gestern": 1, "vorgestern": 2, "the day before yesterday": 2}
_RELATIVE = re.compile(
    rf"(?P<word>{'|'.join(sorted(_BACK, key=len, reverse=True))})(?=[\s:,;.–—-]|$)", re.IGNORECASE
)


def said_day(text: str, today: dt.date) -> WrittenDay | None:
    """The day at the head of a text; None where there is none, and without a `when` where it is uncertain."""
    if relative := _RELATIVE.match(text):
        date = today - dt.timedelta(days=_BACK[relative["word"].lower()])
        return WrittenDay(f"date: {date.isoformat()}", 0, relative.end(), date=date)
    written = line_date(text)
    if written is not None and written.year is None:
        return dated(written, _last(written, today)) if written.sure else None
    found = day_at(text, today=today)
    if found is not None and found.relative:
        message = f"`{text[: found.end]}` may be one of several days"
        return replace(found, message=message, mend="write the date in its place")
    return found


def _last(written: WrittenDate, today: dt.date) -> Iterator[dt.date]:
    """The last date that was of a day and a month, in each order."""
    for order in ORDERS:
        dates = (written.on(order, year) for year in range(today.year, today.year - 5, -1))
        yield from islice((date for date in dates if date is not None and date <= today), 1)
