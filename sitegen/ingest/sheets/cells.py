"""The cells of a spreadsheet: `.csv` with any of the usual separators, or a sheet of a workbook.

In: a path. Out: `Sheet`, all cells as texts, or None and a finding. Knows nothing of what the cells mean.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.text import did_you_mean
from sitegen.ingest.text_files import MAX_EXPORT_BYTES, name_of, read_text
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows of texts; the first holds the headings."""

    file: str
    rows: tuple[tuple[str, ...], ...]

    def cell(self, row: int, column: int) -> Scalar:
        """A cell as a text with its place: its row, and the character it begins at in a plain CSV."""
        cells = self.rows[row]
        text = cells[column].strip() if column < len(cells) else ""
        before = sum(len(cell) + 1 for cell in cells[:column])
        return Scalar(text, Source(self.file, row + 1, before + 1, max(1, len(text))))


def load_sheet(path: Path, root: Path, fields: TypedFields, findings: Findings) -> Sheet | None:
    """The cells of a file; None where there are none."""
    file = name_of(path, root)
    rows = _csv_rows(path, root, fields, findings) if path.suffix.lower() == ".csv" else None
    if path.suffix.lower() != ".csv":
        rows = _workbook_rows(path, fields, findings)
    if rows is not None and not any(cell.strip() for cell in (rows[0] if rows else ())):
        findings.add(
            "empty-file",
            Source(file),
            f"`{path.name}` has no headings in its first row",
            mend="write headings, or remove it from `readings`",
        )
        return None
    return None if rows is None else Sheet(file, rows)


def _unreadable(path: Path, fields: TypedFields, error: Exception, findings: Findings) -> None:
    what = "a table" if path.suffix.lower() == ".csv" else "a workbook"
    findings.add(
        "unreadable-sheet",
        fields.at("file"),
        f"`{path.name}` is not {what} that can be read",
        mend="save it again as .xlsx or .csv",
        found=str(error)[:80],
    )


def _csv_rows(
    path: Path, root: Path, fields: TypedFields, findings: Findings
) -> tuple[tuple[str, ...], ...] | None:
    text = read_text(path, root, findings, limit=MAX_EXPORT_BYTES)
    if text is None:
        return None
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    try:
        return tuple(tuple(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter))
    except csv.Error as error:
        _unreadable(path, fields, error, findings)
        return None


def _workbook_rows(path: Path, fields: TypedFields, findings: Findings) -> tuple[tuple[str, ...], ...] | None:
    from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - only where there is one

    try:
        book = CalamineWorkbook.from_path(str(path))
        wanted = fields.text("sheet") or book.sheet_names[0]
        if wanted not in book.sheet_names:
            findings.add(
                "unknown-column",
                fields.at("sheet"),
                f"`{wanted}` is not a sheet of `{path.name}`",
                mend=did_you_mean(wanted, book.sheet_names),
                found=wanted,
                expected=", ".join(book.sheet_names),
            )
            return None
        rows = book.get_sheet_by_name(wanted).to_python(skip_empty_area=False)
    except (CalamineError, OSError, IndexError, ValueError) as error:
        _unreadable(path, fields, error, findings)
        return None
    return tuple(tuple(_cell_text(cell) for cell in row) for row in rows)


def _cell_text(cell: object) -> str:
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, dt.datetime) and cell.time() == dt.time():
        return cell.date().isoformat()
    return cell.isoformat(sep=" ") if isinstance(cell, dt.datetime) else str(cell)
