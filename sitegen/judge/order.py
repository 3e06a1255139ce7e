"""Days in order: before the start, in the future, after the end, written out of order.

In: a case. Out: findings about entries and their days. Only what is certain is said: a span of days that may
fit, fits.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Entry
from sitegen.judge.case import Case, last_date
from sitegen.judge.words import on_day, the_day


def before_start(case: Case) -> Iterator[Finding]:
    """Nothing is recorded before day 0."""
    start = case.run.setup.start
    for item in case.days:
        if item.day.last >= 0:
            continue
        when = start.date_of(item.day.last)
        dated = f" ({when.isoformat()})" if when else ""
        begin = f", {start.date.isoformat()}" if when and start.date else ""
        yield Finding(
            "before-start",
            item.source,
            f"{the_day(item.day)}{dated} is before the start{begin}",
            "check the day, or write an earlier `start`",
            the_day(item.day),
            "day 0 or later",
        )


def in_the_future(case: Case) -> Iterator[Finding]:
    """Nothing is recorded that is yet to come; only where days have dates."""
    last = last_date(case.run)
    if last is None or last <= case.today:
        return
    for item in case.days:
        when = case.run.setup.start.date_of(item.day.first)
        if when is None or when <= case.today:
            continue
        yield Finding(
            "in-the-future",
            item.source,
            f"{the_day(item.day)} is {when.isoformat()}, which is yet to come",
            "check the day and `start`",
            when.isoformat(),
            f"{case.today.isoformat()} or earlier",
        )


def after_the_end(case: Case) -> Iterator[Finding]:
    """Nothing follows an end that cleared the plants; a second end is told apart."""
    end = case.run.ended
    if end is None or end.kept is not False:
        return
    ends = {event.entry for event in case.run.rows.of(Deed.END)}
    for item in case.days:
        if item.day.first <= end.day.last or item.entry in ends:
            continue
        yield Finding(
            "after-the-end",
            item.source,
            f"the plants were cleared {on_day(end.day)}; nothing can follow {on_day(item.day)}",
            "check the day, or write `plants: kept` in `end`",
            the_day(item.day),
            f"{the_day(end.day)} or earlier",
        )


def after_end_kept(case: Case) -> Iterator[Finding]:
    """An end before later entries says what became of the plants."""
    end = case.run.ended
    if end is None or end.kept is not None:
        return
    ends = {event.entry for event in case.run.rows.of(Deed.END)}
    follow = (item for item in case.days if item.day.first > end.day.last)
    later = next((item for item in follow if item.entry not in ends), None)
    if later is None:
        return
    yield Finding(
        "after-end-kept",
        end.source,
        f"{the_day(later.day)} follows the end {on_day(end.day)}, which does not say that plants were kept",
        "write `plants: kept` in `end`",
        expected="plants: kept",
    )


def two_ends(case: Case) -> Iterator[Finding]:
    """A run ends once."""
    first, *more = case.run.rows.of(Deed.END) or (None,)
    for end in more:
        if first is None or end is None:
            continue
        yield Finding(
            "two-ends",
            end.source,
            f"the run ended {on_day(first.day)}; it cannot end again {on_day(end.day)}",
            "remove one of the two ends",
            the_day(end.day),
            "one `end`",
        )


def out_of_order(case: Case) -> Iterator[Finding]:
    """Entries are written in the order of their days; of a disorder the fewest entries are named."""
    written = sorted(case.run.rows.entries, key=lambda entry: entry.source)
    kept = _longest_in_order([entry.day.first for entry in written])
    for place, entry in enumerate(written):
        if place in kept:
            continue
        above, below = written[:place], written[place + 1 :]
        later = max((e for e in above if e.day.first > entry.day.last), key=_first, default=None)
        earlier = min((e for e in below if e.day.last < entry.day.first), key=_first, default=None)
        other, where, to = (later, "below", "above") if later else (earlier, "above", "below")
        if other is None:
            continue
        yield Finding(
            "out-of-order",
            entry.source,
            f"{the_day(entry.day)} is written {where} {the_day(other.day)}",
            f"check the day, or move the entry {to} {the_day(other.day)}",
            the_day(entry.day),
        )


def _first(entry: Entry) -> int:
    return entry.day.first


def _longest_in_order(days: Sequence[int]) -> frozenset[int]:
    """Places of a longest run of days that never falls; of two equals the one written earlier stays.

    Patience sorting from the end backwards (M. Fredman, Discrete Mathematics 11, 1975, 29-35; from memory).
    """
    tails: list[int] = []
    last_at: list[int] = []
    before: dict[int, int] = {}
    for place in range(len(days) - 1, -1, -1):
        slot = bisect_right(tails, -days[place])
        before[place] = last_at[slot - 1] if slot else -1
        if slot == len(tails):
            tails.append(0)
            last_at.append(0)
        tails[slot], last_at[slot] = -days[place], place
    kept, place = [], last_at[-1] if last_at else -1
    while place >= 0:
        kept.append(place)
        place = before[place]
    return frozenset(kept)
