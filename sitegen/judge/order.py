"""Days before the start, in the future, after the end, or out of order.

In: the context of a run. Out: findings about entries and rows of spreadsheets. A span of days that may be right is right.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.rows import Ending, Entry
from sitegen.core.values.day import Day
from sitegen.judge.context import Context
from sitegen.judge.wording import on_day, the_day


class Dated(NamedTuple):
    """The day of an entry, or of a row of a spreadsheet (`entry` is None)."""

    day: Day
    source: Source
    entry: int | None


def recorded_days(context: Context) -> tuple[Dated, ...]:
    """Every day recorded; a row of a spreadsheet with several readings counts once."""
    rows = context.run.rows
    days = [Dated(entry.day, entry.source, entry.index) for entry in rows.entries]
    sheet_rows: dict[tuple[str, int, Day], Dated] = {}
    for reading in rows.readings:
        if reading.entry is None:
            key = (reading.source.file, reading.source.line, reading.day)
            sheet_rows.setdefault(key, Dated(reading.day, reading.source, None))
    return (*days, *sheet_rows.values())


def last_date(context: Context) -> date | None:
    """The last date that anything is recorded on; None where days have no dates."""
    days = [item.day.first for item in context.once(recorded_days)]
    return context.run.setup.start.date_of(max(days)) if days else None


def before_start(context: Context) -> Iterator[Finding]:
    """Nothing is recorded before day 0."""
    start = context.run.setup.start
    for item in context.once(recorded_days):
        if item.day.last >= 0:
            continue
        when = start.date_of(item.day.last)
        dated, begin = (f" ({when})", f", {start.date}") if when else ("", "")
        message = f"{the_day(item.day)}{dated} is before the start{begin}"
        mend = "check the day, or write an earlier `start`"
        yield Finding("before-start", item.source, message, mend, the_day(item.day), "day 0 or later")


def in_the_future(context: Context) -> Iterator[Finding]:
    """Nothing is recorded on a date after today, where days have dates."""
    for item in context.once(recorded_days):
        when = context.run.setup.start.date_of(item.day.first)
        if when is None or when <= context.today:
            continue
        message = f"{the_day(item.day)} is {when}, which is yet to come"
        mend = "check the day and `start`"
        yield Finding("in-the-future", item.source, message, mend, f"{when}", f"{context.today} or earlier")


def after_the_end(context: Context) -> Iterator[Finding]:
    """Nothing follows an end that cleared the plants; a second end has a finding of its own."""
    end = context.run.ended
    if end is None or end.kept is not False:
        return
    ends = {event.entry for event in context.run.rows.of(Ending)}
    for item in context.once(recorded_days):
        if item.day.first <= end.day.last or item.entry in ends:
            continue
        message = f"the plants were cleared {on_day(end.day)}; nothing can follow {on_day(item.day)}"
        mend = "check the day, or write `plants: kept` in `end`"
        expected = f"{the_day(end.day)} or earlier"
        yield Finding("after-the-end", item.source, message, mend, the_day(item.day), expected)


def after_end_kept(context: Context) -> Iterator[Finding]:
    """An end before later entries says what became of the plants."""
    end = context.run.ended
    if end is None or end.kept is not None:
        return
    ends = {event.entry for event in context.run.rows.of(Ending)}
    follow = (item for item in context.once(recorded_days) if item.day.first > end.day.last)
    later = next((item for item in follow if item.entry not in ends), None)
    if later is None:
        return
    message = (
        f"{the_day(later.day)} follows the end {on_day(end.day)}, which does not say that plants were kept"
    )
    mend = "write `plants: kept` in `end`"
    yield Finding("after-end-kept", end.source, message, mend, expected="plants: kept")


def two_ends(context: Context) -> Iterator[Finding]:
    """A run ends once."""
    ends = context.run.rows.of(Ending)
    for end in ends[1:]:
        message = f"the run ended {on_day(ends[0].day)}; it cannot end again {on_day(end.day)}"
        mend = "remove one of the two ends"
        yield Finding("two-ends", end.source, message, mend, the_day(end.day), "one `end`")


def out_of_order(context: Context) -> Iterator[Finding]:
    """Entries are written in the order of their days; the fewest entries that need to be moved are reported."""
    written = sorted(context.run.rows.entries, key=lambda entry: entry.source)
    kept = longest_in_order([entry.day.first for entry in written])
    for place, entry in enumerate(written):
        if place in kept:
            continue
        above, below = written[:place], written[place + 1 :]
        later = max((e for e in above if e.day.first > entry.day.last), key=_first, default=None)
        earlier = min((e for e in below if e.day.last < entry.day.first), key=_first, default=None)
        other, where, to = (later, "below", "above") if later else (earlier, "above", "below")
        if other is None:
            continue
        message = f"{the_day(entry.day)} is written {where} {the_day(other.day)}"
        mend = f"check the day, or move the entry {to} {the_day(other.day)}"
        yield Finding("out-of-order", entry.source, message, mend, the_day(entry.day))


def _first(entry: Entry) -> int:
    return entry.day.first


def longest_in_order(days: Sequence[int]) -> frozenset[int]:
    """Indices of a longest subsequence of days that never falls; of two equally long, the one written earlier.

    Patience sorting from the end backwards (M. Fredman, Discrete Mathematics 11, 1975, 29-35; from memory).
    """
    tails: list[int] = []
    last_at: list[int] = []
    before: dict[int, int] = {}
    for place in range(len(days) - 1, -1, -1):
        slot = bisect_right(tails, -days[place])
        before[place] = last_at[slot - 1] if slot else -1
        tails[slot : slot + 1] = [-days[place]]
        last_at[slot : slot + 1] = [place]
    kept, place = [], last_at[-1] if last_at else -1
    while place >= 0:
        kept.append(place)
        place = before[place]
    return frozenset(kept)
