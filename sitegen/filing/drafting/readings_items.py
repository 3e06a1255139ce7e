"""A sheet that can be read as it is: the item of `readings:` that names a copy of it.

In: a `SheetTable` with its columns. Out: items of `readings:`, and the columns that they read; none where the sheet has
to be read into a log, because its headings stand deeper, or a cell needs more than numbers.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.format.fields import Form
from sitegen.filing.dates import Order
from sitegen.filing.drafting.sheets.cells import Decimal, is_empty, value_of
from sitegen.filing.drafting.sheets.headings import DIMENSIONS, Role
from sitegen.filing.drafting.sheets.sheet_files import SheetFile
from sitegen.filing.drafting.sheets.tables import Column, SheetTable
from sitegen.filing.entries.entry_text import braced, text_value

READINGS = frozenset(key for key, row in LOG_KEYS.items() if row.form is Form.READING)
_PLAIN = re.compile(r"(?:~|ca\.? ?|about )?\d+(?:[.,]\d+)?(?:-\d+(?:[.,]\d+)?)?\+?", re.IGNORECASE)
_EMPTY = ("", "-", "–", "n/a", "na")
_FULL_DATE = re.compile(r"\d{4}-\d\d-\d\d|\d{1,2}[./-]\d{1,2}[./-]\d{4}")


def readable_columns(
    file: SheetFile, table: SheetTable, columns: Sequence[Column], decimal: Decimal
) -> list[Column]:
    """The columns of readings of a sheet that can be read as it is; empty where one cannot."""
    mine = [c for c in columns if c.heading.role is Role.VALUE and c.heading.key in READINGS]
    grid = table.grid
    plain = (
        mine
        and table.top == 0
        and not table.two_rows
        and not grid.across
        and not grid.merged
        and not any(c.heading.role in (Role.PLANT, Role.NAME, Role.ANY) for c in columns)
        and table.last == len(grid.rows) - 1
        and file.delimiter in ("", ",", ";", "\t")
        and (not file.delimiter or _separated_alike(file))
    )
    if not plain or not all(_has_own_heading(table, column) for column in (*mine, table.when)):
        return []
    rows = range(table.first, table.last + 1)
    if not all(_is_plain_day(table, row) for row in rows):
        return []
    cells = ((column, grid.own(row, column.index)) for row in rows for column in mine)
    return mine if all(_is_plain(column, text, decimal) for column, text in cells) else []


def _separated_alike(file: SheetFile) -> bool:
    """Whether the separator is also the most frequent one of the first line, by which it is told."""
    first = file.text.split("\n", 1)[0]
    return max(",;\t", key=first.count) == file.delimiter


def _has_own_heading(table: SheetTable, column: Column) -> bool:
    return bool(column.text) and [each.text for each in table.columns].count(column.text) == 1


def _is_plain_day(table: SheetTable, row: int) -> bool:
    text = table.grid.own(row, table.when.index)
    if not text:
        return all(is_empty(table.grid.own(row, column.index)) for column in table.columns)
    if table.when.heading.role is Role.DAY and re.fullmatch(r"\d{1,4}", text):
        return True
    return bool(_FULL_DATE.fullmatch(text))


def _is_plain(column: Column, text: str, decimal: Decimal) -> bool:
    if text.lower() in _EMPTY:
        return True
    sign = "," if decimal == "comma" else "."
    other = "." if decimal == "comma" else ","
    fits = _PLAIN.fullmatch(text) and other not in re.sub(r"ca\.", "", text.lower()) and text.count(sign) <= 2
    return (
        bool(fits)
        and value_of(text, DIMENSIONS[column.heading.key], column.heading.unit, decimal) is not None
    )


def daily_items(
    name: str, table: SheetTable, columns: Sequence[Column], decimal: Decimal, order: Order | None
) -> list[str]:
    """An item for each reading of plants, and one for all readings of the tub."""
    common = _common(name, table, decimal, order)
    items = []
    tub = [column for column in columns if not column.heading.plant]
    for key in dict.fromkeys(column.heading.key for column in columns if column.heading.plant):
        of_key = [column for column in columns if column.heading.plant and column.heading.key == key]
        for unit in dict.fromkeys(column.heading.unit for column in of_key):
            mapping = {c.text: c.heading.plant for c in of_key if c.heading.unit == unit}
            items.append(braced([*common, ("reading", f"{key} {unit}".strip()), ("columns", _flow(mapping))]))
    if tub:
        items.append(braced([*common, ("columns", _flow(tub_mapping(tub)))]))
    return items


def tub_mapping(columns: Sequence[Column]) -> dict[str, str]:
    """Headings with the reading below each and its unit."""
    return {column.text: f"{column.heading.key} {column.heading.unit}".strip() for column in columns}


def sampled_item(
    name: str, heading: str, columns: Sequence[Column], decimal: Decimal, order: Order | None, sheet: str = ""
) -> str:
    """The item of a sensor's export."""
    pairs = [("file", text_value(name, braced=True)), ("time", text_value(heading, braced=True))]
    if sheet:
        pairs.append(("sheet", text_value(sheet, braced=True)))
    pairs += _way_of_writing(decimal, order)
    return braced([*pairs, ("columns", _flow(tub_mapping(columns)))])


def _common(name: str, table: SheetTable, decimal: Decimal, order: Order | None) -> list[tuple[str, str]]:
    pairs = [("file", text_value(name, braced=True))]
    if table.grid.name:
        pairs.append(("sheet", text_value(table.grid.name, braced=True)))
    when = table.when
    if when.text.lower() not in ("day", "date"):
        key = "day" if when.heading.role is Role.DAY else "date"
        pairs.append((key, text_value(when.text, braced=True)))
    return [*pairs, *_way_of_writing(decimal, order)]


def _way_of_writing(decimal: Decimal, order: Order | None) -> list[tuple[str, str]]:
    pairs = [("dates", order)] if order else []
    return [*pairs, ("decimal", "comma")] if decimal == "comma" else [*pairs]


def _flow(mapping: dict[str, str]) -> str:
    return braced([(text_value(key, braced=True), value) for key, value in mapping.items()])
