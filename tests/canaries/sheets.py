"""A workbook and two CSV files of which only some columns are read.

In: where to plant. Out: bytes. Everything that is not mapped holds a canary.
"""

from __future__ import annotations

import io

import openpyxl
from openpyxl.comments import Comment
from openpyxl.workbook.defined_name import DefinedName

from tests.canaries.marks import Planted


def workbook(planted: Planted) -> bytes:
    """Heights of P1 on a sheet, with all that a workbook keeps besides."""

    def hide(place: str) -> str:
        return planted.hide("workbook", place)

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = hide("name of the sheet that is read")
    sheet.append(["date", hide("heading of a column that is read"), hide("heading of an unused column")])
    sheet.append(["2026-03-20", 9, hide("cell of an unused column")])
    sheet.append(["2026-03-24", 12, hide("hidden row")])
    sheet.append([hide("row without a date") and None, None, hide("row of its own")])
    sheet["D1"], sheet["D2"] = hide("heading of a hidden column"), hide("cell of a hidden column")
    sheet.column_dimensions["D"].hidden = True
    sheet.row_dimensions[3].hidden = True
    sheet["B2"].comment = Comment(hide("comment of a cell"), hide("author of a comment"))
    sheet.oddHeader.center.text = hide("header of the printed page")
    unused = book.create_sheet(hide("name of an unused sheet"))
    unused["A1"] = hide("cell of an unused sheet")
    veiled = book.create_sheet("Plan")
    veiled.sheet_state, veiled["A1"] = "hidden", hide("cell of a hidden sheet")
    name = hide("defined name")
    book.defined_names[name] = DefinedName(name, attr_text="Plan!$A$1")
    facts = book.properties
    facts.creator, facts.lastModifiedBy = hide("creator"), hide("last modified by")
    facts.keywords, facts.description = hide("keywords"), hide("description")
    facts.title, facts.category = hide("title"), hide("category")
    # The place of a row without a date was counted, and holds nothing.
    planted.canaries = [each for each in planted.canaries if each.place != "row without a date"]
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def sensor(planted: Planted) -> str:
    """A sensor's export with a column of its own."""
    heading, cell = (
        planted.hide("CSV", place) for place in ("heading of an unused column", "unused cell of a sensor")
    )
    used = planted.hide("CSV", "heading of a column that is read")
    rows = [
        f"2026-03-{day:02}T{hour:02}:00,{20 + hour / 10:.1f},{cell}"
        for day in (20, 21, 22)
        for hour in range(0, 24, 2)
    ]
    return "\n".join([f"Timestamp,{used},{heading}", *rows, ""])
