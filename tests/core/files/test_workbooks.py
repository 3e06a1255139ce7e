"""Workbooks: what they unpack to, before they are read."""

from __future__ import annotations

import io
import zipfile

from sitegen.core.files.workbooks import oversize


def _workbook(sheet: bytes, name: str = "xl/worksheets/sheet1.xml") -> io.BytesIO:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, sheet)
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
