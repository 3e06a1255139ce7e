"""What a record lacks: a log, a sowing, an end, an answer, news for long.

In: a case. Out: findings about the whole of a run.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise

from sitegen.core.day import Day
from sitegen.core.finding import Finding
from sitegen.core.rows import Deed
from sitegen.core.text import plural
from sitegen.judge.case import Case
from sitegen.judge.words import on_day, the_day

__all__ = ["long_gap", "no_answer", "no_end", "no_log", "nothing_sown"]

# Days without a word before it is asked what happened. Common practice, no source.
LONG_GAP = 28
LONG_SILENCE = 60


def no_log(case: Case) -> Iterator[Finding]:
    """An experiment has at least one entry."""
    if not case.run.rows.entries:
        yield Finding(
            "no-log",
            case.head,
            f"`{case.run.id}` has no log",
            "write at least one entry under `log`",
            expected="log",
        )


def nothing_sown(case: Case) -> Iterator[Finding]:
    """A log says what was sown."""
    if case.run.rows.entries and not case.run.rows.of(Deed.SOW):
        yield Finding(
            "nothing-sown",
            case.head,
            "the log never says what was sown",
            "write `sow` in the entry of the day of sowing",
            expected="sow",
        )


def long_gap(case: Case) -> Iterator[Finding]:
    """While a run goes on, no four weeks pass without an entry or a spreadsheet's reading."""
    rows, end = case.run.rows, case.run.ended
    looks = [(entry.day, entry.source) for entry in rows.entries]
    looks += [(reading.day, reading.source) for reading in rows.readings if reading.entry is None]
    looks.sort(key=lambda look: (look[0].last, look[1]))
    for (before, _), (after, source) in pairwise(looks):
        gap = after.first - before.last
        if gap <= LONG_GAP or (end and before.first >= end.day.first):
            continue
        yield Finding(
            "long-gap",
            source,
            f"nothing is recorded between {the_day(before)} and {the_day(after)}, {plural(gap, 'day')} later",
            "write an entry for what was seen in between, or check the day",
            plural(gap, "day"),
            f"at most {plural(LONG_GAP, 'day')}",
        )


def _last_date(case: Case) -> date | None:
    """The latest date that the last day can have been."""
    start = case.run.setup.start.latest
    return start + timedelta(days=case.run.last_day) if start else None


def no_end(case: Case) -> Iterator[Finding]:
    """A run without news for long says that it ended."""
    last = _last_date(case)
    if case.run.ended or last is None or not case.run.rows.entries:
        return
    if (case.today - last).days <= LONG_SILENCE:
        return
    yield Finding(
        "no-end",
        max(case.run.rows.entries, key=lambda entry: entry.day.last).source,
        f"the last record is of {the_day(Day.on(case.run.last_day))}, more than {LONG_SILENCE} days ago, "
        "and nothing says that the run ended",
        "write `end` in the last entry, with why",
        expected="end",
    )


def no_answer(case: Case) -> Iterator[Finding]:
    """A run that ended has an answer."""
    end = case.run.ended
    if end is None or case.run.setup.answer is not None:
        return
    yield Finding(
        "no-answer",
        case.run.setup.at("question") if case.run.setup.question else end.source,
        f"the run ended {on_day(end.day)} without an answer",
        "write `answer` with a verdict: `again`, `not again` or `undecided`",
        expected="answer",
    )
