"""The files of a journal as they were last looked at, and what is in them.

In: the journal's folder, a store, names of files that were touched. Out: `Task`s. After an edit only the folder of its
experiment is looked at again; what the watching library may have missed, a look at everything finds.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, JournalFiles
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import FOLDER, LEDGER, Inventory, inventory
from sitegen.pipeline.tasks import Task, task_of, tasks_of, terms_of


class Stock:
    """Stamps and digests of a journal's files; everything is made by one thread."""

    def __init__(self, root: Path, store: Store) -> None:
        self._root = root
        self._store = store
        self._found = inventory(root)
        self._digests = Digests(root, self._found, store)
        self._terms = ""

    def look(self) -> None:
        """Look at every file."""
        self._found = inventory(self._root)
        self._digests = self._digests.again(self._found)

    def tasks(self, journal_files: JournalFiles) -> list[Task]:
        """Every experiment, as its files were at the last look."""
        self._terms = terms_of(journal_files)
        return list(tasks_of(journal_files, self._digests, self._store))

    def task(self, folder: ExperimentFolder) -> Task:
        """One experiment, as its files are now; the others' are taken to be as they were."""
        here = self.look_again(folder.path.relative_to(self._root).as_posix())
        self._digests = self._digests.again(here)
        return task_of(folder, self._root, self._digests, self._terms, self._store)

    def look_again(self, place: str) -> Inventory:
        """What lies in one folder now."""
        found = inventory(self._root / place)
        below = {} if LEDGER in found.stamps else found.stamps
        own = {place: FOLDER} if (self._root / place).is_dir() else {}
        here = own | {f"{place}/{name}": stamp for name, stamp in below.items()}
        start = f"{place}/"
        outside = {n: s for n, s in self._found.stamps.items() if n != place and not n.startswith(start)}
        self._found = Inventory(outside | here, self._found.taken)
        return Inventory(here, found.taken)

    def keep(self) -> None:
        """Remember what was read for the next start."""
        self._digests.keep()

    def strays(self) -> frozenset[str]:
        """Files that are not as they were when they were last looked at."""
        before, now = self._found.stamps, inventory(self._root).stamps
        return frozenset(name for name in before.keys() | now.keys() if before.get(name) != now.get(name))
