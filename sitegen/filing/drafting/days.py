"""The column of days of a table: which day each row is about.

In: a `SheetTable`. Out: a `When` a row; the order of the parts of dates is told by all of them together, or asked for.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sitegen.filing.dates import ORDERS, Order, WrittenDate
from sitegen.filing.drafting.choices import Choices, Question
from sitegen.filing.drafting.dates import When, day_number, on_date, order_of, with_years, written_date
from sitegen.filing.drafting.sheets.headings import Role
from sitegen.filing.drafting.sheets.tables import SheetTable

SOWN = re.compile(
    r"\b(?:sown|sowed|sowing|sow|seeded|started|start|aussaat|gesät|ausgesät|gesaet)\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Days:
    """The day of each row that has one; the order of the parts of its dates, where these can stand in another."""

    by_row: Mapping[int, When]
    order: Order | None


def days_of(
    table: SheetTable, choices: Choices, *, month_first: bool, year: int, beside: Sequence[WrittenDate] = ()
) -> Days:
    """The days of a table; the dates of other columns are written as its own."""
    role = table.when.heading.role
    texts = {
        row: text
        for row in range(table.first, table.last + 1)
        if (text := table.grid.cell(row, table.when.index))
    }
    found: dict[int, When] = {}
    dates: dict[int, WrittenDate] = {}
    for row, text in texts.items():
        if role in (Role.DAY, Role.WEEK) and (day := day_number(text, weeks=role is Role.WEEK)):
            found[row] = day
        elif written := written_date(text):
            dates[row] = written
        elif day := day_number(text, named=True):
            found[row] = day
    if role is Role.WEEK and found:
        choices.say("weeks: counted from sowing, day = 7 times the week, and about")
    order = date_order(dates.values(), choices, month_first=month_first, beside=beside)
    year = open_year(dates.values(), choices, year)
    ordered = with_years(((written, order) for written in dates.values()), year)
    found |= {row: on_date(date) for row, date in zip(dates, ordered, strict=True) if date is not None}
    return Days(found, order if any(written.slashed for written in dates.values()) else None)


def date_order(
    dates: Iterable[WrittenDate],
    choices: Choices,
    *,
    month_first: bool,
    beside: Sequence[WrittenDate] = (),
) -> Order:
    """The order of the parts of dates: as they show it, else as the author says, else as is usual where they live."""
    all_dates = list(dates)
    order, because = order_of(all_dates)
    if order is not None:
        if because:
            choices.say(f"dates: {order}, since {because}")
        return order
    shown = [date for date in beside if date.slashed]
    fitting = [each for each in ORDERS if all(date.fits(each) for date in shown)]
    if shown and len(fitting) == 1:
        choices.say(f"dates: {fitting[0]}, since those of another column can be nothing else")
        return fitting[0]
    written = next(date for date in all_dates if date.slashed)
    example = written.sign.join(map(str, (*written.parts, *([written.year] if written.year else []))))
    usual = ORDERS[month_first]
    question = Question("dates", f"Dates such as `{example}`: which part comes first?", ORDERS, usual)
    units = "us" if month_first else "metric"
    because = f"as is usual in a journal in {units} units, since `{example}` can be read both ways"
    answer = choices.take(question, "dates", because, f"say `--answer 'dates={ORDERS[not month_first]}'`")
    return "month first" if answer == "month first" else "day first"


def open_year(dates: Iterable[WrittenDate], choices: Choices, year: int) -> int:
    """The year of dates that name none."""
    listed = list(dates)
    if not listed or listed[0].year is not None:
        return year
    named = next((date.year for date in listed if date.year is not None), None)
    if named is not None:
        choices.say(f"dates without a year: counted from {named}, which a later date names")
        return named
    question = Question("year", "The dates name no year: which one is the first of them in?", (), str(year))
    answer = choices.take(
        question, "year of the first date", "since none is named", "say `--answer year=2025`"
    )
    return int(answer) if answer.isdigit() and len(answer) == 4 else year


def is_sampled(table: SheetTable) -> bool:
    """Whether rows are samples by time: several on one day, with a time of day."""
    rows = range(table.first, min(table.last + 1, table.first + 500))
    texts = [text for row in rows if (text := table.grid.own(row, table.when.index))]
    dates = [written for text in texts if (written := written_date(text))]
    beside = [
        table.grid.own(table.first, column.index) for column in table.of(Role.CLOCK) if column != table.when
    ]
    clock = any(re.match(r"\d{1,2}:\d{2}", text) for text in beside) or any(date.clock for date in dates)
    days = {(date.parts, date.year) for date in dates}
    plants = any(column.heading.plant for column in table.columns) or table.of(Role.PLANT)
    return clock and not plants and len(dates) * 2 > len(texts) and len(dates) > len(days)


def day_zero(date: dt.date, day: When) -> dt.date | None:
    """The date of day 0 by a row that has both; None where the day is no single number."""
    return date - dt.timedelta(days=int(day.text)) if day.text.isdigit() else None
