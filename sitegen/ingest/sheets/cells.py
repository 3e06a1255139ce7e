"""The cells of a spreadsheet: `.csv` with any of the usual separators, or a sheet of a workbook.

In: a path. Out: `Sheet`, all cells as texts, or None and a finding. Never interprets a cell.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import re
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from sitegen.core.files.workbooks import MAX_CELLS, MAX_ROWS, is_workbook, oversize
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import did_you_mean
from sitegen.ingest.text_files import MAX_EXPORT_BYTES, name_of, read_text
from sitegen.ingest.values.normalize import without_quotes
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows of texts; the first holds the headings."""

    file: str
    rows: tuple[tuple[str, ...], ...]

    @property
    def name(self) -> str:
        """The name of the file."""
        return PurePosixPath(self.file).name

    @property
    def headings(self) -> list[str]:
        """The headings of the columns."""
        return [heading.strip() for heading in self.rows[0]]

    def report_heading(self, heading: Scalar, findings: Findings) -> None:
        """A finding for a heading that no column has, or more than one."""
        count = self.headings.count(heading.text)
        if count:
            message = f"`{heading.text}` is the heading of {count} columns of `{self.name}`"
            heading.report(findings, "unknown-column", message, "give each column a heading of its own")
            return
        known = [each for each in self.headings if each]
        message = f"`{heading.text}` is not a heading of `{self.name}`"
        mend = self.title_mend(heading.text) or heading.meant(known)
        heading.report(findings, "unknown-column", message, mend, ", ".join(self.headings))

    def title_mend(self, *headings: str) -> str:
        """The mend for a sheet with a title above its headings; empty where they stand in the first row, or nowhere."""
        wanted = {heading.lower() for heading in headings}
        for number, row in enumerate(self.rows[1:_TITLES], 2):
            # A title has no separators, so the rows below it may not have been divided.
            words = {word.strip(' "').lower() for cell in row for word in re.split("[,;\t]", cell)}
            if wanted & words:
                above = "the row" if number == 2 else f"the {number - 1} rows"
                return f"remove {above} above the headings of `{self.name}`, which stand in row {number}"
        return ""

    def cell(self, row: int, column: int) -> Scalar:
        """A cell with its place: its row, and the character at which it begins in a plain CSV."""
        cells = self.rows[row]
        text = without_quotes(cells[column].strip()).strip() if column < len(cells) else ""
        before = sum(len(cell) + 1 for cell in cells[:column])
        return Scalar(text, Source(self.file, row + 1, before + 1, max(1, len(text))))


_TITLES = 12  # rows; a sheet has its headings near the top
_Rows = tuple[tuple[str, ...], ...]


def load_sheet(path: Path, root: Path, fields: TypedFields) -> Sheet | None:
    """The cells of a file that an item of `readings:` names; None where it has no headings or cannot be read."""
    is_csv = path.suffix.lower() == ".csv"
    rows = _csv_rows(path, root, fields) if is_csv else _workbook_rows(path, fields)
    if rows is None:
        return None
    file = name_of(path, root)
    if rows and any(cell.strip() for cell in rows[0]):
        return Sheet(file, rows)
    message = f"`{path.name}` has no headings in its first row"
    mend = "write headings, or remove it from `readings`"
    fields.findings.add("empty-file", Source(file), message, mend=mend)
    return None


def _unreadable(path: Path, fields: TypedFields, error: Exception) -> None:
    kind = "a table" if path.suffix.lower() == ".csv" else "a workbook"
    message, mend = f"`{path.name}` is not {kind} that can be read", "save it again as .xlsx or .csv"
    fields.report("file", "unreadable-sheet", message, mend, found=str(error)[:80])


def _too_many(path: Path, fields: TypedFields, what: str) -> None:
    message, mend = (
        f"`{path.name}` is too large: {what}",
        "keep the rows of this run, and the columns that are named",
    )
    fields.report("file", "file-too-large", message, mend, found=what)


def _csv_rows(path: Path, root: Path, fields: TypedFields) -> _Rows | None:
    text = read_text(path, root, fields.findings, limit=MAX_EXPORT_BYTES, longest=MAX_EXPORT_BYTES)
    if text is None:
        return None
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    for what, count, most in (
        ("rows", text.count("\n"), MAX_ROWS),
        ("cells", text.count(delimiter) + text.count("\n"), MAX_CELLS),
    ):
        if count > most:
            _too_many(path, fields, f"it has {count:,} {what}; at most {most:,} are read")
            return None
    try:
        rows = tuple(tuple(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter))
        file = name_of(path, root)
        rows = _divided(rows, delimiter, file, fields.findings)
        return _without_divided_numbers(rows, file, fields.findings) if delimiter == "," else rows
    except csv.Error as error:
        _unreadable(path, fields, error)
        return None


