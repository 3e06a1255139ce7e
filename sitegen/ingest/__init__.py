"""Files of a journal → `JournalFiles`, and a `Run(setup, rows, recap, photo_files)` of each experiment, with findings.

Reads syntax, shape, values and positions, and resolves references to plants, tubs, crops and gear. Never judges the
plausibility of a record.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.rows import Rows, Run
from sitegen.core.records.setup import Setup
from sitegen.ingest.journal import (
    ExperimentFolder,
    JournalFiles,
    find_root,
    load_table,
    read_journal_files,
    read_shared_files,
)
from sitegen.ingest.markdown_files import read_markdown
from sitegen.ingest.photo_names import is_photo_name, photo_names
from sitegen.ingest.unread_files import Unread, report_unread_in_run, report_unread_photos
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

if TYPE_CHECKING:
    from sitegen.core.store import Store
    from sitegen.ingest.values.plants import PlantNames

__all__ = [
    "ExperimentFolder",
    "JournalFiles",
    "find_root",
    "read_experiment",
    "read_journal",
    "read_recap",
    "read_records",
    "read_shared",
]


# Without these a log cannot be read: what they name would be unknown in it.
_NAMING = frozenset({"plants", "groups", "tubs", "from_memory"})


def read_journal(root: Path) -> tuple[JournalFiles | None, tuple[Finding, ...]]:
    """The journal without its experiments, and findings."""
    findings = Findings()
    journal_files = read_journal_files(root, findings)
    return journal_files, tuple(findings)


def read_shared(root: Path) -> tuple[JournalFiles | None, tuple[Finding, ...]]:
    """The settings and the library alone: all that reading one experiment needs. And findings."""
    findings = Findings()
    shared = read_shared_files(root, findings)
    return shared, tuple(findings)


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
    folder: ExperimentFolder,
    journal_files: JournalFiles,
    store: Store | None = None,
    content: bytes | None = None,
    *,
    headers: bool = True,
) -> tuple[Run | None, tuple[Finding, ...]]:
    """One experiment without its recap: set-up, log, spreadsheets and photos.

    `content` is what is to be written to its experiment.yaml, and is read in place of the file; without `headers` the
    photo files are not opened.
    """
    findings = Findings(units=journal_files.journal.units)
    run = _read(folder, journal_files, findings, content)
    if run is not None and headers:
        from sitegen.ingest.photos import PhotoFolder, read_photo_files  # noqa: PLC0415 - an entry opens none

        photos, rows = folder.path / "photos", run.rows
        in_log = {photo.file: photo.day for photo in reversed(rows.photos)}
        zone = journal_files.journal.timezone
        album = PhotoFolder(photos, journal_files.root, in_log, run.setup.start, zone)
        run = replace(run, photo_files=read_photo_files(album, store, findings))
    return run, tuple(findings)


def read_recap(folder: ExperimentFolder, root: Path) -> tuple[str, tuple[Finding, ...]]:
    """The author's text about an experiment; empty where there is none."""
    findings = Findings()
    recap = folder.path / "recap.md"
    text = read_markdown(recap, root, findings) if recap.is_file() else None
    return text or "", tuple(findings)


def _read(
    folder: ExperimentFolder, journal_files: JournalFiles, findings: Findings, content: bytes | None
) -> Run | None:
    fields = load_table(folder.path / "experiment.yaml", journal_files.root, "experiment", findings, content)
    unread = Unread(journal_files.root, journal_files.journal.ignore, findings)
    report_unread_in_run(folder.path, lambda: _named_files(fields), unread)
    report_unread_photos(folder.path / "photos", is_photo_name, unread)
    if fields is None or _NAMING.intersection(fields.broken):
        return None
    # These are many modules: a command that takes the facts of runs from the store does without.
    from sitegen.ingest.log.entries import read_log  # noqa: PLC0415 - see above
    from sitegen.ingest.setup.experiment import read_setup  # noqa: PLC0415 - see above

    found = read_setup(fields, folder.id, folder.season, journal_files.library)
    if found is None:
        return None
    setup, names = found
    photos = photo_names(folder.path / "photos", journal_files.root)
    rows = read_log(fields, setup, names, journal_files.library, photos, findings)
    rows = _with_sheets(rows, fields, folder, journal_files, setup, names)
    # A file that is not YAML as a whole was read for its findings: nothing that needs all of it can be said.
    return None if fields.broken else Run(setup, rows)


def _named_files(fields: TypedFields | None) -> frozenset[str] | None:
    """The files that an experiment.yaml names: spreadsheets and footage; None where it cannot be read."""
    if fields is None or fields.broken:
        return None
    named = set[str]()
    for key in ("readings", "log"):
        node = fields.node(key)
        if node is not None:
            named.update(_files_in(node))
    return frozenset(named)


def _files_in(node: Node) -> Iterator[str]:
    """Every `file` below a node."""
    if isinstance(node, Items):
        for item in node.items:
            yield from _files_in(item)
    elif isinstance(node, Mapping):
        for pair in node:
            if pair.key.text == "file" and isinstance(pair.value, Scalar):
                yield pair.value.text
            else:
                yield from _files_in(pair.value)


def _with_sheets(
    rows: Rows,
    fields: TypedFields,
    folder: ExperimentFolder,
    journal_files: JournalFiles,
    setup: Setup,
    names: PlantNames,
) -> Rows:
    """The rows of the log, with those of the spreadsheets and exports that `readings:` names."""
    items = list(fields.nested_list("readings"))
    if not items:
        return rows
    from sitegen.ingest.log.entries import merged_readings  # noqa: PLC0415 - most runs have no sheets
    from sitegen.ingest.sheets.readings import read_sheet  # noqa: PLC0415 - as above

    zone = journal_files.journal.timezone
    parts = [read_sheet(item, folder.path, journal_files.root, setup, names, zone) for item in items]
    readings = tuple(reading for part, _ in parts for reading in part)
    exports = tuple(export for _, part in parts for export in part)
    return replace(merged_readings(rows, readings), exports=exports)
