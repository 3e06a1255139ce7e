"""What a record lacks: a log, a sowing, an end, an answer, news for long.

In: a case. Out: findings about the whole of a run.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import Day
from sitegen.judge.case import Case
from sitegen.judge.words import on_day, the_day

# Days without a word before it is asked what happened. Common practice, no source.
LONG_GAP = 28
LONG_SILENCE = 60


def no_log(case: Case) -> Iterator[Finding]:
    """An experiment has a log; one that is there and could not be read has been said already."""
    if not case.run.rows.entries and "log" not in dict(case.run.setup.spans):
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


def goes_silent(run: Run) -> date | None:
    """The first day on which a run without an end has had no news for long; None where that never comes."""
    start = run.setup.start.latest
    if run.ended or start is None or not run.rows.entries:
        return None
    return start + timedelta(days=run.last_day + LONG_SILENCE + 1)


def no_end(case: Case) -> Iterator[Finding]:
    """A run without news for long says that it ended."""
    silent = goes_silent(case.run)
    if silent is None or case.today < silent:
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
