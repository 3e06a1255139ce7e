"""A spreadsheet's file → the cells of its sheets.

In: the content of a `.csv` or of a workbook. Out: `SheetFile`: a `Grid` a sheet, and what had to be assumed about the
characters. Never interprets a cell.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
from dataclasses import dataclass

from sitegen.core.files.workbooks import MAX_CELLS, MAX_SHEETS, is_workbook, oversize
from sitegen.filing.drafting.sheets.grid import Grid

MAX_BYTES = 64_000_000  # a sensor's export of some years
_DELIMITERS = ",;\t|"
_LINES = 40  # of a text, from which its separator is told


class UnreadableError(Exception):
    """The file is no table that can be read; the message says why."""


@dataclass(frozen=True, slots=True)
class SheetFile:
    """The sheets of a file; `text` of a CSV, and the encoding that is not UTF-8."""

    name: str
    grids: tuple[Grid, ...]
    text: str = ""
    delimiter: str = ""
    encoding: str = ""


def read_sheets(name: str, content: bytes) -> SheetFile:
    """The sheets of a file.

    Raises
    ------
    UnreadableError
        Where it is no table.

    """
    if name.lower().endswith((".xlsx", ".xlsm", ".xls", ".ods", ".xlsb")):
        return SheetFile(name, _of_workbook(content))
    return _of_text(name, content)


def decoded(content: bytes) -> tuple[str, str]:
    """The text of a file, and its encoding where that is not UTF-8."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace"), "UTF-16"
    try:
        return content.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace"), "Windows-1252"


def _of_text(name: str, content: bytes) -> SheetFile:
    text, encoding = decoded(content)
    if "\0" in text[:1000]:
        raise UnreadableError("it is not text")
    first = text.split("\n", _LINES)[:_LINES]
    delimiter = max(_DELIMITERS, key=lambda sign: _steadiness([line.count(sign) for line in first]))
    try:
        rows = tuple(map(tuple, csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)))
    except csv.Error as error:
        raise UnreadableError(str(error)) from error
    return SheetFile(name, (Grid("", "", rows),), text, delimiter, encoding)


def _steadiness(counts: list[int]) -> tuple[int, int]:
    """How many lines have the sign equally often, and how often: a separator is as frequent in each line."""
    found = [count for count in counts if count]
    usual = max(set(found), key=lambda count: (found.count(count), count), default=0)
    return found.count(usual) if usual else 0, usual


def _of_workbook(content: bytes) -> tuple[Grid, ...]:
    from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - only for a workbook

    if not is_workbook(io.BytesIO(content)):
        raise UnreadableError("it is no .xlsx workbook: save it again as .xlsx or .csv")
    if much := oversize(io.BytesIO(content)):
        raise UnreadableError(much)
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(content))
        if len(book.sheet_names) > MAX_SHEETS:
            raise UnreadableError(f"it has {len(book.sheet_names)} sheets; at most {MAX_SHEETS} are read")
        found, cells = [], 0
        for title in book.sheet_names:
            sheet = book.get_sheet_by_name(title)
            rows = tuple(tuple(map(cell_text, row)) for row in sheet.to_python(skip_empty_area=False))
            merged = tuple(
                ((first[0], first[1]), (last[0], last[1])) for first, last in sheet.merged_cell_ranges or ()
            )
            cells += len(rows) * max(map(len, rows), default=0)
            if cells > MAX_CELLS:  # two sheets can be one part of the file
                raise UnreadableError(f"its sheets have {cells:,} cells; at most {MAX_CELLS:,} are read")
            found.append(Grid(title, title if len(book.sheet_names) > 1 else "", rows, merged))
    except (CalamineError, OSError, IndexError, ValueError) as error:
        raise UnreadableError(str(error)[:80]) from error
    return tuple(found)


def cell_text(cell: object) -> str:
    """A cell as the text that it is read as elsewhere: whole numbers without a point, dates as 2025-10-19."""
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() else repr(round(cell, 10))
    if isinstance(cell, dt.datetime):
        return cell.date().isoformat() if cell.time() == dt.time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, dt.date | dt.time) else str(cell)
