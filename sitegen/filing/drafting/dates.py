"""Days and dates of a sheet or a diary: what all of them together show of each.

In: cells, or dates as written. Out: `When` (a day number or a date, as a key of the log); the order of the parts of
dates; years.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from sitegen.filing.dates import ORDERS, Order, WrittenDate, WrittenNumber, date_at, number_at


@dataclass(frozen=True, slots=True)
class When:
    """A day of the log: `day: 26` or `date: 2025-10-19`; `rank` puts those of a kind in order."""

    key: Literal["day", "date"]
    text: str
    rank: int

    @property
    def yaml(self) -> str:
        """As it begins an entry."""
        return f"{self.key}: {self.text}"

    @property
    def date(self) -> dt.date | None:
        """The date, where it is one."""
        return dt.date.fromordinal(self.rank) if self.key == "date" else None

    @property
    def words(self) -> str:
        """`day 26` or `2025-10-19`."""
        return f"day {self.text}" if self.key == "day" else self.text


def on_date(date: dt.date) -> When:
    """A date."""
    return When("date", date.isoformat(), date.toordinal())


def on_number(number: WrittenNumber) -> When | None:
    """A day by its number; None for a span that ends before it begins."""
    return When("day", number.text, number.first) if number.last >= number.first else None


def written_date(text: str) -> WrittenDate | None:
    """The date that a cell is."""
    found = date_at(text, short_years=True)
    return found if found is not None and found.end == len(text) else None


def day_number(text: str, *, named: bool = False, weeks: bool = False) -> When | None:
    """The day number that a cell is; with `named`, only where a word says that it is a day."""
    found = number_at(text)
    if found is None or found.end != len(text) or (named and not found.named):
        return None
    if weeks and found.last >= found.first:
        return When("day", f"about {7 * found.first}", 7 * found.first)
    return on_number(found)


def order_of(dates: Iterable[WrittenDate]) -> tuple[Order | None, str]:
    """The order of the parts that all dates together show, and why; None where both orders would do."""
    slashed = list(dict.fromkeys(date for date in dates if date.slashed))
    if not slashed:
        return "day first", ""
    fitting = [order for order in ORDERS if all(date.fits(order) for date in slashed)]
    if len(fitting) == 1:
        other = ORDERS[1 - ORDERS.index(fitting[0])]
        proof = next(date for date in slashed if not date.fits(other))
        return fitting[0], f"{max(proof.parts)} is no month"
    if all(date.sign == "." for date in slashed):
        return "day first", "dates with dots have the day first"
    rising = [order for order in fitting if _rises(slashed, order)]
    if len(rising) == 1 and len(slashed) > 2:
        return rising[0], "else they would not be in order"
    return None, ""


def _rises(dates: list[WrittenDate], order: Order) -> bool:
    found = [date.on(order, 2024) for date in dates]
    return all(a is None or b is None or a <= b for a, b in pairwise(found))


def with_years(dates: Iterable[tuple[WrittenDate, Order]], year: int) -> Iterator[dt.date | None]:
    """Dates one after the other; one without a year is in that of the date before it, or in the next."""
    before: dt.date | None = None
    for written, order in dates:
        date = written.on(order, year if before is None else before.year)
        if date is not None and written.year is None and before is not None and (before - date).days > 180:
            date = written.on(order, before.year + 1)
        before = date or before
        yield date
