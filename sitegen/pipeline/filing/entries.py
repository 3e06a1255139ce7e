"""One entry written to a log, and taken back.

In: the journal's folder, an experiment, texts. Out: `Filed`; `TakenBack`. The lock of the journal is held from
reading the file until the new one is in its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sitegen.cache_folder import cache_folder, lock_folder
from sitegen.filing.entries.undo import TakenBack, keep, take_back
from sitegen.filing.journal_lock import journal_lock
from sitegen.filing.safe_file import replace_file
from sitegen.pipeline.filing.experiments import experiments
from sitegen.pipeline.filing.planning import Planned, opened_run


@dataclass(frozen=True, slots=True)
class Filed:
    """An entry as it was planned, whether it was written, and whether that can be taken back."""

    planned: Planned
    written: bool
    kept: bool = True


def file_entry(
    root: Path, run_id: str, when: str, texts: Sequence[str], today: date, *, anyway: bool = False
) -> Filed:
    """Write an entry, unless it brings an error; `anyway` writes one that does.

    Raises
    ------
    BusyError
        Where another command changes the journal.
    CannotAppendError
        Where the log is written in a way that nothing can be added to, or a key is said twice.
    OSError
        Where the file cannot be read or written: it is as it was.

    """
    cache = cache_folder()
    with lock_folder() as locks, journal_lock(locks, root):
        planned = opened_run(root, run_id, today).planned(when, texts)
        if planned.change is None or (planned.errors and not anyway):
            return Filed(planned, written=False)
        kept = keep(cache, planned.path, planned.before, planned.change)
        replace_file(planned.path, planned.after)
    return Filed(planned, written=True, kept=kept)


def undo_entry(root: Path, run_id: str) -> TakenBack | None:
    """Take back the newest entry that was written to a run; None where its file does not end with one any more."""
    path = next(each.path for each in experiments(root) if each.id == run_id) / "experiment.yaml"
    cache = cache_folder()
    with lock_folder() as locks, journal_lock(locks, root):
        found = take_back(cache, path, path.read_bytes())
        if found is not None:
            replace_file(path, found.content)
    return found
