"""Spreadsheets and sensor exports beside an experiment: `.csv` and `.xlsx`.

In: an item of `readings:` and the file it names. Out: `Reading` rows (of a sheet of plants by day) or `Export` series
(of a sensor's samples by time).
"""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath

from sitegen.core.files.inside import paths_in
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Reading
from sitegen.core.records.setup import Setup
from sitegen.ingest.outside import is_outside
from sitegen.ingest.sheets.cells import load_sheet
from sitegen.ingest.sheets.columns import SheetItem, columns_of
from sitegen.ingest.sheets.daily_readings import read_days
from sitegen.ingest.sheets.sensor_exports import read_exports
from sitegen.ingest.text_files import is_file
from sitegen.ingest.values.plants import PlantNames, parse_tub
from sitegen.ingest.yaml.typed_fields import TypedFields


def read_sheet(
    fields: TypedFields, folder: Path, root: Path, setup: Setup, names: PlantNames, zone: str
) -> tuple[tuple[Reading, ...], tuple[Export, ...]]:
    """The rows of one file that `readings:` names."""
    path = _file_of(fields, folder, root)
    sheet = load_sheet(path, root, fields) if path is not None else None
    tub = fields.scalar("tub")
    if sheet is None:
        return (), ()
    if tub is not None and not parse_tub(tub, names, fields.findings, "remove `tub`: there is only one"):
        return (), ()
    item = SheetItem(fields, sheet, setup, names)
    columns = tuple(columns_of(item))
    if fields.has("time"):
        return (), tuple(read_exports(item, columns, zone))
    return tuple(read_days(item, columns)), ()


def _file_of(fields: TypedFields, folder: Path, root: Path) -> Path | None:
    """The file that is named; None with a finding where it is not there, or behind a link that leads out."""
    name = fields.scalar("file")
    if name is None:
        return None
    path = _beside(folder, name.text)
    if path is not None and is_file(path):
        return None if is_outside(path, root, fields.findings) else path
    near = [p.name for p in paths_in(folder, root) if p.suffix.lower() in (".csv", ".xlsx")]
    mend = name.meant(near) if near else "put the file there"
    name.report(fields.findings, "missing-export", f"`{name.text}` is not beside experiment.yaml", mend)
    return None


def _beside(folder: Path, name: str) -> Path | None:
    """The place of a name below a folder; None for a name that goes anywhere else, and for what is no name."""
    pure = PurePosixPath(name)
    if pure.is_absolute() or ".." in pure.parts or "\0" in name or PureWindowsPath(name).drive:
        return None
    return folder / name
