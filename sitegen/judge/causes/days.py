"""Days that most of a file or of a log contradicts: a spreadsheet outside the run, an end before its records.

In: the context of a run, its findings. Out: one finding at the first row of the spreadsheet, or at the end.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Ending
from sitegen.judge.causes.start import log_days, year_later
from sitegen.judge.context import Context, on_day, the_day
from sitegen.judge.order import Dated, recorded_days

_YEAR = 366  # days, in a leap year


def sheet_unlike_run(context: Context, _findings: Sequence[Finding]) -> Iterator[Finding]:
    """A spreadsheet of which all rows lie before the start, after the log or in the future."""
    log = log_days(context)
    if not log:
        return
    last = max(item.day.last for item in log)
    for rows in _by_file(context).values():
        if len(rows) < 2:
            continue
        if all(row.day.last < 0 for row in rows):
            years, where = 1, "before the start"
        elif all(row.day.first > last for row in rows) and _contradicted(context, rows):
            years, where = -1, f"after the last entry, {on_day(_at(log, last).day)}"
        else:
            continue
        yield _of_sheet(context, rows, years, where, last)


def _at(log: Sequence[Dated], last: int) -> Dated:
    return next(item for item in log if item.day.last == last)


def _by_file(context: Context) -> dict[str, list[Dated]]:
    found: dict[str, list[Dated]] = defaultdict(list)
    for item in context.once(recorded_days):
        if item.entry is None:
            found[item.source.file].append(item)
    return found


def _contradicted(context: Context, rows: Sequence[Dated]) -> bool:
    """Whether rows after the last entry cannot be: they lie after an end, or in the future."""
    end, date_of = context.run.ended, context.run.setup.start.date_of
    future = all((when := date_of(row.day.first)) is not None and when > context.today for row in rows)
    return future or (end is not None and end.kept is False)


def _of_sheet(context: Context, rows: Sequence[Dated], years: int, where: str, last: int) -> Finding:
    first = min(rows, key=lambda row: row.source)
    begin, end = min(row.day.first for row in rows), max(row.day.last for row in rows)
    when = context.run.setup.start.date_of(first.day.first)
    shifted = begin + years * _YEAR >= 0 and end + years * (_YEAR - 1) <= last + _YEAR // 6
    question, mend = "", "check the dates of its rows, or the columns that they are read from"
    if when is not None and shifted:
        year = year_later(when, years).year
        question, mend = f": is it {year}?", f"write {year} for {when.year} in its dates"
    message = f"all {plural(len(rows), 'row')} lie {where}{question}"
    return Finding("sheet-unlike-run", first.source, message, mend, the_day(first.day), "days of the run")


def end_before_records(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """An end that several entries come after."""
    end = context.run.ended
    if end is None or end.kept is not False:
        return
    ends = {event.entry for event in context.run.rows.of(Ending)}
    # By the findings, not by the days: rows of a spreadsheet that has a finding of its own are none of these.
    after = [
        each for each in findings if each.code == "after-the-end" and each.source.file == end.source.file
    ]
    later = [item for item in log_days(context) if item.day.first > end.day.last and item.entry not in ends]
    if len(after) < 2 or not later:
        return
    latest = max(later, key=lambda item: item.day.key)
    message = (
        f"the plants were cleared {on_day(end.day)}, but {plural(len(later), 'entry', 'entries')} follow, "
        f"up to {the_day(latest.day)}"
    )
    mend = "check the day of the `end`, or write `plants: kept` in it"
    yield Finding(
        "end-before-records", end.source, message, mend, the_day(end.day), f"{the_day(latest.day)} or later"
    )
