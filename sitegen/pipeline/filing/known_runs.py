"""What is known of every experiment of a journal, to tell which one a line or a picture is of.

In: the journal's folder. Out: a `KnownRun` for each, kept in the store by the stamps of its files: only those that have
changed are read.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from sitegen.core.store import Store, file_stamp
from sitegen.core.values.day import Start
from sitegen.filing.inbox.run_names import KnownRun
from sitegen.ingest import ExperimentFolder, JournalFiles, read_records
from sitegen.pipeline.filing.experiments import experiments


def known_runs(journal_files: JournalFiles, store: Store) -> tuple[KnownRun, ...]:
    """Every experiment, in the order of seasons and ids; of one that cannot be read, its id alone."""
    return tuple(_known(folder, journal_files, store) for folder in experiments(journal_files.root))


def _known(folder: ExperimentFolder, journal_files: JournalFiles, store: Store) -> KnownRun:
    root = journal_files.root
    place = folder.path.relative_to(root).as_posix()
    try:
        stamps = [
            file_stamp(path, path.stat())
            for path in (folder.path / "experiment.yaml", root / "crops.yaml", root / "gear.yaml")
            if path.is_file()
        ]
    except OSError:
        return KnownRun(folder.id, place)
    key = store.key("ingest", "known run", stamps)
    kept = store.get(key)
    value = kept.value if kept is not None else store.put(key, _read(folder, journal_files)).value
    start = Start(date.fromisoformat(value["start"]) if value["start"] else None, value["precision"])
    return KnownRun(folder.id, place, tuple(value["names"]), start, value["last"], bool(value["told"]))


def _read(folder: ExperimentFolder, journal_files: JournalFiles) -> dict[str, Any]:
    run, _ = read_records(folder, journal_files, headers=False)
    if run is None:
        return {"names": [], "start": "", "precision": "unknown", "last": None, "told": False}
    setup, ended = run.setup, run.ended
    varieties = [name for each in setup.variety_ids for name in (each, setup.variety_name(each))]
    return {
        "names": list(dict.fromkeys([setup.title, setup.crop.id, setup.crop.name, *varieties])),
        "start": setup.start.date.isoformat() if setup.start.date else "",
        "precision": setup.start.precision,
        "last": max(entry.day.last for entry in run.rows.entries) if ended is not None else None,
        "told": setup.from_memory is not None,
    }
