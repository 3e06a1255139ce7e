"""A spreadsheet → what it says of a run.

In: the content of the file, answers. Out: `Found`: values of the log, items of `readings:` with copies of the file.
"""

from __future__ import annotations

import re
from dataclasses import replace

from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import on_date, order_of, written_date
from sitegen.filing.drafting.days import SOWN, days_of, is_sampled
from sitegen.filing.drafting.readings_items import daily_items, readable_columns
from sitegen.filing.drafting.records import CopiedSheet, Found, Kept
from sitegen.filing.drafting.samples import add_copy, copied_name, read_samples
from sitegen.filing.drafting.sheets.columns import Around, columns_read, decimal_sign
from sitegen.filing.drafting.sheets.dated_columns import (
    all_dates,
    dated_columns,
    with_days_chosen,
    without_dates,
)
from sitegen.filing.drafting.sheets.grid import Grid
from sitegen.filing.drafting.sheets.headings import Role, heading_of
from sitegen.filing.drafting.sheets.rows import RowReader
from sitegen.filing.drafting.sheets.sheet_files import SheetFile
from sitegen.filing.drafting.sheets.tables import SheetTable, tables_of

_LONGEST = 80  # characters of a title


def read_file(file: SheetFile, content: bytes, around: Around, year: int, choices: Choices) -> Found:
    """All sheets of a file."""
    found = Found()
    if file.encoding:
        choices.say(f"the file is not UTF-8: read as {file.encoding}")
    read = []
    for grid in file.grids:
        tables = tables_of(grid)
        if not tables:
            _keep_all(grid, found)
            continue
        read.append(grid.name)
        for table in tables:
            _read_table(file, content, table, around, year, found, choices)
    if len(read) > 1:
        choices.say(f"the sheets {', '.join(f'`{name}`' for name in read)} are about the same run")
    _starts_in_notes(found)
    return found


def _keep_all(grid: Grid, found: Found) -> None:
    """A sheet without a table: its cells, a line a row."""
    for row in range(len(grid.rows)):
        cells = [(column, text) for column in range(grid.width) if (text := grid.own(row, column))]
        if cells:
            found.kept.append(Kept(None, grid.place(row, cells[0][0]), "; ".join(text for _, text in cells)))


def _read_table(
    file: SheetFile,
    content: bytes,
    table: SheetTable,
    around: Around,
    year: int,
    found: Found,
    choices: Choices,
) -> None:
    titles = [text for _, text in table.above]
    found.titles += table.above
    _starts_in_titles(table, found)
    around = replace(around, texts=(*titles[::-1], table.grid.title, *around.texts))
    if is_sampled(table) and read_samples(file, content, table, around, found, choices):
        return
    found.title = found.title or _title(titles)
    month_first = around.units == "us"
    whole = with_days_chosen(table, choices)
    table = without_dates(whole)
    columns = columns_read(table, around, choices)
    decimal = decimal_sign(table, choices)
    beside = all_dates(whole)
    days = days_of(table, choices, month_first=month_first, year=year, beside=beside)
    dated = dated_columns(whole, choices, month_first=month_first, year=year)
    for column in columns:
        if column.heading.plant:
            found.name_plant(column.heading.plant)
    as_it_is = readable_columns(file, table, columns, decimal)
    if as_it_is:
        name = copied_name(file.name)
        is_text = bool(file.delimiter)
        if is_text and not name.lower().endswith(".csv"):
            name = f"{name.rpartition('.')[0] or name}.csv"
        add_copy(found, CopiedSheet(name, file.text.encode() if is_text and file.encoding else content))
        found.readings += daily_items(name, table, as_it_is, decimal, days.order)
        choices.say(f"the readings are those of the copy `{name}`, whose cells stay as they are")
    skipped = frozenset(column.index for column in as_it_is)
    RowReader(whole, columns, days.by_row, decimal, found, choices, skipped, dated).read()


def _title(lines: list[str]) -> str:
    """The first line above a table, where it names the run and not what is measured."""
    first = lines[0] if lines else ""
    fits = len(first) <= _LONGEST and not re.search(r"[:\n]", first) and heading_of(first).role is Role.OTHER
    return first if fits else ""


def _starts_in_titles(table: SheetTable, found: Found) -> None:
    """`Sown: 1 March 2026` above a table, in one cell or in two."""
    for number, (place, text) in enumerate(table.above):
        match = SOWN.search(text)
        if match is None:
            continue
        rest = text[match.end() :].strip(" :–-") or (
            table.above[number + 1][1] if number + 1 < len(table.above) else ""
        )
        date = written_date(rest)
        order = order_of([date])[0] if date else None
        if date and order and date.year and (day := date.on(order, date.year)):
            found.starts.append((day, place))


def _starts_in_notes(found: Found) -> None:
    """A note of a day that says that it was sown then."""
    if found.starts:
        return
    for record in found.records:
        if record.key == "note" and record.when.key == "date" and SOWN.search(record.value):
            date = written_date(record.when.text)
            if date and (day := date.on("day first", 0)) and on_date(day) == record.when:
                found.starts.append((day, record.place))
                return
