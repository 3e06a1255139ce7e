"""Files of a journal → `JournalFiles`, and a `Run(setup, rows, recap, photo_files)` of each experiment, with findings.

Reads syntax, shape, values and positions, and resolves references to plants, tubs, crops and gear. Never judges the
plausibility of a record.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.rows import Rows, Run
from sitegen.core.records.setup import Setup
from sitegen.core.store import Store
from sitegen.ingest.journal import ExperimentFolder, JournalFiles, find_root, load_table, read_journal_files
from sitegen.ingest.log.entries import merged_readings, read_log
from sitegen.ingest.photos import PhotoFolder, photo_names, read_photo_files
from sitegen.ingest.setup.experiment import read_setup
from sitegen.ingest.sheets.readings import read_sheet
from sitegen.ingest.text_files import read_text
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.typed_fields import TypedFields

__all__ = [
    "ExperimentFolder",
    "JournalFiles",
    "find_root",
    "read_experiment",
    "read_journal",
    "read_recap",
    "read_records",
]


# Without these a log cannot be read: what they name would be unknown in it.
_NAMING = frozenset({"plants", "groups", "tubs", "from_memory"})


def read_journal(root: Path) -> tuple[JournalFiles | None, tuple[Finding, ...]]:
    """The journal without its experiments, and findings."""
    findings = Findings()
    journal_files = read_journal_files(root, findings)
    return journal_files, tuple(findings)


def read_experiment(
    folder: ExperimentFolder, journal_files: JournalFiles, store: Store | None = None
) -> tuple[Run | None, tuple[Finding, ...]]:
    """One experiment, and findings; None where its set-up is unknown. `store` caches the headers of photos."""
    run, findings = read_records(folder, journal_files, store)
    text, more = read_recap(folder, journal_files.root)
    if run is None:
        return None, findings
    return replace(run, recap=text), (*findings, *more)


def read_records(
    folder: ExperimentFolder, journal_files: JournalFiles, store: Store | None = None
) -> tuple[Run | None, tuple[Finding, ...]]:
    """One experiment without its recap: set-up, log, spreadsheets and photos."""
    findings = Findings(units=journal_files.journal.units)
    run = _read(folder, journal_files, store, findings)
    return run, tuple(findings)


def read_recap(folder: ExperimentFolder, root: Path) -> tuple[str, tuple[Finding, ...]]:
    """The author's text about an experiment; empty where there is none."""
    findings = Findings()
    recap = folder.path / "recap.md"
    text = read_text(recap, root, findings) if recap.is_file() else None
    return text or "", tuple(findings)


def _read(
    folder: ExperimentFolder, journal_files: JournalFiles, store: Store | None, findings: Findings
) -> Run | None:
    fields = load_table(folder.path / "experiment.yaml", journal_files.root, "experiment", findings)
    if fields is None or _NAMING.intersection(fields.broken):
        return None
    found = read_setup(fields, folder.id, folder.season, journal_files.library)
    if found is None:
        return None
    setup, names = found
    photos = folder.path / "photos"
    rows = read_log(fields, setup, names, journal_files.library, photo_names(photos), findings)
    rows = _with_sheets(rows, fields, folder, journal_files, setup, names)
    if fields.broken:
        return None  # it was read for its findings: nothing that needs all of it can be said
    in_log = {photo.file: photo.day for photo in reversed(rows.photos)}
    album = PhotoFolder(photos, journal_files.root, in_log, setup.start, journal_files.journal.timezone)
    return Run(setup, rows, "", read_photo_files(album, store, findings))


def _with_sheets(
    rows: Rows,
    fields: TypedFields,
    folder: ExperimentFolder,
    journal_files: JournalFiles,
    setup: Setup,
    names: PlantNames,
) -> Rows:
    """The rows of the log, with those of the spreadsheets and exports that `readings:` names."""
    zone = journal_files.journal.timezone
    parts = [
        read_sheet(item, folder.path, journal_files.root, setup, names, zone)
        for item in fields.nested_list("readings")
    ]
    if not parts:
        return rows
    readings = tuple(reading for part, _ in parts for reading in part)
    exports = tuple(export for _, part in parts for export in part)
    return replace(merged_readings(rows, readings), exports=exports)
