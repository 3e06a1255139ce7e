"""Workbooks: what they unpack to, before they are read."""

from __future__ import annotations

import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter

from sitegen.core.files import workbooks
from sitegen.core.files.workbooks import is_workbook, oversize


def _workbook(sheet: bytes, name: str = "xl/worksheets/sheet1.xml") -> io.BytesIO:
    """A workbook with one sheet of these rows."""
    return _workbook_of(b"<worksheet><sheetData>" + sheet + b"</sheetData></worksheet>", name)


def _workbook_of(part: bytes, name: str = "xl/worksheets/sheet1.xml") -> io.BytesIO:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, part)
    file.seek(0)
    return file


def test_a_far_cell() -> None:
    """Two cells at opposite corners are a table too large to lay out, in a file of some hundred bytes."""
    far = _workbook(b'<row r="1"><c r="A1"/></row><row r="1048576"><c r="XFD1048576"/></row>')

    assert oversize(far) == (
        "a sheet reaches row 1,048,576, column 16,384; at most 400,000 rows and 2,000,000 cells are read"
    )


def test_a_far_cell_across_two_chunks() -> None:
    """A place is found wherever it lies in a long sheet."""
    for shift in range(20):
        before = b" " * ((1 << 20) - shift)
        assert oversize(_workbook(before + b'<c r="XFD1048576"/>')).startswith(
            "a sheet reaches row 1,048,576"
        )


def test_what_unpacks_to_much() -> None:
    """A small file that unpacks to more than 64 MB is not unpacked."""
    assert oversize(_workbook(b" " * 65_000_000)) == "it unpacks to 65 MB; at most 64 MB are read"


def test_what_can_be_read() -> None:
    """A usual sheet, a file that is no archive and a broken one have no such fault, and are read again."""
    usual, none = _workbook(b'<row r="9"><c r="C9"/></row>'), io.BytesIO(b"no archive")
    broken = io.BytesIO(_workbook(b"<c/>").getvalue()[:-30])

    assert [oversize(file) for file in (usual, none, broken)] == ["", "", ""]
    assert usual.tell() == none.tell() == broken.tell() == 0


@pytest.mark.parametrize("place", ["A99999999999999999999", "whenB3", "A", "", "Ä1", "A1 "])
def test_a_place_that_no_sheet_has(place: str) -> None:
    """A place with too many digits or letters would end the process of the library: the workbook is not read."""
    for quote, end in (("'", "/>"), ('"', "><v>1</v></c>")):
        row = f"<row r='2'><c t='n' r={quote}{place}{quote}{end}</row>"
        assert oversize(_workbook(row.encode())) == (
            f"a sheet has a cell at `{place}`, which is no place in a sheet"
        )


def test_cells_without_a_place_are_counted() -> None:
    """A cell without a place is beside the one before, also in a row far down, with a prefix, in a part of any name."""
    far = _workbook(b'<x:row r="300000">' + b"<x:c/>" * 7, "xl/any.thing")
    assert oversize(far).startswith("a sheet reaches row 300,000, column 7;")
    rows = _workbook(b"<row><c/></row>" * 400_001)
    assert oversize(rows).startswith("a sheet reaches row 400,001, column 1;")


def test_sheets_are_counted_together() -> None:
    """Several sheets have no more cells than one may have."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        for number in range(3):
            packed.writestr(f"xl/{number}.xml", b'<sheetData><row r="1"><c r="A1"/></row><c r="AD30000"/>')
    assert oversize(file) == "its sheets have 2,700,000 cells; at most 2,000,000 are read"


def test_a_place_in_the_text_of_another_attribute() -> None:
    """Words that look like a place hide no other."""
    hidden = _workbook(b"""<row r="1"><c s=' r="A1"' r="A999999999"/></row>""")
    assert oversize(hidden) == "a sheet has a cell at `A999999999`, which is no place in a sheet"
    words = _workbook(b"""<row r="1"><c r="A1"><is><t> r="any"</t></is></c></row>""")
    assert oversize(words) == ""


def test_a_part_that_is_no_utf8() -> None:
    """Places of UTF-16 cannot be seen: such a workbook is not read; a tag without end is not kept for ever."""
    assert oversize(_workbook_of("\ufeff<sheetData/>".encode("utf-16"))) == "a part of it is no UTF-8"
    long = _workbook(b"<c " + b" " * 5_000_000)
    assert oversize(long) == "a cell of it is longer than any that can be written"


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (("xl/workbook.xml",), True),
        (("XL/Workbook.xml", "xl/worksheets/sheet1.xml"), True),
        (("xl/workbook.bin",), False),
        (("xl/workbook.xml", "content.xml"), False),
        (("mimetype", "content.xml"), False),
    ],
)
def test_the_kind_of_workbook(names: tuple[str, ...], wanted: bool) -> None:
    """One kind is read: an archive with another, or with both, is none of it."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        for name in names:
            packed.writestr(name, b"")
    assert is_workbook(file) is wanted
    assert not is_workbook(io.BytesIO(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)))


@given(st.lists(st.tuples(st.integers(1, 400), st.integers(1, 90), st.booleans()), min_size=1, max_size=30))
def test_the_rectangle_holds_all_cells(cells: list[tuple[int, int, bool]]) -> None:
    """Columns are named as openpyxl names them; the rectangle holds all cells, wherever the parts of the text end."""
    attributes = ("", "s='1' ")
    tags = [
        f'<row r="{row}"><c {attributes[other]}r="{get_column_letter(column)}{row}"/></row>'
        for row, column, other in cells
    ]
    extent = workbooks._Extent()
    text = f"<sheetData>{''.join(tags)}</sheetData>".encode()
    for first in range(0, len(text), 50):
        assert extent.fault_of(text[first : first + 50]) == ""
    assert extent.fault_of(b"<") == ""
    assert (extent.rows, extent.columns) == (max(r for r, _, _ in cells), max(c for _, c, _ in cells))
