"""The day that a line of an inbox begins with: `day 31`, `day thirty-one`, `Tag 33-38`, `about day 36`, `2026-03-02`.

In: a text, a place in it. Out: `WrittenDay`, with the day as the log writes it, or with what is wrong about it. English
and German. Words that count from today are no day: nobody knows when they were written. Of two readings, one that is yet
to come is none.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass

from sitegen.core.language.number_words.dates import MONTHS
from sitegen.core.language.number_words.english import read_english
from sitegen.core.language.number_words.german import read_german
from sitegen.core.language.number_words.tokens import tokens_of
from sitegen.core.language.text import listed


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
    yearless: bool = False

    @property
    def relative(self) -> bool:
        """Whether it counts from a day that is not said."""
        return bool(self.word)


_ABOUT = r"(?P<about>about|around|roughly|ca\.?|circa|etwa|ungefähr)"
_BEFORE = r"(?P<before>before|vor)"
_TIME = re.compile(
    r"(?:,?\s+(?:at |um )?|T)\d{1,2}[:.]\d{2}(?:[:.]\d{2})?(?:\s*(?:am|pm|uhr)\b)?"
    r"(?:Z|[+-]\d{2}:?\d{2})?(?!\d)",
    re.IGNORECASE,
)
_NUMBER = r"(?P<first>\d{1,4})(?:\s*(?:[-–]|to|bis)\s*(?P<last>\d{1,4}))?(?![\d.]*\d)"
_WORDS = r"(?P<words>[^\W\d_]+(?:[ \-][^\W\d_]+){0,5})"
_DAY = re.compile(
    rf"(?:on |an |am )?(?:{_ABOUT}\s+|{_BEFORE}\s+)?(?:days?|tage?)\s*(?:[:#.]\s*)?"
    rf"(?:(?P<late>about|around|ca\.?|etwa|before|vor)\s+)?(?:{_NUMBER}|{_WORDS})",
    re.IGNORECASE,
)


def _each(text: str) -> tuple[str, ...]:
    return tuple(text.split())


_WEEKDAYS = _each(
    "monday tuesday wednesday thursday friday saturday sunday "
    "montag dienstag mittwoch donnerstag freitag samstag sonntag"
)
_WEEKDAY = rf"(?:(?:{'|'.join([*_WEEKDAYS, 'mon|tues?|wed|thu(?:rs)?|fri|sat|sun|mo|di|mi|do|fr|sa|so'])})\b[.,]?\s+)?"
_MONTH = rf"(?P<month>{'|'.join(sorted(MONTHS, key=len, reverse=True))})\b\.?"
_DATES = tuple(
    re.compile(rf"(?:on |am |date: ?|datum: ?)?{_WEEKDAY}(?:{form})", re.IGNORECASE)
    for form in (
        r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})(?!\d)",
        r"(?P<y>\d{4})[/.](?P<m>\d{1,2})[/.](?P<d>\d{1,2})(?!\d)",
        r"(?P<a>\d{1,2})(?P<sign>[./-])\s?(?P<b>\d{1,2})(?P=sign)\s?(?P<y>\d{4}|\d{2})(?!\d)",
        rf"(?P<d>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?:of )?{_MONTH},?(?:\s+(?P<y>\d{{4}})(?!\d))?",
        rf"{_MONTH}\s+(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?!\d),?(?:\s+(?P<y>\d{{4}})(?!\d))?",
    )
)
_RELATIVE = re.compile(
    r"(?:(?:today|yesterday|tonight|this (?:morning|evening)|last (?:night|week)|heute|gestern|vorgestern"
    rf"|(?:last |on |am |letzten )?(?:{'|'.join(_WEEKDAYS)}))\b)(?=\s*(?:[:,–-]|$))",
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
    match = _DAY.match(text, start)
    if match is None:
        return None
    flag = match["late"] or match["about"] or match["before"] or ""
    flag = "" if not flag else "before " if flag.lower() in ("before", "vor") else "about "
    if match["first"]:
        first, last, end = int(match["first"]), match["last"], match.end()
    else:
        counted = _in_words(match["words"])
        if counted is None:
            return None
        first, last, end = counted[0], None, match.start("words") + counted[1]
    if last and int(last) < first:
        message = f"the days `{first}-{last}` end before they begin"
        return WrittenDay("", start, end, message=message, mend=f"write `day {last}-{first}`")
    span = f"{first}-{last}" if last and int(last) > first else str(first)
    return WrittenDay(f"day: {flag}{span}", start, end, number=first)


def _date_at(text: str, start: int, today: dt.date | None) -> WrittenDay | None:
    match = next((found for form in _DATES if (found := form.match(text, start))), None)
    if match is None:
        return None
    parts = match.groupdict()
    end = match.end()
    if not parts["y"]:
        message = f"`{match[0].strip()}` is in no year that is said"
        return WrittenDay(
            "", start, end, message=message, mend="write the year too, as in `2 March 2026`", yearless=True
        )
    dates = _readings(parts)
    if today is not None and len(dates) > 1:
        dates = [each for each in dates if each <= today] or dates
    time = _TIME.match(text, end)
    end = time.end() if time else end
    if len(dates) == 1:
        return WrittenDay(f"date: {dates[0].isoformat()}", start, end, date=dates[0])
    if not dates:
        message = f"`{match[0]}` is not a date"
        return WrittenDay("", start, end, message=message, mend="write it as `2026-03-02`, year, month, day")
    offers = listed([f"`{each.isoformat()}`" for each in dates], "or")
    message = f"`{match[0]}` can be read in two ways: day first or month first"
    return WrittenDay("", start, end, message=message, mend=f"write {offers}")


def _readings(parts: dict[str, str | None]) -> list[dt.date]:
    """The dates that figures may mean."""
    year = int(str(parts["y"])) + (2000 if len(str(parts["y"])) == 2 else 0)
    if parts.get("month"):
        orders = [(MONTHS[str(parts["month"]).lower()], int(str(parts["d"])))]
    elif parts.get("m"):
        orders = [(int(str(parts["m"])), int(str(parts["d"])))]
    else:
        a, b = int(str(parts["a"])), int(str(parts["b"]))
        orders = list(dict.fromkeys([(b, a), (a, b)]))
    found: list[dt.date] = []
    for month, day in orders:
        try:
            found.append(dt.date(year, month, day))
        except ValueError:
            continue
    return found


def _in_words(text: str) -> tuple[int, int] | None:
    """The whole number that a text begins with as words, and its length; the longest of both languages."""
    tokens = tokens_of(text)
    read = [found for reader in (read_english, read_german) if (found := reader(tokens, 0))]
    found = max(read, key=lambda each: each.after, default=None)
    if found is None or found.form not in ("cardinal", "article") or found.value != int(found.value):
        return None
    return int(found.value), tokens[found.after - 1].end
