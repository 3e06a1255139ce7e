"""The files of a Data Package, read safely.

In: the folder of the descriptor, names of files in it. Out: text, JSON and the rows of CSV files. An error is a
finding; `PackageError` ends the reading where nothing can be read without the file.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any, NoReturn

from sitegen.core.files.workbooks import MAX_CELLS, MAX_ROWS
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.hidden_characters import hidden_at
from sitegen.ingest.text_files import MAX_EXPORT_BYTES, has_hidden, is_file, read_text, report_hidden

MAX_DESCRIPTOR = 4_000_000  # bytes; that of a run with all its set-up has some 50 KB
DEFAULT_MEND = "take the package as it was written"


class PackageError(Exception):
    """A package without a readable run; the finding about it was added."""


@dataclass(frozen=True, slots=True)
class PackageFiles:
    """Reads the files beside one descriptor."""

    path: Path
    findings: Findings
    _read: list[tuple[int, int]] = field(default_factory=list)  # cells and characters of each file

    @property
    def head(self) -> Source:
        """The descriptor itself."""
        return Source(self.path.name)

    def descriptor(self) -> Mapping[str, Any]:
        """The descriptor as data."""
        if self.path.suffix.lower() == ".zip":
            mend = "unpack it, and name the `datapackage.json` that is in it"
            self.fail("wrong-type", f"`{self.path.name}` is an archive, which is not opened", mend)
        text = self._text(self.path, MAX_DESCRIPTOR)
        try:
            data = json.loads(text, parse_constant=_no_constant)
        except (ValueError, RecursionError) as error:
            source = Source(self.path.name, getattr(error, "lineno", 1), getattr(error, "colno", 1))
            self.fail("wrong-type", f"`{source.file}` is not JSON: {error}", source=source)
        if not isinstance(data, dict):
            self.fail("wrong-type", f"`{self.path.name}` is not a mapping")
        self._refuse_hidden(data)
        return data

    def _refuse_hidden(self, data: Any) -> None:
        """End the reading where a text holds characters that none may hold: what is read is printed on a terminal."""
        waiting = [data]
        while waiting:
            each = waiting.pop()
            if isinstance(each, str) and (at := hidden_at(each)) is not None:
                report_hidden(each[at], self.head, self.findings, DEFAULT_MEND)
                raise PackageError
            if isinstance(each, dict):
                waiting += [*each, *each.values()]
            elif isinstance(each, list):
                waiting += each

    def rows(
        self, name: str, columns: Sequence[str], read: Callable[[Sequence[str]], Any]
    ) -> tuple[Any, ...]:
        """The records of a file, each read from its cells in the order of `columns`; other columns are ignored."""
        (_, header), *records = self._records(name)
        for column in columns:
            if column not in header:
                message = f"`{name}` has no column `{column}`"
                self.fail("unknown-column", message, f"name its column `{column}` again", Source(name))
        places = [header.index(column) for column in columns]
        rows = []
        for line, record in records:
            try:
                if len(record) == len(header):
                    rows.append(read([record[place] for place in places]))
                    continue
                message = f"a row of `{name}` has {len(record)} cells, its head {len(header)}"
                mend = "mend the row"
            except ValueError as error:
                message, mend = f"a row of `{name}` cannot be read: {error}", "mend the cell"
            self.add("bad-cell", message, mend, Source(name, line))
        return tuple(rows)

    def _records(self, name: str) -> list[tuple[int, list[str]]]:
        """The records of a CSV file, its header first, each with the line that it ends on."""
        path = PurePosixPath(name)
        if not name or path.is_absolute() or ".." in path.parts or ":" in name or "\\" in name:
            self.fail("missing-file", f"`{name}` is not a file beside `{self.path.name}`")
        text = self._text(self.path.parent / path, MAX_EXPORT_BYTES)
        self._count(text, name)
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        try:
            records = [(reader.line_num, record) for record in reader if record]
        except csv.Error as error:
            self.fail(
                "unreadable-sheet", f"`{name}` is not CSV: {error}", source=Source(name, reader.line_num)
            )
        if not records:
            self.fail("empty-file", f"`{name}` is empty", source=Source(name))
        sign = next((sign for sign in ";\t" if len(records[0][1]) == 1 and sign in records[0][1][0]), "")
        if sign:
            # Which of its numbers had a decimal comma then, and which dates another order, cannot be known.
            said = "tabs" if sign == "\t" else f"`{sign}`"
            message = f"`{name}` is divided by {said}: another program has saved it again"
            self.fail("mixed-separators", message, "take the file as it was written", Source(name))
        return records

    def _count(self, text: str, name: str) -> None:
        """Refuse a file that is larger than those of a run, alone or with all that were read before."""
        rows = text.count("\n")
        cells = rows * (text.partition("\n")[0].count(",") + 1)
        self._read.append((cells, len(text)))
        (all_cells, size), mend = map(sum, zip(*self._read, strict=True)), "keep the rows of one run"
        for what, count, most in (
            (f"`{name}` has {rows:,} rows", rows, MAX_ROWS),
            (f"the files up to `{name}` have {all_cells:,} cells", all_cells, MAX_CELLS),
            (f"the files up to `{name}` have {size:,} characters", size, MAX_EXPORT_BYTES),
        ):
            if count > most:
                self.fail("file-too-large", f"{what}; at most {most:,} are read", mend, Source(name))

    def _text(self, path: Path, most: int) -> str:
        if not is_file(path):
            self.fail("missing-file", f"`{path.name}` is not there", "put it beside the descriptor")
        text = read_text(path, self.path.parent, self.findings, limit=most, longest=most)
        if text is None or has_hidden(text, path.name, self.findings):
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
