"""A start that the log speaks against: unknown beside dates, a year or a month too late, a year too early.

In: the context of a run, its findings. Out: one finding at `start`, with the date that it may be.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Run, Sowing
from sitegen.judge.context import Context
from sitegen.judge.order import Dated, recorded_days

_ONE_DAY = re.compile(r"day (\d+)")
# Days after the start on which a first sowing is taken for one of the year after. Custom, no source.
_A_YEAR_ON = range(335, 397)


def of_code(findings: Sequence[Finding], code: str, ending: str = ".yaml") -> list[Finding]:
    """The findings of one code in files of an ending: those of the log, or of a spreadsheet."""
    return [each for each in findings if each.code == code and each.source.file.endswith(ending)]


def _finding(context: Context, message: str, mend: str, expected: str = "") -> Finding:
    start = context.run.setup.start
    found = str(start.date) if start.date else "unknown"
    return Finding("start-unlike-log", context.run.setup.at("start"), message, mend, found, expected)


def undated(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """An unknown start in a run whose entries have dates."""
    dates = of_code(findings, "date-without-start")
    if len(dates) < 2:
        return
    first = min(each.found for each in dates)
    message = f"`start` is unknown, but {plural(len(dates), 'entry', 'entries')} have a date"
    mend = f"write the date of sowing, such as `start: {first}`"
    yield _finding(context, message, mend, first)


def both_disagree(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """Days and dates of several entries that agree on another start."""
    starts = Counter[date]()
    for each in of_code(findings, "day-and-date"):
        if day := _ONE_DAY.fullmatch(each.expected):
            starts[date.fromisoformat(each.found) - timedelta(days=int(day[1]))] += 1
    if not starts:
        return
    meant, number = starts.most_common(1)[0]
    if number < 2:
        return
    message = (
        f"by the days and dates of {number} entries, day 0 was {meant}, not {context.run.setup.start.date}"
    )
    yield _finding(context, message, f"write `start: {meant}`", str(meant))


def too_late(context: Context, _findings: Sequence[Finding]) -> Iterator[Finding]:
    """A start after most of the log, or one that puts most of it into the future."""
    start, log = context.run.setup.start.date, log_days(context)
    if start is None or context.run.setup.start.precision != "day":
        return
    early = [item for item in log if item.day.last < 0]
    late = [item for item in log if (when := _date(context, item)) and when > context.today]
    for items, where in ((early, "before it"), (late, "in the future")):
        sown = _first_sowing(context.run)
        most = 2 * len(items) >= len(log) or any(item.entry == (sown and sown.entry) for item in items)
        if len(items) < 2 or not most:
            continue
        meant = _meant_start(context, start, items)
        whose = (
            f"all {len(items)} entries" if len(items) == len(log) else f"{len(items)} of {len(log)} entries"
        )
        question = f": is it {meant}?" if meant else ""
        message = f"`start` is {start}, which puts {whose} {where}{question}"
        mend = f"write `start: {meant}`" if meant else "write the date of sowing as `start`"
        yield _finding(context, message, mend, str(meant or ""))
        return


def log_days(context: Context) -> list[Dated]:
    """The days of the entries of the log."""
    return [item for item in context.once(recorded_days) if item.entry is not None]


def _date(context: Context, item: Dated) -> date | None:
    return context.run.setup.start.date_of(item.day.first)


def _first_sowing(run: Run) -> Sowing | None:
    return min(run.rows.of(Sowing), key=lambda sowing: sowing.day.key, default=None)


def _meant_start(context: Context, start: date, items: Sequence[Dated]) -> date | None:
    """The start that puts all entries into the run: the date of sowing, or the same day of the year before."""
    sown = _first_sowing(context.run)
    if sown is not None and sown.day.exact and sown.day.first < 0:
        return start + timedelta(days=sown.day.first)
    before = year_later(start, -1)
    shift = (start - before).days
    fits = all(
        item.day.last + shift >= 0
        if item.day.last < 0
        else before + timedelta(days=item.day.first) <= context.today
        for item in items
    )
    return before if fits else None


def year_later(when: date, years: int) -> date:
    """The same day of another year; 28 February for the 29th."""
    try:
        return when.replace(year=when.year + years)
    except ValueError:
        return when.replace(year=when.year + years, day=28)


def a_year_before_sowing(run: Run) -> bool:
    """Whether the start, known to the day, is about a year before the first sowing."""
    sown = _first_sowing(run)
    return sown is not None and run.setup.start.precision == "day" and sown.day.first in _A_YEAR_ON


def a_year_early(context: Context, _findings: Sequence[Finding]) -> Iterator[Finding]:
    """A start a year before the first sowing, which is day 0."""
    sown, start = _first_sowing(context.run), context.run.setup.start
    if sown is None or not a_year_before_sowing(context.run):
        return
    if any(0 <= item.day.first < _A_YEAR_ON.start for item in log_days(context)):
        return
    meant = start.date_of(sown.day.first)
    message = f"the first sowing is {sown.day.first} days after the start, {start.date}: is it {meant}?"
    yield _finding(context, message, f"write `start: {meant}`", str(meant))
