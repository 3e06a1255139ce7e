"""Files of a journal → `Run(setup, rows, recap, photo_files)` and findings.

Reads syntax, shape, quantities and positions; resolves references, since rows need resolved plants. Never judges
whether a record is plausible.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.rows import Reading, Rows, Run
from sitegen.core.records.setup import Setup
from sitegen.core.store import Store
from sitegen.ingest.head.experiment import read_setup
from sitegen.ingest.journal import ExperimentFolder, FreePage, Shelf, find_root, load_table, read_shelf
from sitegen.ingest.log.entries import merged_readings, read_log
from sitegen.ingest.photos.folder import Album, photo_names, read_photo_files
from sitegen.ingest.sheets.sheets import read_sheet
from sitegen.ingest.text_files import read_text
from sitegen.ingest.values.plants import Names
from sitegen.ingest.yaml.reader import Read

__all__ = ["ExperimentFolder", "FreePage", "Shelf", "find_root", "read_experiment", "read_journal"]


def read_journal(root: Path) -> tuple[Shelf | None, tuple[Finding, ...]]:
    """What all experiments share."""
    findings = Findings()
    shelf = read_shelf(root, findings)
    return shelf, tuple(findings)


def read_experiment(
    folder: ExperimentFolder, shelf: Shelf, store: Store | None = None
) -> tuple[Run | None, tuple[Finding, ...]]:
    """One experiment; None where its set-up cannot be known. `store` holds the headers of photos seen before."""
    findings = Findings(units=shelf.journal.units)
    run = _read(folder, shelf, store, findings)
    return run, tuple(findings)


def _read(folder: ExperimentFolder, shelf: Shelf, store: Store | None, findings: Findings) -> Run | None:
    read = load_table(folder.path / "experiment.yaml", shelf.root, "experiment", findings)
    if read is None:
        return None
    found = read_setup(read, folder.id, folder.season, shelf.library, findings)
    if found is None:
        return None
    setup, names = found
    photos = folder.path / "photos"
    rows = read_log(read, setup, names, shelf.library, photo_names(photos), findings)
    rows = _with_sheets(rows, read, folder, shelf, setup, names, findings)
    recap = folder.path / "recap.md"
    text = read_text(recap, shelf.root, findings) if recap.is_file() else None
    in_log = {photo.file: photo.day for photo in reversed(rows.photos)}
    album = Album(photos, shelf.root, in_log, setup.start, shelf.journal.timezone)
    return Run(setup, rows, text or "", read_photo_files(album, store, findings))


def _with_sheets(
    rows: Rows,
    read: Read,
    folder: ExperimentFolder,
    shelf: Shelf,
    setup: Setup,
    names: Names,
    findings: Findings,
) -> Rows:
    if not read.has("readings"):
        return rows
    readings: list[Reading] = []
    exports = list(rows.exports)
    for item in read.subs("readings"):
        more, series = read_sheet(
            item, folder.path, shelf.root, setup, names, shelf.journal.timezone, findings
        )
        readings.extend(more)
        exports.extend(series)
    return replace(merged_readings(rows, tuple(readings)), exports=tuple(exports))