def _divided(rows: _Rows, delimiter: str, file: str, findings: Findings) -> _Rows:
    """The rows that are divided as the headings are; one finding for others, at the headings where no row is."""
    wanted = len(rows[0]) if rows else 0
    other = {number: sign for number, row in enumerate(rows) if (sign := _other_sign(row, wanted))}
    if not other:
        return rows
    first, sign = next(iter(other.items()))
    headings = len(other) > (len(rows) - 1) / 2
    place, line = (0, delimiter.join(rows[0])) if headings else (first, rows[first][0])
    what = f"the headings are divided by {_sign(delimiter)}, and the rows below by {_sign(sign)}"
    mend = f"write {_sign(sign)} between the headings too"
    if not headings:
        what = f"this row is divided by {_sign(sign)}, and the headings by {_sign(delimiter)}"
        mend = f"write {_sign(delimiter)} between its cells"
    findings.add(
        "mixed-separators", Source(file, place + 1, 1, max(1, len(line))), what, mend=mend, found=sign
    )
    # Empty in place of them, so that lines keep their numbers.
    return tuple(() if number in other else row for number, row in enumerate(rows))


def _without_divided_numbers(rows: _Rows, file: str, findings: Findings) -> _Rows:
    """The rows without those that have numbers below no heading; one finding for them.

    A decimal comma divides a number in a sheet that is divided by commas, and each cell behind it is one of another
    column. Words behind the last column are a remark.
    """
    wanted = len(rows[0]) if rows else 0
    wide = {number for number, row in enumerate(rows) if len(row) > wanted and _has_number(row[wanted:])}
    titled = len(rows) > 1 and len(rows[1]) > wanted and 1 not in wide  # the headings stand below a title
    if not wide or titled:
        return rows
    first = min(wide)
    message = f"this row has {len(rows[first])} cells, and there are {wanted} headings"
    mend = "put numbers with a comma in quotes, or give each column a heading"
    line = sum(map(len, rows[first])) + len(rows[first]) - 1
    findings.add("mixed-separators", Source(file, first + 1, 1, line), message, mend=mend, found=",")
    return tuple(() if number in wide else row for number, row in enumerate(rows))


def _has_number(cells: tuple[str, ...]) -> bool:
    return any(cell.strip().isdecimal() for cell in cells)


def _sign(delimiter: str) -> str:
    return "tabs" if delimiter == "\t" else f"`{delimiter}`"


def _other_sign(row: tuple[str, ...], wanted: int) -> str:
    """The sign that divides a row into as many cells as there are headings, where theirs does not divide it at all."""
    if len(row) != 1 or wanted < 2:
        return ""
    return next((sign for sign in ",;\t" if row[0].count(sign) == wanted - 1), "")


def _workbook_rows(path: Path, fields: TypedFields) -> _Rows | None:
    from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - only for a workbook

    try:
        if path.stat().st_size > MAX_EXPORT_BYTES:
            size, most = path.stat().st_size / 1e6, MAX_EXPORT_BYTES / 1e6
            _too_many(path, fields, f"it has {size:.1f} MB; at most {most:.0f} MB are read")
            return None
        with path.open("rb") as file:
            if not is_workbook(file):
                _unreadable(path, fields, ValueError("no .xlsx workbook"))
                return None
            if much := oversize(file):
                _too_many(path, fields, much)
                return None
        book = CalamineWorkbook.from_path(str(path))
        wanted = fields.text("sheet") or book.sheet_names[0]
        if wanted not in book.sheet_names:
            message, names = f"`{wanted}` is not a sheet of `{path.name}`", book.sheet_names
            mend, expected = did_you_mean(wanted, names), ", ".join(names)
            fields.report("sheet", "unknown-column", message, mend, found=wanted, expected=expected)
            return None
        rows = book.get_sheet_by_name(wanted).to_python(skip_empty_area=False)
    except (CalamineError, OSError, IndexError, ValueError) as error:
        _unreadable(path, fields, error)
        return None
    return tuple(tuple(_cell_text(cell) for cell in row) for row in rows)


def _cell_text(cell: object) -> str:
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, dt.datetime) and cell.time() == dt.time():
        return cell.date().isoformat()
    return cell.isoformat(sep=" ") if isinstance(cell, dt.datetime) else str(cell)
