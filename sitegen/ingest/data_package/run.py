"""A Data Package → the run that it was written from, and findings.

In: the path of a `datapackage.json` as this project writes it. Out: a `Run` without recap and photos, and a `Journal`
with the units, language and prices of its facts. Reads nothing outside the descriptor's own folder.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.codec import from_mapping
from sitegen.core.records.columns import number_of
from sitegen.core.records.files import Export
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Rows, Run
from sitegen.core.records.setup import Journal, Lamp, Prices, Setup
from sitegen.core.records.tables import PLANTS, TABLES, RowTable
from sitegen.ingest.data_package.files import PackageError, PackageFiles

Data = Mapping[str, Any]


def read_package(path: Path) -> tuple[tuple[Run, Journal] | None, tuple[Finding, ...]]:
    """The run of a package, with the units and language of its facts, and findings; None where there are errors."""
    findings = Findings()
    try:
        found = _read(PackageFiles(path, findings))
    except PackageError:
        found = None
    valid = not any(finding.is_error for finding in findings)
    return found if valid else None, tuple(findings)


def _read(files: PackageFiles) -> tuple[Run, Journal]:
    data = files.descriptor()
    resources = _list(files, data, "resources")
    setup: Setup = _record(files, Setup, {**_mapping(files, data, "experiment"), "plants": []}, "experiment")
    setup = replace(setup, plants=_rows(files, PLANTS, resources))
    tables = {table.name: _rows(files, table, resources) for table in TABLES}
    records = [_record(files, Lamp, each, "lamps") for each in _list(files, data, "lamps")]
    lamps = {lamp.id: lamp for lamp in records}
    tables["lights"] = tuple(_with_lamp(light, lamps) for light in tables["lights"])
    rows = Rows(**tables, exports=tuple(_exports(files, resources)))
    _check(files, setup, rows)
    return Run(setup, rows), _journal(files, data)


def _mapping(files: PackageFiles, data: Data, key: str) -> dict[str, Any]:
    found = data.get(key)
    if not isinstance(found, dict):
        files.fail("missing-key", f"`{files.path.name}` has no mapping `{key}`")
    return found


def _list(files: PackageFiles, data: Data, key: str) -> list[Data]:
    found = data.get(key)
    if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
        files.fail("missing-key", f"`{files.path.name}` has no list `{key}`")
    return found


def _record(files: PackageFiles, kind: type[Any], data: Any, key: str) -> Any:
    try:
        return from_mapping(kind, data)
    except (ValueError, RecursionError) as error:
        files.fail("wrong-type", f"`{key}` cannot be read: {error}")


def _journal(files: PackageFiles, data: Data) -> Journal:
    shown = _mapping(files, data, "shown")
    journal: Journal = _record(files, Journal, {"title": "", **shown}, "shown")
    return replace(journal, prices=_record(files, Prices, data.get("prices", {}), "prices"))


def _rows(files: PackageFiles, table: RowTable, resources: Iterable[Data]) -> tuple[Any, ...]:
    """The rows of one table; a table that is not there had none."""
    resource = next((each for each in resources if each.get("name") == table.name), None)
    if resource is None:
        return ()
    return files.rows(_path(files, resource), [column.name for column in table.columns], table.read)


def _path(files: PackageFiles, resource: Data) -> str:
    """The file of a resource; one that is divided over several, or given by a table of its own, is not ours."""
    path = resource.get("path")
    if not isinstance(path, str):
        files.fail("missing-key", f"the resource `{resource.get('name')}` has no `path` that is one file")
    return path


def _exports(files: PackageFiles, resources: Iterable[Data]) -> Iterator[Export]:
    for resource in resources:
        if isinstance(resource.get("series"), dict):
            read = files.rows(_path(files, resource), ["time", "value"], _moment)
            series = {**resource["series"], "times": [], "values": []}
            export: Export = _record(files, Export, series, "series")
            yield replace(export, times=tuple(t for t, _ in read), values=tuple(v for _, v in read))


def _moment(cells: Sequence[str]) -> tuple[datetime, float]:
    when = datetime.fromisoformat(cells[0])
    if when.tzinfo is not None:
        raise ValueError(f"`{cells[0]}` has an offset; times are those of the journal's own zone")
    return when, number_of(cells[1])


def _with_lamp(light: Light, lamps: Mapping[str, Lamp]) -> Light:
    """A setting with its lamp in place of the lamp's id."""
    lamp = light.use.lamp
    return replace(light, use=replace(light.use, lamp=lamps.get(lamp.id, lamp) if lamp else None))


def _check(files: PackageFiles, setup: Setup, rows: Rows) -> None:
    """Findings for references to nothing: later stages rely on valid references, as in a journal."""
    plants, tubs = set(setup.plant_ids), {tub.id for tub in setup.tubs}
    entries = {entry.index for entry in rows.entries}
    for plant in setup.plants:
        _known(files, [plant.tub], tubs, plant.source)
    for export in rows.exports:
        _known(files, filter(None, [export.tub]), tubs, export.source)
    for row in (row for table in TABLES for row in getattr(rows, table.name)):
        _known(files, _plants_of(row), plants, row.source)
        _known(files, _tubs_of(row), tubs, row.source)
        visit = getattr(row, "entry", None)
        if visit is not None and visit not in entries:
            files.add("bad-cell", f"there is no entry {visit}", "number it as in entries.csv")


def _plants_of(row: Any) -> Iterator[str]:
    which = getattr(row, "which", None)
    yield from which.ids if which else ()
    yield from getattr(row, "plants", ())


def _tubs_of(row: Any) -> Iterator[str]:
    yield from getattr(row, "tubs", ())
    yield from filter(None, [getattr(row, "tub", "")])


def _known(files: PackageFiles, names: Iterable[str], known: set[str], source: Source) -> None:
    for name in names:
        if name not in known:
            files.add("unknown-plant", f"`{name}`, from {source}, is not in the package")
