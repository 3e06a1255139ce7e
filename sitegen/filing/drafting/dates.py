"""Days and dates as people write them in a sheet or a diary.

In: texts. Out: `When` (a day number or a date, as a key of the log), and the order of the parts of dates where all of
them together show it.
"""

from __future__ import annotations

import calendar
import datetime as dt
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

Order = Literal["day first", "month first"]
ORDERS: tuple[Order, ...] = ("day first", "month first")

_WEEKDAY = (
    r"(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?|mo|di|mi|do|fr|sa|so|montag|dienstag|mittwoch|"
    r"donnerstag|freitag|samstag|sonnabend|sonntag)"
)
_CLOCK = (
    r"(?:[ T,]+(?:at\s+|um\s+)?(?P<clock>\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*"
    r"(?:[ap]\.?m\.?)?(?:Z|[+-]\d\d:?\d\d)?))?"
)
_SLASHED = r"(?P<a>\d{1,4})(?P<sign>[./-])\s?(?P<b>\d{1,2})(?:(?P=sign)\s?(?P<c>\d{4}|\d{2})?|)(?!\d)"
_DAY_MONTH = (
    r"(?P<d1>\d{1,2})(?:st|nd|rd|th|\.)?[ -]*(?:of )?(?P<m1>[^\W\d_]{3,})\.?"
    r"(?:,?[ -]+(?P<y1>\d{4}|\d{2})(?![\d:]))?"
)
_MONTH_DAY = (
    r"(?P<m2>[^\W\d_]{3,})\.?[ -]+(?P<d2>\d{1,2})(?:st|nd|rd|th)?(?![\d:])(?:,?[ -]+(?P<y2>\d{4})(?!\d))?"
)
_DATE = re.compile(
    rf"(?:{_WEEKDAY}\.?,?\s+)?(?:(?:the|am|on)\s+)?(?:{_SLASHED}|{_DAY_MONTH}|{_MONTH_DAY}){_CLOCK}",
    re.IGNORECASE,
)
_DAY = re.compile(
    r"(?:(?P<word>days?|tage?|d)\s*[#.]?\s*)?(?P<flag>~|ca\.?\s|about\s|etwa\s|before\s|vor\s)?\s*"
    r"(?P<first>\d{1,4})(?:\s*(?:[-–]|to|bis)\s*(?P<last>\d{1,4}))?(?P<after>\.?\s*(?:days?|tage?)\b)?",
    re.IGNORECASE,
)
_MONTHS = {name.lower(): number for number, name in enumerate(calendar.month_name) if name} | {
    "januar": 1, "februar": 2, "märz": 3, "maerz": 3, "mai": 5, "juni": 6, "juli": 7, "oktober": 10, "dezember": 12,
    "jänner": 1, "mrz": 3, "okt": 10, "dez": 12, "sept": 9,
}  # fmt: skip


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
    def words(self) -> str:
        """`day 26` or `2025-10-19`."""
        return f"day {self.text}" if self.key == "day" else self.text


def on_date(date: dt.date) -> When:
    """A date."""
    return When("date", date.isoformat(), date.toordinal())


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date as written: three numbers of which the order may be open, or a month by its name; no year is None."""

    parts: tuple[int, int]
    year: int | None
    slashed: bool  # two numbers, in either order
    sign: str = ""
    clock: str = ""
    length: int = 0  # characters of the text that it takes

    def on(self, order: Order, year: int) -> dt.date | None:
        """The date in an order, of a year where it names none; None where the calendar has none."""
        day, month = self.parts if not self.slashed or order == "day first" else self.parts[::-1]
        try:
            return dt.date(self.year if self.year is not None else year, month, day)
        except ValueError:
            return None

    def fits(self, order: Order) -> bool:
        """Whether the calendar has it in an order."""
        return self.on(order, 2024) is not None


@lru_cache(8192)
def written_date(text: str, *, whole: bool = True) -> WrittenDate | None:
    """The date that a text is, or that it begins with."""
    match = _DATE.fullmatch(text) if whole else _DATE.match(text)
    if match is None:
        return None
    clock, length = match["clock"] or "", match.end()
    if match["a"]:
        return _slashed(match, clock, length)
    month = _month(match["m1"] or match["m2"])
    year = match["y1"] or match["y2"]
    day = int(match["d1"] or match["d2"])
    if not month or not 1 <= day <= 31:
        return None
    return WrittenDate((day, month), _year(year), slashed=False, clock=clock, length=length)


def _slashed(match: re.Match[str], clock: str, length: int) -> WrittenDate | None:
    a, b, c, sign = match["a"], match["b"], match["c"], match["sign"]
    if len(a) == 4:
        if c is None or (len(c) != 2 and int(c) > 31):
            return None
        return WrittenDate((int(c), int(b)), int(a), slashed=False, clock=clock, length=length)
    if len(a) > 2 or (c is None and sign == "-"):
        return None  # `33-38` is a span of days
    # `9.5` is a number: without a year, a date with dots ends with one.
    if c is None and sign == "." and match.string[match.end("b") : match.end("b") + 1] != ".":
        return None
    return WrittenDate((int(a), int(b)), _year(c), slashed=True, sign=sign, clock=clock, length=length)


def _year(text: str | None) -> int | None:
    if text is None:
        return None
    return 2000 + int(text) if len(text) == 2 else int(text)


def _month(word: str) -> int:
    """The number of a month by its name or the beginning of it; 0 where there is none."""
    word = word.lower()
    fits = {number for name, number in _MONTHS.items() if len(word) >= 3 and name.startswith(word)}
    return fits.pop() if len(fits) == 1 else 0


def day_number(text: str, *, named: bool = False, weeks: bool = False, whole: bool = True) -> When | None:
    """A day number, a span, `about 36`; with `named`, only where a word says that it is a day."""
    match = _DAY.fullmatch(text) if whole else _DAY.match(text)
    if match is None or (named and not match["word"] and not match["after"]):
        return None
    if match["word"] in ("d", "D") and not whole:
        return None
    first, last = int(match["first"]), int(match["last"] or match["first"])
    if last < first:
        return None
    flag = (match["flag"] or "").strip(" .").lower()
    if weeks:
        return When("day", f"about {7 * first}", 7 * first)
    if flag in ("before", "vor"):
        return When("day", f"before {first}", first)
    written = f"{first}-{last}" if last > first else str(first)
    return When("day", f"about {written}" if flag and last == first else written, first)


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
