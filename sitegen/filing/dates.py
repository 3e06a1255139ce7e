"""A day or a date as people write it in a text: `14.3.2026`, `Sat 14 Mar`, `about day 36`, `Tag einunddreißig`.

In: a text, a place in it. Out: `WrittenDate` or `WrittenNumber`, with what it leaves open: the order of day and month,
the year, whether it is meant as a day at all; and where it ends. English and German. Who reads it decides what is open.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from sitegen.core.language.months import month_of
from sitegen.core.language.number_words.english import read_english
from sitegen.core.language.number_words.german import read_german
from sitegen.core.language.number_words.tokens import tokens_of

Order = Literal["day first", "month first"]
ORDERS: tuple[Order, ...] = ("day first", "month first")

WEEKDAYS = (
    "monday|tuesday|wednesday|thursday|friday|saturday|sunday|"
    "montag|dienstag|mittwoch|donnerstag|freitag|samstag|sonnabend|sonntag"
)
_WEEKDAY = rf"(?:(?:{WEEKDAYS}|mon|tues?|wed|thu(?:rs?)?|fri|sat|sun|mo|di|mi|do|fr|sa|so)\b\.?,?\s+)?"
_LEAD = rf"(?P<lead>(?:on|am)\s+|(?:date|datum):\s*)?{_WEEKDAY}(?P<article>(?:on|am|the|den|dem)\s+)?"
_YEAR_FIRST = r"(?P<y>\d{4})(?P<s>[./-])\s?(?P<m>\d{1,2})(?P=s)\s?(?P<d>\d{1,2})(?!\d)"
# `13.3. 12 of 12` ends before the blank; `13. 3. 26` has one after each sign.
_TWO_NUMBERS = (
    r"(?P<a>\d{1,2})(?P<sign>[./-])(?P<gap>\s?)(?P<b>\d{1,2})(?P=sign)"
    r"(?P<c>\s?\d{4}|(?P=gap)\d{2}|\s\d{2}$)(?!\d)"
)
# `33-38` is a span of days, and `9.5` a number.
_NO_YEAR = r"(?P<e>\d{1,2})(?:(?P<slash>/)(?P<f>\d{1,2})(?![\d/])|\.\s?(?P<g>\d{1,2})\.(?!\d))"
_DAY_MONTH = (
    r"(?P<d1>\d{1,2})(?P<ordinal1>st|nd|rd|th|\.)?[\s-]*(?:of )?(?P<m1>[^\W\d_]{3,})\b\.?"
    r"(?:,?[\s-]+(?P<y1>\d{4}(?!\d)|\d{2}(?!\d|:\d)))?"
)
_MONTH_DAY = (
    r"(?P<m2>[^\W\d_]{3,})\.?[\s-]+(?P<d2>\d{1,2})(?P<ordinal2>st|nd|rd|th)?(?!\d|:\d)"
    r"(?:,?[\s-]+(?P<y2>\d{4})(?!\d))?"
)
_DATE = re.compile(
    rf"{_LEAD}(?:{_YEAR_FIRST}|{_TWO_NUMBERS}|{_NO_YEAR}|{_DAY_MONTH}|{_MONTH_DAY})", re.IGNORECASE
)
# With a point, `18.30 Uhr` is a time and `1.25 L` is none.
_HALF = r"(?:[ap]\.?m\b\.?|uhr\b)"
_CLOCK = re.compile(
    rf"[ T,]+(?:at\s+|um\s+)?(?P<clock>\d{{1,2}}"
    rf"(?::\d{{2}}(?::\d{{2}}(?:\.\d+)?)?(?:\s*{_HALF})?|\.\d{{2}}\s*{_HALF})"
    r"(?:Z|[+-]\d{2}:?\d{2})?)(?!\d)",
    re.IGNORECASE,
)
_ENDED = re.compile(r"\s*(?:\*\*)?\s*(?:[:–—]|-(?!\w)|$)")
_PARTED = re.compile(r"\s*[,;]|\.(?!\d)")


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date as written: two numbers of which the order may be open, or a month by its name; no year is None."""

    parts: tuple[int, int]  # day and month, where the order is not open
    year: int | None
    slashed: bool  # two numbers, in either order
    sign: str = ""
    clock: str = ""
    text: str = field(default="", compare=False)  # without the time of day
    end: int = field(default=0, compare=False)  # of all, in the text that it stands in
    sure: bool = field(default=True, compare=False)  # not so `1/2 tsp`, `5 may have died`

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
def date_at(text: str, start: int = 0, *, short_years: bool = False) -> WrittenDate | None:
    """The date that begins at a place of a text; None where there is none.

    With `short_years`, two digits after the name of a month are a year: else `20 October 12 of 12 up` says none.
    """
    match = _DATE.match(text, start)
    if match is None:
        return None
    if match["y"]:
        return _dated(match, (int(match["d"]), int(match["m"])), match["y"])
    if match["a"]:
        return _dated(match, (int(match["a"]), int(match["b"])), match["c"].strip(), match["sign"])
    if match["e"]:
        sign = match["slash"] or "."
        found = _dated(match, (int(match["e"]), int(match["f"] or match["g"])), None, sign)
        return found if any(found.fits(order) for order in ORDERS) else None
    month, day = month_of(match["m1"] or match["m2"]), int(match["d1"] or match["d2"])
    if not month or not 1 <= day <= 31:
        return None
    year, end = match["y1"] or match["y2"], match.end()
    if year and len(year) == 2 and not short_years:
        year, end = None, match.end("m1")
    return _dated(match, (day, month), year, end=end)


