"""Waits for changes on the disk.

In: the folders of a journal and of its theme. Out: change sets: names of the files that one burst of changes touched.
The library is imported here and nowhere else.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from watchfiles import Change, watch
from watchfiles._rust_notify import WatchfilesRustInternalError

from sitegen.app.live.changes import name_of

QUIET = 10  # milliseconds without a change that end a burst; an editor's rename follows within a few
LONGEST = 1000  # milliseconds: a burst without an end is cut
REST = 1500  # milliseconds without a change, after which all files are compared once
POLL = 1.0  # seconds between two comparisons where the system reports no changes

Changes = frozenset[str]


@dataclass(frozen=True, slots=True)
class Watcher:
    """Watches a journal until `stop` is set.

    `theme_folders` are asked for after each change set. `unreported` compares all files, and gives those that have
    changed.
    """

    root: Path
    theme_folders: Callable[[], tuple[Path, ...]]
    unreported: Callable[[], Collection[Path]]
    stop: threading.Event
    say: Callable[[str], None]

    def changes(self, *, poll: bool = False) -> Iterator[Changes]:
        """Each burst once."""
        while not poll and not self.stop.is_set():
            try:
                yield from self._while_theme_is(self.theme_folders())
            # Too many folders, or a file system without reports.
            except (OSError, WatchfilesRustInternalError) as error:
                self.say(f"the system reports no changes here ({error}); comparing once a second instead")
                poll = True
        # The library's own comparison knows times by the second: a second save within one would be missed.
        while not self.stop.wait(POLL):
            yield from self._compared()

    def _while_theme_is(self, folders: tuple[Path, ...]) -> Iterator[Changes]:
        compared = False
        for files in self._bursts(folders):
            if files:
                yield files
            elif not compared:
                # A file that is saved into a new folder before the system watches that folder is not reported. Compared
                # at a rest, never between edits: with 300 runs it takes 15 ms.
                yield from self._compared()
            compared = not files
            if self.theme_folders() != folders:
                return

    def _compared(self) -> Iterator[Changes]:
        folders = self.theme_folders()
        if names := frozenset(
            name for path in self.unreported() if (name := name_of(path, self.root, folders))
        ):
            yield names

    def _bursts(self, folders: tuple[Path, ...]) -> Iterator[Changes]:
        """Names of the files of each burst; an empty set after a rest."""

        def counts(change: Change, path: str) -> bool:
            repeated = change is Change.modified and Path(path).is_dir()  # its files are reported themselves
            return not repeated and name_of(Path(path), self.root, folders) is not None

        watched = [folder for folder in folders if folder.is_dir() and not folder.is_relative_to(self.root)]
        bursts = watch(
            self.root,
            *watched,
            watch_filter=counts,
            step=QUIET,
            debounce=LONGEST,
            rust_timeout=REST,
            yield_on_timeout=True,
            stop_event=self.stop,
            force_polling=False,
            ignore_permission_denied=True,
        )
        for burst in bursts:
            # An editor that writes another file and renames it has changed the file that has the name now.
            kept = (
                path for change, path in burst if (Change.added, path) not in burst or Path(path).exists()
            )
            yield frozenset(name for path in kept if (name := name_of(Path(path), self.root, folders)))
