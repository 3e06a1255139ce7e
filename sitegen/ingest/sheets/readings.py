"""Spreadsheets and sensor exports beside an experiment: `.csv` and `.xlsx`.

In: an item of `readings:` and the file it names. Out: `Reading` rows (a sheet of plants by day) or `Export` series (a
sensor's samples by time).
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.rows import Export, Reading
from sitegen.core.records.setup import Setup
from sitegen.ingest.sheets.cells import load_sheet
from sitegen.ingest.sheets.columns import columns_of
from sitegen.ingest.sheets.daily_readings import read_days
from sitegen.ingest.sheets.sensor_exports import read_exports
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.typed_fields import TypedFields


def read_sheet(
    fields: TypedFields,
    folder: Path,
    root: Path,
    setup: Setup,
    names: PlantNames,
    zone: str,
    findings: Findings,
) -> tuple[tuple[Reading, ...], tuple[Export, ...]]:
    """The rows of one file that `readings:` names."""
    name = fields.scalar("file")
    if name is None:
        return (), ()
    path = folder / name.text
    if not path.resolve().is_relative_to(folder.resolve()) or not path.is_file():
        near = [p.name for p in folder.iterdir() if p.suffix.lower() in (".csv", ".xlsx")]
        name.report(
            findings,
            "missing-export",
            f"`{name.text}` is not beside experiment.yaml",
            did_you_mean(name.text, near) if near else "put the file there",
        )
        return (), ()
    sheet = load_sheet(path, root, fields, findings)
    if sheet is None or not _tub_known(fields, names, findings):
        return (), ()
    columns = tuple(columns_of(fields, sheet, names, findings))
    if fields.has("time"):
        return (), tuple(read_exports(fields, sheet, columns, setup, zone, findings))
    return tuple(read_days(fields, sheet, columns, setup, findings)), ()


def _tub_known(fields: TypedFields, names: PlantNames, findings: Findings) -> bool:
    """Whether the tub of an item can be told."""
    tub = fields.scalar("tub")
    if tub is None or tub.text in names.tubs:
        return True
    tub.report(
        findings,
        "unknown-plant",
        f"`{tub.text}` is not a tub of this experiment",
        did_you_mean(tub.text, names.tubs) if names.tubs else "remove `tub`: there is only one",
        ", ".join(names.tubs),
    )
    return False
