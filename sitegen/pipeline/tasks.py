"""The experiments of a journal, each with the key that stands for its files.

In: a journal as read, digests. Out: `Task`s, in the order of the journal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.records.codec import codec_for
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, JournalFiles
from sitegen.ingest.library import Library
from sitegen.pipeline.digests import Digests, stamp_of
from sitegen.pipeline.inventory import Stamp, digest_of


@dataclass(frozen=True, slots=True)
class Task:
    """An experiment to be made: its files as they were when it was decided, and the key that stands for them."""

    folder: ExperimentFolder
    files: tuple[tuple[str, Stamp], ...]
    key: str

    def untouched(self) -> bool:
        """Whether its files are still those that the key stands for."""
        return all(stamp_of(self.folder.path / place) == stamp for place, stamp in self.files)


def terms_of(journal_files: JournalFiles) -> str:
    """What reading an experiment depends on beside its files: the library, the time zone, the units of mends."""
    journal = journal_files.journal
    return digest_of([codec_for(Library).encode(journal_files.library), journal.timezone, journal.units])


def tasks_of(journal_files: JournalFiles, digests: Digests, store: Store) -> Iterator[Task]:
    """Every experiment, with what reading it depends on; its files are read only when it is asked for."""
    terms = terms_of(journal_files)
    return (task_of(folder, journal_files.root, digests, terms, store) for folder in journal_files.folders)


def task_of(folder: ExperimentFolder, root: Path, digests: Digests, terms: str, store: Store) -> Task:
    """One experiment of a journal."""
    place = folder.path.relative_to(root).as_posix()
    key = store.key("verdict", place, digests.of_experiment(place), terms)
    return Task(folder, digests.stamps_in(place), key)
