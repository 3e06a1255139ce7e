"""Sheets for the tests of drafting: invented, and drafted as the command does it."""

from __future__ import annotations

import io
from collections.abc import Sequence

from openpyxl import Workbook

from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.log_text import log_text
from sitegen.filing.drafting.records import Found
from sitegen.filing.drafting.sheets.columns import Around
from sitegen.filing.drafting.sheets.drafted_sheet import read_file
from sitegen.filing.drafting.sheets.sheet_files import read_sheets

Rows = Sequence[Sequence[object]]
SheetRows = tuple[str, Rows, tuple[str, ...]]  # name, rows, merged ranges


def workbook(*sheets: SheetRows) -> bytes:
    """A workbook with its merged ranges."""
    book = Workbook()
    assert book.active is not None
    book.remove(book.active)
    for title, rows, merged in sheets:
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
        for span in merged:
            sheet.merge_cells(span)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def found_in(name: str, content: bytes, **answers: str) -> tuple[Found, Choices]:
    """What a file says, with the answers by key."""
    choices = Choices(answers)
    around = Around((name.rpartition(".")[0],), "metric")
    return read_file(read_sheets(name, content), content, around, 2026, choices), choices


def drafted(name: str, content: bytes | str, **answers: str) -> tuple[list[str], list[str], list[str]]:
    """Items of `readings:`, lines of the log, and what was assumed."""
    raw = content.encode() if isinstance(content, str) else content
    found, choices = found_in(name, raw, **answers)
    loose = [f"{each.place}: {each.text}" for each in found.kept if each.when is None]
    return found.readings, [*log_text(found).splitlines(), *loose], choices.assumed
