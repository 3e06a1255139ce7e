"""Columns of dates in a table that has several: which one the rows are of, and what the others are the dates of.

In: a `SheetTable`. Out: the table with the column of its days chosen, and `DatedColumn`s: days of sowing, of planting
out, of picks, of first flowers, or dates that are kept as notes. Every choice is said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from sitegen.filing.dates import WrittenDate
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import When, written_date
from sitegen.filing.drafting.days import SOWN, days_of
from sitegen.filing.drafting.records import Entry, Found, Record
from sitegen.filing.drafting.sheets.cells import is_empty
from sitegen.filing.drafting.sheets.headings import Role
from sitegen.filing.drafting.sheets.tables import Column, SheetTable
from sitegen.filing.entries.entry_text import braced, bracketed

_ENOUGH = 200  # rows by which a column of dates is told
_NO_COUNT = "not kept"
_PICKS = frozenset({"harvest", "pieces"})


class DateKind(StrEnum):
    """What the dates of a column are those of."""

    MEASURED = "measured"
    ROW = "row"  # a date that says no more: that of a visit
    PICKED = "picked"
    FLOWERED = "flowered"
    PLANTED = "planted out"
    SPROUTED = "sprouted"
    SOWN = "sown"
    OTHER = "other"


_SAID = (
    (DateKind.SOWN, SOWN),
    (
        DateKind.PLANTED,
        re.compile(
            r"transplant|planted|potted|planting|umgepflanzt|ausgepflanzt|gepflanzt|eingesetzt|pikiert",
            re.IGNORECASE,
        ),
    ),
    (
        DateKind.SPROUTED,
        re.compile(
            r"sprout|germinat|emerg|seedling|\bup\b|gekeimt|keim|aufgegangen|aufgelaufen", re.IGNORECASE
        ),
    ),
    (DateKind.FLOWERED, re.compile(r"flower|bloom|blüte|blüht|aufgeblüht", re.IGNORECASE)),
    (DateKind.PICKED, re.compile(r"pick|harvest|\bcut\b|ernte|gepflückt|geschnitten", re.IGNORECASE)),
    (DateKind.MEASURED, re.compile(r"measured|gemessen|weighed|gewogen", re.IGNORECASE)),
)
_WORDS = {
    DateKind.SOWN: "days of sowing, each in the log as `sow`, of seeds that were not counted; the first is day 0",
    DateKind.PLANTED: "days of planting out, each in the log as `transplant`",
    DateKind.SPROUTED: "days on which seedlings came up, each a note of its day",
    DateKind.FLOWERED: "days of flowers, each a note of its day",
    DateKind.PICKED: "the days of what was picked in the rows; without a weight, each a note of its day",
}
# Why the rows are of the dates of a column.
_WHY = {
    DateKind.MEASURED: "which names the day of a row",
    DateKind.ROW: "which names the day of a row",
    DateKind.PICKED: "since the weights of a row are of it",
    DateKind.OTHER: "the first that names no deed",
}


@dataclass(frozen=True, slots=True)
class DatedColumn:
    """A column of dates beside the one that the rows are of, with the day in each row."""

    column: Column
    kind: DateKind
    by_row: Mapping[int, When]


def with_days_chosen(table: SheetTable, choices: Choices) -> SheetTable:
    """The table with the column that its rows are of; said where there is a choice."""
    columns = _columns_of_dates(table)
    if len(columns) < 2 or table.when.heading.role in (Role.DAY, Role.WEEK, Role.TIME):
        return table
    has_picks = any(
        column.heading.role is Role.VALUE and column.heading.key in _PICKS
        for column in table.columns
        if column not in columns
    )
    order = [DateKind.MEASURED, DateKind.ROW, *([DateKind.PICKED] if has_picks else []), DateKind.OTHER]
    order += [each for each in DateKind if each not in order]
    chosen = min(columns, key=lambda column: order.index(_kind(column)))
    others = ", ".join(f"`{column.text}`" for column in columns if column is not chosen)
    why = _WHY.get(_kind(chosen), "since no heading names the day of a row")
    choices.say(f"each row is of the date under `{chosen.text}`, {why}; not of {others}")
    return replace(table, when=chosen)


def without_dates(table: SheetTable) -> SheetTable:
    """The table without the columns of dates beside the one that its rows are of."""
    told = {column.index for column in _columns_of_dates(table)} - {table.when.index}
    return replace(table, columns=tuple(each for each in table.columns if each.index not in told))


def all_dates(table: SheetTable) -> tuple[WrittenDate, ...]:
    """The dates of all columns that hold such."""
    rows = range(table.first, table.last + 1)
    columns = _columns_of_dates(table)
    texts = (table.grid.own(row, column.index) for column in columns for row in rows)
    return tuple(date for text in texts if text and (date := written_date(text)) is not None)


def dated_columns(
    table: SheetTable, choices: Choices, *, month_first: bool, year: int
) -> tuple[DatedColumn, ...]:
    """The other columns of dates, each with what it is."""
    found: list[DatedColumn] = []
    beside = all_dates(table)
    for column in _columns_of_dates(table):
        if column.index == table.when.index:
            continue
        kind = _kind(column)
        of_column = replace(table, when=column)
        days = days_of(of_column, choices, month_first=month_first, year=year, beside=beside)
        kept = "dates kept as notes of their rows"
        choices.say(f"`{column.text}`: {_WORDS.get(kind, kept)}")
        found.append(DatedColumn(column, kind, days.by_row))
    return tuple(found)


def pick_day(dated: Sequence[DatedColumn], row: int) -> When | None:
    """The day on which what stands in a row was picked, where a column of its own says it."""
    return next(
        (each.by_row[row] for each in dated if each.kind is DateKind.PICKED and row in each.by_row), None
    )


def add_dates(
    table: SheetTable, dated: Sequence[DatedColumn], plants: Mapping[int, tuple[str, ...]], found: Found
) -> None:
    """What the other dates say, each once: entries, starts and notes of their days."""
    for each in dated:
        by_day: dict[When, list[str]] = {}
        for row, when in each.by_row.items():
            named = by_day.setdefault(when, [])
            named += [plant for plant in plants.get(row, ()) if plant not in named]
        for when, named in sorted(by_day.items(), key=lambda item: (item[0].rank, item[0].text)):
            row = next(row for row, day in each.by_row.items() if day == when)
            place = table.grid.place(row, each.column.index)
            _add(each, when, tuple(named), place, found)


def _add(each: DatedColumn, when: When, plants: tuple[str, ...], place: str, found: Found) -> None:
    if when.date is not None:
        found.look_at(when.date)
    whose = bracketed(plants)
    entry = None
    if each.kind is DateKind.PLANTED:
        entry = Entry(when, (("transplant", whose if plants else "all"),))
    elif each.kind is DateKind.SOWN:
        if when.date is not None:
            found.starts.append((when.date, place))
        seeds = braced([("plants", whose), ("seeds", _NO_COUNT)]) if plants else _NO_COUNT
        entry = Entry(when, (("sow", seeds),))
    if entry is not None:
        if entry not in found.entries:  # several sheets may say it
            found.entries.append(entry)
    elif each.kind in (DateKind.SPROUTED, DateKind.FLOWERED):
        found.records.append(Record(when, "note", plants, each.column.text, place))


def row_notes(
    table: SheetTable, dated: Sequence[DatedColumn], row: int, when: When, weighed: bool
) -> Iterator[tuple[When, str, str]]:
    """Dates that say nothing more, and days of picks without a weight: the day, the text and the place of each."""
    for each in dated:
        text = table.grid.own(row, each.column.index)
        if not text or is_empty(text):
            continue
        place = table.grid.place(row, each.column.index)
        if row not in each.by_row or each.kind in (DateKind.OTHER, DateKind.ROW, DateKind.MEASURED):
            yield when, f"{each.column.text}: {text}", place
        elif each.kind is DateKind.PICKED and not weighed:
            yield each.by_row[row], each.column.text, place


def _columns_of_dates(table: SheetTable) -> list[Column]:
    return [
        column
        for column in table.columns
        if column.index == table.when.index
        or (
            column.heading.role not in (Role.NOTE, Role.CLOCK, Role.DAY, Role.WEEK)
            and _holds_dates(table, column)
        )
    ]


def _holds_dates(table: SheetTable, column: Column) -> bool:
    """Whether most filled cells of a column are dates."""
    rows = range(table.first, min(table.last + 1, table.first + _ENOUGH))
    texts = [text for row in rows if (text := table.grid.own(row, column.index)) and not is_empty(text)]
    dates = sum(written_date(text) is not None for text in texts)
    return bool(texts) and dates * 2 >= len(texts)


def _kind(column: Column) -> DateKind:
    """What the heading of a column of dates says."""
    said = next((kind for kind, pattern in _SAID if pattern.search(column.text)), None)
    plain = column.heading.role in (Role.DATE, Role.TIME)
    return said or (DateKind.ROW if plain else DateKind.OTHER)