def _dated(
    match: re.Match[str], parts: tuple[int, int], year: str | None, sign: str = "", end: int | None = None
) -> WrittenDate:
    """The date of a match, with the time of day behind it."""
    text = match.string
    end = match.end() if end is None else end
    clock = _CLOCK.match(text, end)
    marked = match["lead"] or match["ordinal1"] or match["ordinal2"] or match["g"] or match["article"]
    parted = _ENDED.match(text, end) or (not sign and _PARTED.match(text, end))
    return WrittenDate(
        parts,
        2000 + int(year) if year and len(year) == 2 else int(year) if year else None,
        slashed=bool(sign),
        sign=sign,
        clock=clock["clock"] if clock else "",
        text=text[match.start() : end].strip(),
        end=clock.end() if clock else end,
        sure=bool(year or marked or clock or parted),
    )


_FLAG = r"(?:(?:~|ca\.|(?:about|around|roughly|ca|circa|etwa|ungefähr|before|vor)\s)\s*)?"
_NUMBER = re.compile(
    rf"(?:(?:on|an|am)\s+)?(?P<early>{_FLAG})(?:(?P<word>days?|tage?|d(?=[\s#.]*\d))\s*(?:[:#.]\s*)?)?(?P<late>{_FLAG})"
    r"(?:(?P<first>\d{1,4})(?:\s*(?:[-–]|to|bis)\s*(?P<last>\d{1,4}))?(?![\d.]*\d)(?P<after>\.?\s*(?:days?|tage?)\b)?"
    r"|(?P<words>[^\W\d_]+(?:[ \-][^\W\d_]+){0,5}))",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class WrittenNumber:
    """A day by its number as written, or a span of days, which may end before it begins."""

    first: int
    last: int
    flag: Literal["", "about", "before"]
    end: int
    headed: bool  # `day` stands before it
    named: bool  # `day` or `d` stands beside it

    @property
    def text(self) -> str:
        """As the log writes it."""
        if self.flag == "before":
            return f"before {self.first}"
        span = f"{self.first}-{self.last}" if self.last > self.first else str(self.first)
        return f"{self.flag} {span}".lstrip()


def number_at(text: str, start: int = 0) -> WrittenNumber | None:
    """The number of a day that begins at a place of a text, in digits, or in words after `day`; None without one."""
    match = _NUMBER.match(text, start)
    if match is None:
        return None
    flag = (match["late"] or match["early"]).strip().lower()
    word = (match["word"] or "").lower()
    if match["first"]:
        first, end = int(match["first"]), match.end()
    elif word and (counted := _in_words(match["words"])):
        first, end = counted[0], match.start("words") + counted[1]
    else:
        return None
    return WrittenNumber(
        first,
        int(match["last"] or first),
        "" if not flag else "before" if flag in ("before", "vor") else "about",
        end,
        headed=len(word) > 1,
        named=bool(word or match["after"]),
    )


def _in_words(text: str) -> tuple[int, int] | None:
    """The whole number that a text begins with as words, and its length; the longest of both languages."""
    tokens = tokens_of(text)
    read = [found for reader in (read_english, read_german) if (found := reader(tokens, 0))]
    found = max(read, key=lambda each: each.after, default=None)
    # An article is no number: `day a leaf fell`.
    counts = found is not None and (found.form == "cardinal" or tokens[0].word == "eins")
    if found is None or not counts or found.value != int(found.value):
        return None
    return int(found.value), tokens[found.after - 1].end
