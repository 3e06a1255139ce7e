"""A Data Package → the run that it was written from, and findings.

In: the path of a `datapackage.json` as this project writes it. Out: `Run` (without recap and photos) and the parts of the
`Journal` that facts are said with. Reads nothing outside the descriptor's own folder.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import Any, NoReturn

from sitegen.core.finding import Finding, Findings, Source
from sitegen.core.named import from_named
from sitegen.core.row_tables import PLANTS, TABLES, RowTable
from sitegen.core.rows import Export, Light, Rows, Run
from sitegen.core.setup import Journal, Lamp, Prices, Setup
from sitegen.core.text import did_you_mean
from sitegen.ingest.files import MAX_EXPORT_BYTES, read_text

__all__ = ["read_package"]

Cell = Callable[[Sequence[str]], Any]


@dataclass(frozen=True, slots=True)
class _Table:
    """One file of the package: its records with the line that each ends on."""

    source: Source
    header: tuple[str, ...]
    records: tuple[tuple[int, tuple[str, ...]], ...]


class _UnfitError(Exception):
    """Something without which there is no run; it has been said."""


def read_package(path: Path) -> tuple[tuple[Run, Journal] | None, tuple[Finding, ...]]:
    """The run of a package, and in which units and language its facts were said; None where it cannot be known."""
    findings = Findings()
    try:
        found = _Reader(path, findings).read()
    except _UnfitError:
        found = None
    if any(finding.is_error for finding in findings):
        found = None
    return found, tuple(findings)


class _Reader:
    """Reads one package; what does not fit becomes a finding."""

    def __init__(self, path: Path, findings: Findings) -> None:
        self._path = path
        self._source = Source(path.name)
        self._findings = findings

    def read(self) -> tuple[Run, Journal]:
        """The run and the journal."""
        data = self._descriptor()
        resources = {str(each.get("name")): each for each in self._list(data, "resources")}
        journal = self._journal(data)
        plants = self._rows(PLANTS, resources)
        setup = self._record(Setup, {**self._mapping(data, "experiment"), "plants": []}, "experiment")
        setup = replace(setup, plants=plants)
        tables = {table.name: self._rows(table, resources) for table in TABLES}
        exports = tuple(self._exports(resources.values()))
        lamps = (self._record(Lamp, each, "lamps") for each in self._list(data, "lamps"))
        rows = _with_lamps(Rows(**tables, exports=exports), {lamp.id: lamp for lamp in lamps})
        self._check(setup, rows)
        return Run(setup, rows), journal

    # the descriptor

    def _descriptor(self) -> Mapping[str, Any]:
        text = self._text(self._path)
        try:
            data = json.loads(text, parse_constant=_no_constant)
        except (ValueError, RecursionError) as error:
            line = getattr(error, "lineno", 1)
            column = getattr(error, "colno", 1)
            source = Source(self._source.file, line, column)
            self._fail("wrong-type", f"`{source.file}` is not JSON: {error}", source=source)
        if not isinstance(data, dict):
            self._fail("wrong-type", f"`{self._source.file}` is not a mapping")
        return data

    def _mapping(self, data: Mapping[str, Any], key: str) -> dict[str, Any]:
        found = data.get(key)
        if not isinstance(found, dict):
            self._fail(
                "missing-key",
                f"`{self._source.file}` has no mapping `{key}`",
                "take a package of this project",
            )
        return found

    def _list(self, data: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
        found = data.get(key)
        if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
            self._fail(
                "missing-key", f"`{self._source.file}` has no list `{key}`", "take a package of this project"
            )
        return found

    def _journal(self, data: Mapping[str, Any]) -> Journal:
        shown = self._mapping(data, "shown") if "shown" in data else {}
        prices = self._record(Prices, data.get("prices", {}), "prices")
        journal: Journal = self._record(Journal, {"title": "", **shown}, "shown")
        return replace(journal, prices=prices)

    def _record(self, kind: type[Any], data: Any, key: str) -> Any:
        try:
            return from_named(kind, data)
        except (ValueError, RecursionError) as error:
            self._fail("wrong-type", f"`{key}` cannot be read: {error}")

    # the tables

    def _rows(self, table: RowTable, resources: Mapping[str, Mapping[str, Any]]) -> tuple[Any, ...]:
        """The rows of one table; a table that is not there had none."""
        if table.name not in resources:
            return ()
        found = self._table(resources[table.name])
        places = self._places(found, [column.name for column in table.columns])
        return tuple(self._each(found, places, table.read))

    def _exports(self, resources: Any) -> Iterator[Export]:
        for resource in (each for each in resources if isinstance(each.get("series"), dict)):
            found = self._table(resource)
            places = self._places(found, ["time", "value"])
            read = tuple(self._each(found, places, _moment))
            series = {"times": [], "values": [], **resource["series"]}
            export: Export = self._record(Export, series, "series")
            yield replace(export, times=tuple(t for t, _ in read), values=tuple(v for _, v in read))

    def _table(self, resource: Mapping[str, Any]) -> _Table:
        name = str(resource.get("path", ""))
        path = PurePosixPath(name)
        if not name or path.is_absolute() or ".." in path.parts or ":" in name or "\\" in name:
            self._fail("missing-file", f"`{name}` is not a file beside `{self._source.file}`")
        text = self._text(self._path.parent / path)
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        try:
            records = tuple((reader.line_num, tuple(record)) for record in reader if record)
        except csv.Error as error:
            self._fail(
                "unreadable-sheet", f"`{name}` is not CSV: {error}", source=Source(name, reader.line_num)
            )
        if not records:
            self._fail("empty-file", f"`{name}` is empty", "take the whole package", Source(name))
        return _Table(Source(name), records[0][1], records[1:])

    def _places(self, table: _Table, wanted: Sequence[str]) -> tuple[int, ...]:
        """Where each column stands: others may lie between them."""
        places = {name: place for place, name in enumerate(table.header)}
        for name in wanted:
            if name not in places:
                self._fail(
                    "unknown-column",
                    f"`{table.source.file}` has no column `{name}`",
                    f"name it so; there is {did_you_mean(name, table.header)}",
                    table.source,
                )
        return tuple(places[name] for name in wanted)

    def _each(self, table: _Table, places: Sequence[int], read: Cell) -> Iterator[Any]:
        for line, record in table.records:
            try:
                if len(record) != len(table.header):
                    raise ValueError(f"{len(record)} cells, not {len(table.header)}")
                yield read([record[place] for place in places])
            except ValueError as error:
                source = Source(table.source.file, line)
                self._add(
                    "bad-cell", f"a row of `{source.file}` cannot be read: {error}", "mend the cell", source
                )

    # what rows refer to

    def _check(self, setup: Setup, rows: Rows) -> None:
        """Later stages rely on what a journal's own reader has made sure of."""
        entries = {entry.index for entry in rows.entries}
        plants, tubs = set(setup.plant_ids), {tub.id for tub in setup.tubs}
        for plant in setup.plants:
            self._known("unknown-plant", [plant.tub], tubs, plant.source)
        for table in TABLES:
            for row in getattr(rows, table.name):
                said = getattr(row, "which", None)
                ids = (*(said.ids if said else ()), *getattr(row, "plants", ()))
                self._known("unknown-plant", ids, plants, row.source)
                used = (*getattr(row, "tubs", ()), *filter(None, [getattr(row, "tub", "")]))
                self._known("unknown-plant", used, tubs, row.source)
                visit = getattr(row, "entry", None)
                if visit is not None and visit not in entries:
                    self._add(
                        "bad-cell", f"there is no entry {visit}", "number it as in entries.csv", self._source
                    )

    def _known(self, code: str, ids: Sequence[str], known: set[str], source: Source) -> None:
        for name in ids:
            if name not in known:
                self._add(
                    code,
                    f"`{name}`, from {source}, is not in the package",
                    "take the whole package",
                    self._source,
                )

    # findings

    def _text(self, path: Path) -> str:
        if not path.is_file():
            self._fail("missing-file", f"`{path.name}` is not there", "put it beside the descriptor")
        text = read_text(path, self._path.parent, self._findings, limit=MAX_EXPORT_BYTES)
        if text is None:
            raise _UnfitError
        return text

    def _add(self, code: str, message: str, mend: str, source: Source) -> None:
        self._findings.add(code, source, message, mend=mend)

    def _fail(
        self,
        code: str,
        message: str,
        mend: str = "take the package as it was written",
        source: Source | None = None,
    ) -> NoReturn:
        self._add(code, message, mend, source or self._source)
        raise _UnfitError


def _no_constant(word: str) -> NoReturn:
    raise ValueError(f"{word} is not a number of JSON")


def _moment(cells: Sequence[str]) -> tuple[datetime, float]:
    return datetime.fromisoformat(cells[0]), float(cells[1])


def _cell(record: Sequence[str], place: int) -> str:
    if place >= len(record):
        raise ValueError(f"it has {len(record)} cells")
    return record[place]


def _with_lamps(rows: Rows, lamps: Mapping[str, Lamp]) -> Rows:
    """The rows with whole lamps, where a table has their ids."""
    return replace(rows, lights=tuple(_with_lamp(light, lamps) for light in rows.lights))


def _with_lamp(light: Light, lamps: Mapping[str, Lamp]) -> Light:
    lamp = light.use.lamp
    return replace(light, use=replace(light.use, lamp=lamps.get(lamp.id, lamp) if lamp else None))
