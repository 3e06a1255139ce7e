"""A sensor's export: samples by time, named in `readings:` with a copy of the file.

In: a `SheetTable` of samples. Out: an item of `readings:` and the copy, which is the file itself, or its table alone
where other lines stand above it or the time of day has a column of its own.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence

from sitegen.core.language.text import listed
from sitegen.core.site.addresses import slug
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import written_date
from sitegen.filing.drafting.days import date_order
from sitegen.filing.drafting.readings_items import READINGS, sampled_item
from sitegen.filing.drafting.records import CopiedSheet, Found
from sitegen.filing.drafting.sheets.columns import Around, columns_read, decimal_sign
from sitegen.filing.drafting.sheets.headings import Role
from sitegen.filing.drafting.sheets.sheet_files import SheetFile
from sitegen.filing.drafting.sheets.tables import Column, SheetTable

_READABLE = re.compile(r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{4}")


def read_samples(
    file: SheetFile, content: bytes, table: SheetTable, around: Around, found: Found, choices: Choices
) -> bool:
    """One export; whether a column of it is a reading."""
    columns = [column for column in columns_read(table, around, choices) if column.text]
    taken = [c for c in columns if c.heading.role is Role.VALUE and c.heading.key in READINGS]
    if not taken:
        return False
    decimal = decimal_sign(table, choices)
    clock = next((column for column in columns if column.heading.role is Role.CLOCK), None)
    dates = _dates(table)
    written = [date for text in dates if (date := written_date(text))]
    order = date_order(written, choices, month_first=around.units == "us")
    for date in written:
        if (day := date.on(order, date.year or 0)) is not None:
            found.look_at(day)
    left = [f"`{c.text}`" for c in columns if c not in taken and c is not clock]
    if left:
        choices.say(f"columns of samples that stay in the file and are not read: {', '.join(left)}")
    name, heading, own = _copied(file, content, table, clock, dates, found)
    choices.say(
        f"{listed([f'`{c.text}`' for c in taken])}: samples by time in the copy `{name}`, on the journal's clock"
    )
    shown = order if any(date.slashed for date in written) else None
    found.readings.append(sampled_item(name, heading, taken, decimal, shown, table.grid.name if own else ""))
    return True


def _dates(table: SheetTable) -> list[str]:
    """The dates in the column of times, each once, in the order of the rows."""
    index, rows = table.when.index, table.grid.rows[table.first : table.last + 1]
    cells = (row[index].strip() if index < len(row) else "" for row in rows)
    parts = (re.split(r"[ T]", cell, maxsplit=1)[0].rstrip(",") for cell in cells)
    return [text for text in dict.fromkeys(parts) if text]


def _copied(
    file: SheetFile,
    content: bytes,
    table: SheetTable,
    clock: Column | None,
    dates: Sequence[str],
    found: Found,
) -> tuple[str, str, bool]:
    """The name of the copy, the heading of its times, and whether the copy is the file as it is."""
    readable = all(_READABLE.fullmatch(date) for date in dates)
    alone = table.top == 0 and not table.two_rows and clock is None and readable
    if alone and not file.delimiter:
        name = copied_name(file.name)
        add_copy(found, CopiedSheet(name, content))
        return name, table.when.text, True
    if alone and file.name.lower().endswith(".csv") and file.delimiter in ",;\t":
        name = copied_name(file.name)
        add_copy(found, CopiedSheet(name, content if not file.encoding else file.text.encode()))
        return name, table.when.text, False
    stem = slug(f"{file.name.rpartition('.')[0]} {table.grid.name}") or "samples"
    name = f"{stem}.csv"
    heading = table.when.text if clock is None else "time"
    add_copy(found, CopiedSheet(name, _table_alone(table, clock, heading)))
    return name, heading, False


def _table_alone(table: SheetTable, clock: Column | None, heading: str) -> bytes:
    """The table without the lines above it, with one column of times."""
    when = table.when.index
    rows = table.grid.rows[table.first : table.last + 1]
    others = [c for c in table.columns if c.text and c.index != when and c is not clock]
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow([heading, *(column.text for column in others)])
    for row in rows:
        cells = [row[column.index].strip() if column.index < len(row) else "" for column in others]
        date = row[when].strip() if when < len(row) else ""
        time = row[clock.index].strip() if clock is not None and clock.index < len(row) else ""
        writer.writerow([f"{date} {time}".strip(), *cells])
    return buffer.getvalue().encode()


def copied_name(name: str) -> str:
    """The name of a file as it stands beside the experiment."""
    return re.sub(r"[^\w.() -]", "-", name.replace("\\", "/").rpartition("/")[2])


def add_copy(found: Found, copy: CopiedSheet) -> None:
    """A file to be copied, once."""
    if copy.name not in {each.name for each in found.copies}:
        found.copies.append(copy)
