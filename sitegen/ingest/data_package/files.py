"""The files of a Data Package, read safely.

In: the folder of the descriptor, names of files in it. Out: text, JSON and the rows of CSV files. What cannot be read
is a finding; where nothing can be done without it, `PackageError` ends the reading.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any, NoReturn

from sitegen.core.findings.finding import Findings, Source
from sitegen.ingest.text_files import MAX_EXPORT_BYTES, read_text

DEFAULT_MEND = "take the package as it was written"


class PackageError(Exception):
    """A package without a readable run; the finding about it was added."""


@dataclass(frozen=True, slots=True)
class _Table:
    """One CSV file: its records, each with the line that it ends on."""

    source: Source
    header: tuple[str, ...]
    records: tuple[tuple[int, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class PackageFiles:
    """Reads the files beside one descriptor."""

    path: Path
    findings: Findings

    @property
    def head(self) -> Source:
        """The descriptor itself."""
        return Source(self.path.name)

    def descriptor(self) -> Mapping[str, Any]:
        """The descriptor as data."""
        text = self._text(self.path)
        try:
            data = json.loads(text, parse_constant=_no_constant)
        except (ValueError, RecursionError) as error:
            source = Source(self.path.name, getattr(error, "lineno", 1), getattr(error, "colno", 1))
            self.fail("wrong-type", f"`{source.file}` is not JSON: {error}", source=source)
        if not isinstance(data, dict):
            self.fail("wrong-type", f"`{self.path.name}` is not a mapping")
        return data

    def rows(
        self, name: str, columns: Sequence[str], read: Callable[[Sequence[str]], Any]
    ) -> tuple[Any, ...]:
        """The records of a file, each read from its cells in the order of `columns`; other columns are ignored."""
        table = self._table(name)
        places = self._places(table, columns)
        return tuple(self._each(table, places, read))

    def _table(self, name: str) -> _Table:
        path = PurePosixPath(name)
        if not name or path.is_absolute() or ".." in path.parts or ":" in name or "\\" in name:
            self.fail("missing-file", f"`{name}` is not a file beside `{self.path.name}`")
        text = self._text(self.path.parent / path)
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        try:
            records = tuple((reader.line_num, tuple(record)) for record in reader if record)
        except csv.Error as error:
            source = Source(name, reader.line_num)
            self.fail("unreadable-sheet", f"`{name}` is not CSV: {error}", source=source)
        if not records:
            self.fail("empty-file", f"`{name}` is empty", source=Source(name))
        return _Table(Source(name), records[0][1], records[1:])

    def _places(self, table: _Table, wanted: Sequence[str]) -> tuple[int, ...]:
        places = {name: place for place, name in enumerate(table.header)}
        for name in wanted:
            if name not in places:
                message = f"`{table.source.file}` has no column `{name}`"
                self.fail("unknown-column", message, f"name its column `{name}` again", table.source)
        return tuple(places[name] for name in wanted)

    def _each(
        self, table: _Table, places: Sequence[int], read: Callable[[Sequence[str]], Any]
    ) -> Iterator[Any]:
        for line, record in table.records:
            source = Source(table.source.file, line)
            if len(record) != len(table.header):
                message = f"a row of `{source.file}` has {len(record)} cells, its head {len(table.header)}"
                self.add("bad-cell", message, "mend the row", source)
                continue
            try:
                row = read([record[place] for place in places])
            except ValueError as error:
                message = f"a row of `{source.file}` cannot be read: {error}"
                self.add("bad-cell", message, "mend the cell", source)
                continue
            yield row

    def _text(self, path: Path) -> str:
        if not path.is_file():
            self.fail("missing-file", f"`{path.name}` is not there", "put it beside the descriptor")
        text = read_text(path, self.path.parent, self.findings, limit=MAX_EXPORT_BYTES)
        if text is None:
            raise PackageError
        return text

    def add(self, code: str, message: str, mend: str = DEFAULT_MEND, source: Source | None = None) -> None:
        """Add a finding, by default about the descriptor."""
        self.findings.add(code, source or self.head, message, mend=mend)

    def fail(
        self, code: str, message: str, mend: str = DEFAULT_MEND, source: Source | None = None
    ) -> NoReturn:
        """Add a finding, and end the reading."""
        self.add(code, message, mend, source)
        raise PackageError


def _no_constant(word: str) -> NoReturn:
    raise ValueError(f"{word} is not a number of JSON")
