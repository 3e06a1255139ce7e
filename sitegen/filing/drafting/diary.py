"""A diary → what it says of a run: paragraphs or lines that begin with a day or a date.

In: its text; a function from a line to fields of an entry. Out: `Found`. The words that no rule takes are the note of
their entry; a line from which something was taken stands above its entry as it was.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.filing.dates import WrittenDate, date_at, number_at
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import When, on_date, on_number, with_years
from sitegen.filing.drafting.days import SOWN, date_order, open_year
from sitegen.filing.drafting.records import Entry, Found, Kept
from sitegen.filing.words.known import Understood

_BULLET = re.compile(r"\s*(?:[-*•>]\s+|#{1,6}\s*|\*\*|__)?\s*")
_AFTER = re.compile(r"\s*(?:\*\*|__)?\s*[:.,;)–—-]*\s*(?:\*\*|__)?\s*")
_PLANT = re.compile(r"\b(?:P|[Pp]lant |[Pp]flanze )(\d{1,2})(?:\s?[-–]\s?P?(\d{1,2}))?\b")


@dataclass(frozen=True, slots=True)
class _Line:
    """A line: its number, the day that it begins with, the words after that."""

    number: int
    text: str
    written: WrittenDate | When | None
    words: str


def plants_named(text: str) -> int:
    """The highest number of a plant in a text; 0 where it names none."""
    return max(
        (int(number) for match in _PLANT.finditer(text) for number in match.groups() if number), default=0
    )


def read_diary(
    text: str, understand: Callable[[str], Understood], choices: Choices, *, year: int, month_first: bool
) -> Found:
    """All paragraphs of a diary."""
    found = Found()
    lines = [_line(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    lines = _doubted(lines)
    days = _days([line.written for line in lines if line.written is not None], choices, year, month_first)
    when: When | None = None
    for line in lines:
        if line.written is not None:
            when = next(days) or when
        if when is None:
            found.titles.append((f"line {line.number}", line.text.strip()))
        elif line.words:
            _read_line(line, when, understand, found)
    return found


def _line(number: int, text: str) -> _Line:
    rest = _after_bullet(text)
    if written := date_at(rest, short_years=True):
        return _Line(number, text, written, _after_day(rest, written.end))
    found = number_at(rest)
    if found is not None and found.headed and (day := on_number(found)):
        return _Line(number, text, day, _after_day(rest, found.end))
    return _Line(number, text, None, rest.strip())


def _doubted(lines: Sequence[_Line]) -> list[_Line]:
    """`1/2 tsp` begins no day: two numbers are a date where a sign ends them, or where all other lines begin so too."""
    doubted = {
        line.number
        for line in lines
        if isinstance(line.written, WrittenDate) and line.written.slashed and not line.written.sure
    }
    if len(doubted) > 1 and len(doubted) == sum(line.written is not None for line in lines):
        return list(lines)
    return [
        replace(line, written=None, words=_after_bullet(line.text).strip())
        if line.number in doubted
        else line
        for line in lines
    ]


def _after_bullet(text: str) -> str:
    begin = _BULLET.match(text)
    return text[begin.end() :] if begin else text


def _after_day(text: str, end: int) -> str:
    after = _AFTER.match(text, end)
    return text[after.end() if after else end :].strip()


def _days(
    written: Sequence[WrittenDate | When], choices: Choices, year: int, month_first: bool
) -> Iterator[When | None]:
    """The day of each beginning."""
    dates = [each for each in written if isinstance(each, WrittenDate)]
    order = date_order(dates, choices, month_first=month_first)
    on = with_years([(date, order) for date in dates], open_year(dates, choices, year))
    for each in written:
        if isinstance(each, When):
            yield each
        else:
            date = next(on)
            yield on_date(date) if date is not None else None


def _read_line(line: _Line, when: When, understand: Callable[[str], Understood], found: Found) -> None:
    """One line of a day: a new entry, or more of the one before it."""
    read = understand(line.words)
    clock = line.written.clock if isinstance(line.written, WrittenDate) else ""
    if read.fields or clock:
        found.kept.append(Kept(when, f"line {line.number}", line.text.strip()))
    if when.key == "date":
        found.look_at(dt.date.fromordinal(when.rank))
        if any(key == "sow" for key, _ in read.fields) or (not found.starts and SOWN.search(line.words)):
            found.starts.append((dt.date.fromordinal(when.rank), f"line {line.number}"))
    entry = Entry(when, tuple(read.fields), read.note)
    before = found.entries[-1] if found.entries else None
    said = {key for key, _ in entry.fields}
    if (
        before
        and before.when == when
        and line.written is None
        and not said & {key for key, _ in before.fields}
    ):
        found.entries.pop()
        entry = Entry(when, before.fields + entry.fields, _joined(before.note, entry.note))
    found.entries.append(entry)


def _joined(before: str, after: str) -> str:
    """Two lines in a row, with a sign between them where the first has none at its end."""
    sign = " " if not before or before.endswith((".", "!", "?", ";", ",", ":")) else "; "
    return f"{before}{sign}{after}".strip() if after else before
