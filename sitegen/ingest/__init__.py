"""Files of a journal → `Run(setup, rows, recap, photo_files)` and findings.

Reads syntax, shape, quantities and positions; resolves references, since rows need resolved plants. Never judges
whether a record is plausible.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sitegen.core.finding import Finding, Findings
from sitegen.core.rows import PhotoFile, Reading, Rows, Run
from sitegen.core.setup import Setup
from sitegen.ingest.experiment import read_setup
from sitegen.ingest.files import read_text
from sitegen.ingest.journal import ExperimentFolder, FreePage, Shelf, find_root, load_table, read_shelf
from sitegen.ingest.log.entries import merged_readings, read_log
from sitegen.ingest.reader import Read
from sitegen.ingest.sheets import read_sheet
from sitegen.ingest.which import Names

__all__ = ["ExperimentFolder", "FreePage", "Shelf", "find_root", "read_experiment", "read_journal"]

PHOTO_ENDINGS = frozenset({".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif"})


def read_journal(root: Path) -> tuple[Shelf | None, tuple[Finding, ...]]:
    """What all experiments share."""
    findings = Findings()
    shelf = read_shelf(root, findings)
    return shelf, tuple(findings)


def read_experiment(folder: ExperimentFolder, shelf: Shelf) -> tuple[Run | None, tuple[Finding, ...]]:
    """One experiment; None where its set-up cannot be known."""
    findings = Findings()
    run = _read(folder, shelf, findings)
    return run, tuple(findings)


def _read(folder: ExperimentFolder, shelf: Shelf, findings: Findings) -> Run | None:
    read = load_table(folder.path / "experiment.yaml", shelf.root, "experiment", findings)
    if read is None:
        return None
    found = read_setup(read, folder.id, folder.season, shelf.library, findings)
    if found is None:
        return None
    setup, names = found
    photos = _photo_names(folder.path)
    rows = read_log(read, setup, names, shelf.library, photos, findings)
    rows = _with_sheets(rows, read, folder, shelf, setup, names, findings)
    recap = folder.path / "recap.md"
    text = read_text(recap, shelf.root, findings) if recap.is_file() else None
    return Run(setup, rows, text or "", tuple(PhotoFile(name) for name in sorted(photos)))


def _photo_names(folder: Path) -> frozenset[str]:
    photos = folder / "photos"
    if not photos.is_dir():
        return frozenset()
    return frozenset(p.name for p in photos.iterdir() if p.suffix.lower() in PHOTO_ENDINGS)


def _with_sheets(
    rows: Rows,
    read: Read,
    folder: ExperimentFolder,
    shelf: Shelf,
    setup: Setup,
    names: Names,
    findings: Findings,
) -> Rows:
    readings: list[Reading] = []
    exports = list(rows.exports)
    for item in read.subs("readings"):
        more, series = read_sheet(
            item, folder.path, shelf.root, setup, names, shelf.journal.timezone, findings
        )
        readings.extend(more)
        exports.extend(series)
    return replace(merged_readings(rows, tuple(readings)), exports=tuple(exports))
