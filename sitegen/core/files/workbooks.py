"""How much a workbook unpacks to, before a library reads it: a small file can hold a table of any size.

In: an open file. Out: what is too much, in words; empty where it can be read. A library lays out the whole rectangle
from the first cell to the last, so that two cells at opposite corners of a sheet would be a table of 17 thousand million.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from typing import IO

MAX_UNPACKED = 64_000_000  # bytes of all parts, as of an export in text
MAX_ROWS = 400_000  # of a sheet: nine months of a sensor that writes every minute
MAX_CELLS = 2_000_000  # of the rectangle that holds all cells of a sheet
_CHUNK = 1 << 20
_PLACE = re.compile(rb"\br\s*=\s*[\"']([A-Za-z]{0,3})(\d{1,7})[\"']")
_LONGEST_PLACE = 64  # bytes: one that lies across two chunks is seen in the second
_RATIO = 1032  # how far deflate can compress, RFC 1951: a symbol of 258 bytes for two bits at the least


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
    parts = packed.infolist()
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MAX_UNPACKED:
        return f"it unpacks to {unpacked / 1e6:.0f} MB; at most {MAX_UNPACKED / 1e6:.0f} MB are read"
    for part in parts:
        if part.file_size < part.compress_size // 2 or part.compress_size * _RATIO < part.file_size:
            return "its parts are not of the size that they say"
        if "sheet" in part.filename.lower() and part.filename.lower().endswith(".xml"):
            rows, columns = _extent(_chunks(packed, part))
            if _is_too_many(rows, columns):
                most = f"{MAX_ROWS:,} rows and {MAX_CELLS:,} cells"
                return f"a sheet reaches row {rows:,}, column {columns:,}; at most {most} are read"
    return ""


def _chunks(packed: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    with packed.open(part) as file:
        while chunk := file.read(_CHUNK):
            yield chunk


def _extent(chunks: Iterator[bytes]) -> tuple[int, int]:
    """The last row and the last column with a cell."""
    rows = columns = 0
    before = b""
    for chunk in chunks:
        for letters, digits in _PLACE.findall(before + chunk):
            rows = max(rows, int(digits))
            columns = max(columns, _column(letters.upper()))
        if _is_too_many(rows, columns):
            break  # its first rows are enough
        before = chunk[-_LONGEST_PLACE:]
    return rows, columns


def _is_too_many(rows: int, columns: int) -> bool:
    return rows > MAX_ROWS or rows * columns > MAX_CELLS


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number
