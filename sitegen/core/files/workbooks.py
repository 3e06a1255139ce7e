"""What keeps a workbook from being read, before a library reads it: a small file can hold a table of any size.

In: an open file. Out: whether it is an Office Open XML workbook (ECMA-376), and what is too much of it, in words. A
library lays out the whole rectangle from the first cell to the last, so that two cells at opposite corners of a sheet
would be a table of 17 thousand million, and a place with twenty digits ends the process. So no other kind of workbook is
read: only of this one the places of all cells can be seen beforehand.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from typing import IO

MAX_UNPACKED = 64_000_000  # bytes of all parts, as of an export in text
MAX_ROWS = 400_000  # of a sheet: nine months of a sensor that writes every minute
MAX_CELLS = 2_000_000  # of the rectangles that hold all cells of the sheets
MAX_SHEETS = 250
_CHUNK = 1 << 20
_LONGEST = 2 << 20  # bytes from one tag to the next; a cell holds at most 32,767 characters
_ROWS_BEGIN = re.compile(rb"<(?:[^\s<>/:]+:)?sheetData(?=[\s/>])")
_OPENED = re.compile(rb"<(?:[^\s<>/:]+:)?(?:row|c)(?=[\s/>])")
_TAG = re.compile(rb"<(?:[^\s<>/:]+:)?(row|c)(?=[\s/>])([^<]*)")
_AT = re.compile(rb"\sr\s*=\s*[\"']([^\"'<]{0,40})")
# As programs write them: most sheets have nothing else, and one tag at a time takes five times as long.
_PLAIN_CELL = re.compile(rb'<c r="([A-Z]{1,3})([0-9]{1,7})"')
_PLAIN_ROW = re.compile(rb'<row r="([0-9]{1,7})"')
_SAID = re.compile(rb"\sr\s*=")
_PLACE = re.compile(rb"([A-Za-z]{0,3})(\d{0,7})")
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_RATIO = 1032  # how far deflate can compress, RFC 1951: a symbol of 258 bytes for two bits at the least


def is_workbook(file: IO[bytes]) -> bool:
    """Whether a file is a workbook of the one kind that is read."""
    try:
        with zipfile.ZipFile(file) as packed:
            names = {name.lower() for name in packed.namelist()}
    except (zipfile.BadZipFile, OSError, NotImplementedError, ValueError):
        return False
    finally:
        file.seek(0)
    return "xl/workbook.xml" in names and not {"content.xml", "xl/workbook.bin"} & names


def oversize(file: IO[bytes]) -> str:
    """What is too much of a workbook; empty for one that can be read, and for a file that is none."""
    try:
        with zipfile.ZipFile(file) as packed:
            return _oversize(packed)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError):
        return ""  # the library says so of a file that is no archive, or a broken one
    finally:
        file.seek(0)


def _oversize(packed: zipfile.ZipFile) -> str:
    parts, cells = packed.infolist(), 0
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MAX_UNPACKED:
        return f"it unpacks to {unpacked / 1e6:.0f} MB; at most {MAX_UNPACKED / 1e6:.0f} MB are read"
    for part in parts:
        if part.file_size < part.compress_size // 2 or part.compress_size * _RATIO < part.file_size:
            return "its parts are not of the size that they say"
        # Every part: a sheet may have any name. Its rows are no rows to the library before `sheetData`.
        extent = _Extent()
        for chunk in _chunks(packed, part):
            if fault := extent.fault_of(chunk):
                return fault
        cells += extent.rows * extent.columns
        if cells > MAX_CELLS:
            return f"its sheets have {cells:,} cells; at most {MAX_CELLS:,} are read"
    return ""


def _chunks(packed: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    with packed.open(part) as file:
        while chunk := file.read(_CHUNK):
            yield chunk
    yield b"<"  # ends the last tag


class _Extent:
    """The rectangle of the cells of one part, and what of it cannot be laid out."""

    def __init__(self) -> None:
        self.rows = self.columns = 0
        self._row = self._column = 0
        self._is_sheet = self._begun = False
        self._rest = b""  # a tag that goes on in the next chunk

    def fault_of(self, chunk: bytes) -> str:
        """What is wrong up to the end of a chunk; empty for nothing."""
        if not self._begun and chunk.startswith(_UTF16):
            return "a part of it is no UTF-8"
        self._begun = True
        text = self._rest + chunk
        cut = max(text.rfind(b"<"), 0)
        self._is_sheet = self._is_sheet or _ROWS_BEGIN.search(text) is not None
        text, self._rest = text[:cut], text[cut:]
        if len(self._rest) > _LONGEST:
            return "a cell of it is longer than any that can be written"
        if not self._is_sheet:
            return ""
        if self._is_plain(text):
            return self._too_many()
        return next(filter(None, (self._fault(*match.groups()) for match in _TAG.finditer(text))), "")

    def _is_plain(self, text: bytes) -> bool:
        """Take the places of a text in which each cell and each row begins with its own, and no other is said."""
        cells, rows = _PLAIN_CELL.findall(text), _PLAIN_ROW.findall(text)
        plain = len(cells) + len(rows)
        if not cells or plain != len(_OPENED.findall(text)) or plain != len(_SAID.findall(text)):
            return False
        letters, numbers = {letters for letters, _ in cells}, {int(number) for _, number in cells}
        self.columns = max(self.columns, *map(_column, letters), 0)
        self.rows = max(self.rows, *numbers, *map(int, rows), 0)
        self._row, self._column = int(cells[-1][1]), _column(cells[-1][0])
        return True

    def _fault(self, tag: bytes, attributes: bytes) -> str:
        row, column = (self._row + 1, 0) if tag == b"row" else (max(self._row, 1), self._column + 1)
        # All that looks like a place: one may stand in the text of another attribute.
        for number, found in enumerate(_AT.findall(attributes)):
            place = _PLACE.fullmatch(found)
            if place is None or not place[2]:
                shown = found.decode("utf-8", "replace")
                return f"a sheet has a cell at `{shown}`, which is no place in a sheet"
            row = max(row if number else 0, int(place[2]))
            column = max(column if number or not place[1] else 0, _column(place[1].upper()))
        self._row, self._column = row, column
        self.rows, self.columns = max(self.rows, self._row), max(self.columns, self._column)
        return self._too_many()

    def _too_many(self) -> str:
        if self.rows > MAX_ROWS or self.rows * self.columns > MAX_CELLS:
            most = f"{MAX_ROWS:,} rows and {MAX_CELLS:,} cells"
            return f"a sheet reaches row {self.rows:,}, column {self.columns:,}; at most {most} are read"
        return ""


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number
