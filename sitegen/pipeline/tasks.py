"""The experiments of a journal, each with the key that stands for its files.

In: a journal as read, digests. Out: `Task`s, in the order of the journal.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.codec import codec_for
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, Shelf
from sitegen.ingest.library import Library
from sitegen.pipeline.digests import Digests, stamp_of
from sitegen.pipeline.inventory import Stamp, digest_of

__all__ = ["Task", "tasks_of"]


@dataclass(frozen=True, slots=True)
class Task:
    """An experiment to be made: its files as they were when it was decided, and the key that stands for them."""

    folder: ExperimentFolder
    files: tuple[tuple[str, Stamp], ...]
    key: str

    def untouched(self) -> bool:
        """Whether its files are still those that the key stands for."""
        return all(stamp_of(self.folder.path / place) == stamp for place, stamp in self.files)


def tasks_of(shelf: Shelf, digests: Digests, store: Store) -> list[Task]:
    """Every experiment, with what reading it depends on: its files, the library, the time zone."""
    terms = digest_of([codec_for(Library).encode(shelf.library), shelf.journal.timezone])
    return [_task(folder, shelf, digests, terms, store) for folder in shelf.folders]


def _task(folder: ExperimentFolder, shelf: Shelf, digests: Digests, terms: str, store: Store) -> Task:
    place = folder.path.relative_to(shelf.root).as_posix()
    key = store.key("verdict", place, digests.of_experiment(place), terms)
    return Task(folder, digests.stamps_in(place), key)
