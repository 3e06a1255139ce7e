"""Parts that a record lacks: a log, a sowing, an end, an answer; and long times without an entry.

In: the context of a run. Out: findings about the whole of a run.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import DateRange, Day
from sitegen.judge.context import Context, on_day, the_day
from sitegen.judge.order import last_date, recorded_days

# Days without an entry before a finding asks what happened. Common practice, no source.
LONG_GAP = 28
LONG_SILENCE = 60


def no_log(context: Context) -> Iterator[Finding]:
    """An experiment has a log, or a date on which it is to start; a log that could not be read has its own findings."""
    run = context.run
    dated = run.setup.start.date is not None
    if run.stage == "running" and not (dated or run.rows.entries or "log" in dict(run.setup.spans)):
        message = f"`{run.id}` has no log"
        mend = "write at least one entry under `log`, or for a planned run the date of its `start`"
        yield Finding("no-log", context.log_source, message, mend, expected="log")


def plan_passed(context: Context) -> Iterator[Finding]:
    """A run whose start has passed has an entry."""
    start = context.run.setup.start
    if not context.run.planned or start.latest is None or context.today <= start.latest:
        return
    message = f"`{context.run.id}` was to start on {start.latest}, and nothing is recorded yet"
    if start.precision == "month":
        message = f"`{context.run.id}` was to start in {start.latest:%Y-%m}, and nothing is recorded yet"
    mend = "write its first entry under `log`, or a later `start`"
    yield Finding("plan-passed", context.run.setup.at("start"), message, mend, str(start.latest), "an entry")


def nothing_sown(context: Context) -> Iterator[Finding]:
    """A log records a sowing."""
    if context.run.rows.entries and not context.run.rows.of(Deed.SOW):
        message = "the log never says what was sown"
        mend = "write `sow` in the entry of the day of sowing"
        yield Finding("nothing-sown", context.log_source, message, mend, expected="sow")


def long_gap(context: Context) -> Iterator[Finding]:
    """While a run goes on, no four weeks pass without an entry or a spreadsheet's reading."""
    end = context.run.ended
    in_order = sorted(context.once(recorded_days), key=lambda item: (item.day.last, item.source))
    for (before, *_), (after, source, _) in pairwise(in_order):
        gap = 0 if before.before or after.before else after.first - before.last
        if gap <= LONG_GAP or (end and before.first >= end.day.first):
            continue
        length, most = plural(gap, "day"), f"at most {plural(LONG_GAP, 'day')}"
        message = f"nothing is recorded between {the_day(before)} and {the_day(after)}, {length} later"
        mend = "write an entry for what was seen in between, or check the day"
        yield Finding("long-gap", source, message, mend, length, most)


def goes_silent(run: Run) -> date | None:
    """The date from which a run without an end has had no entry for long; None where it ended or has no date."""
    start = run.setup.start.latest
    if run.ended or start is None or not run.rows.entries:
        return None
    return start + timedelta(days=run.last_day + LONG_SILENCE + 1)


def no_end(context: Context) -> Iterator[Finding]:
    """A run without an entry for long records its end."""
    silent = goes_silent(context.run)
    if silent is None or context.today < silent:
        return
    message = (
        f"the last record is of {the_day(Day.on(context.run.last_day))}, more than {LONG_SILENCE} days ago, "
        "and nothing says that the run ended"
    )
    mend = "write `end` in the last entry, with why"
    latest = max(context.run.rows.entries, key=lambda entry: entry.day.last)
    yield Finding("no-end", latest.source, message, mend, expected="end")


def no_answer(context: Context) -> Iterator[Finding]:
    """A run that ended has an answer."""
    end = context.run.ended
    answer = context.run.setup.answer
    if end is None or (answer is not None and (answer.verdict or answer.result)):
        return
    message = f"the run ended {on_day(end.day)} without an answer"
    mend = "write `answer` with a `verdict`: `again`, `not again` or `undecided`, or with its `result` in a sentence"
    source = context.run.setup.at("question") if context.run.setup.question else end.source
    yield Finding("no-answer", source, message, mend, expected="answer")


def holds(run: Run, today: date) -> DateRange:
    """The range of dates around a date on which the findings of a run are the same."""
    last, silent = last_date(Context.of(run, today)), goes_silent(run)
    start = run.setup.start.latest
    passed = start + timedelta(days=1) if run.planned and start else None
    if last is not None and last > today:  # a finding about the future names today
        return DateRange(today, today)
    changes = [when for when in (last, silent, passed) if when is not None]
    before = [when for when in changes if when <= today]
    after = [when for when in changes if when > today]
    return DateRange(max(before, default=None), min(after) - timedelta(days=1) if after else None)
