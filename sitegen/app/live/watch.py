"""Waits for changes on the disk.

In: the journal's folder, and folders beside it. Out: an iterator of change sets: names of files that were touched,
those of one burst together. The library is imported here and nowhere else.
"""

from __future__ import annotations

import contextlib
import queue
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Protocol

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver
from watchdog.observers.polling import PollingObserver

from sitegen.app.live.changes import How, complete, joined, touched, within

SETTLE = 0.04  # seconds of quiet that end a burst; an editor's rename follows within a few milliseconds
WHOLE = (
    0.006  # seconds of quiet where every file of the burst is whole again: only to join files saved together
)
LONGEST = 1.0  # seconds: a burst without an end is cut
WAKE = 0.5  # seconds: on some systems a wait without an end cannot be interrupted
POLL = 1.0  # seconds between two looks

Changes = frozenset[str]
Idle = Callable[[], bool]


class Watcher(Protocol):
    """Change sets, one after another."""

    def changes(self, idle: Idle) -> Iterator[Changes]:
        """Each burst once; `idle` is called while there is none."""

    def beside(self, folders: Iterable[Path]) -> None:
        """Watch these folders too."""

    def tell(self, files: Iterable[str]) -> None:
        """Count these as changed."""


def _nothing() -> bool:
    return False


def bursts(
    names: queue.SimpleQueue[tuple[str, How]],
    idle: Idle = _nothing,
    settle: float = SETTLE,
    whole: float = WHOLE,
    longest: float = LONGEST,
) -> Iterator[Changes]:
    """What a queue holds, joined until it is quiet; `idle` says whether it has more to do."""
    while True:
        try:
            burst = [names.get_nowait() if idle() else names.get(timeout=WAKE)]
        except queue.Empty:
            continue
        end = time.monotonic() + longest
        while (left := min(whole if complete(burst) else settle, end - time.monotonic())) > 0:
            try:
                burst.append(names.get(timeout=left))
            except queue.Empty:
                break
        if files := joined(burst):
            yield files


class DiskChanges(FileSystemEventHandler):
    """The changes of a journal on the disk, while it is open."""

    def __init__(self, root: Path, *, poll: bool = False, interval: float = POLL) -> None:
        self._root = root
        self._beside: tuple[Path, ...] = ()
        self._names: queue.SimpleQueue[tuple[str, How]] = queue.SimpleQueue()
        self._observer: BaseObserver = PollingObserver(timeout=interval) if poll else Observer()
        self._closes = type(self._observer).__name__ == "InotifyObserver"

    def start(self) -> None:
        """Begin; OSError where the system cannot watch as many folders."""
        self._observer.schedule(self, str(self._root), recursive=True)
        self._observer.start()

    def stop(self) -> None:
        """Let go of everything."""
        self._observer.stop()
        if self._observer.is_alive():
            self._observer.join()

    def changes(self, idle: Idle = _nothing) -> Iterator[Changes]:
        """Each burst once; `idle` is called while there is none."""
        return bursts(self._names, idle)

    def tell(self, files: Iterable[str]) -> None:
        """Count these as changed: the system did not tell of them."""
        for name in files:
            if within(self._root / name, self._root) is not None:
                self._names.put((name, How.CHANGED))

    def beside(self, folders: Iterable[Path]) -> None:
        """Watch these folders too; those watched already are not watched twice."""
        for folder in folders:
            if folder not in self._beside and not folder.is_relative_to(self._root) and folder.is_dir():
                self._beside = (*self._beside, folder)
                with contextlib.suppress(OSError):  # the journal matters more than its theme
                    self._observer.schedule(self, str(folder), recursive=True)

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Called by the library, in its own thread."""
        for path, how in touched(event, closes=self._closes):
            name = within(path, self._root, self._beside)
            if name is not None:
                self._names.put((name, how))
