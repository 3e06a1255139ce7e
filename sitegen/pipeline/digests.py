"""What is in the files of a journal, as digests: a file that was not touched is not read again.

In: an inventory, a store. Out: digests of files and of experiments' folders.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import blake2b
from pathlib import Path

from sitegen.core.store import Store
from sitegen.pipeline.inventory import FOLDER, Inventory, Stamp, digest_of


class Digests:
    """The contents of a journal's files; what was read before is kept under the journal's place."""

    def __init__(
        self, root: Path, found: Inventory, store: Store, before: dict[str, list[object]] | None = None
    ) -> None:
        self._root = root
        self._found = found
        self._store = store
        self._key = store.key("files", str(root))
        self._before = self._kept() if before is None else before
        self._now: dict[str, list[object]] = {}
        self._by_folder: dict[str, list[str]] = {}
        for place in found.stamps:
            for folder in _experiment(place):
                self._by_folder.setdefault(folder, []).append(place)

    def _kept(self) -> dict[str, list[object]]:
        kept = self._store.get(self._key)
        return dict(kept.value) if kept is not None else {}

    def again(self, found: Inventory) -> Digests:
        """The same at a later look, which may be at a part of the journal only; the store is not asked again."""
        return Digests(self._root, found, self._store, self._before | self._now)

    def touched(self) -> list[str]:
        """The experiments with a file that is not as it was when it was last read; none where none was ever read."""
        if not self._before:
            return []
        stamps, before = self._found.stamps, self._before
        return [
            folder
            for folder, places in self._by_folder.items()
            if any(stamps[p] != FOLDER and before.get(p, [])[:4] != list(stamps[p]) for p in places)
        ]

    def of_experiment(self, folder: str) -> str:
        """The digest of everything in an experiment's folder, `folder` being its place in the journal."""
        places = sorted(self._by_folder.get(folder, ()))
        return digest_of([[place[len(folder) :], self.of(place)] for place in places])

    def of(self, place: str) -> str:
        """The digest of one file."""
        stamp = self._found.stamps[place]
        if stamp == FOLDER:
            return ""
        known = self._before.get(place)
        if known is None or known[:4] != list(stamp):
            known = [*stamp, _read(self._root / place)]
        if self._found.at_rest(stamp):
            self._now[place] = known
        return str(known[4])

    def keep(self) -> None:
        """Remember what was read for the next time."""
        if self._now != self._before:
            self._store.put(self._key, self._now)

    def stamps_in(self, folder: str) -> tuple[tuple[str, Stamp], ...]:
        """The files of an experiment, by their place in its folder, as they were found."""
        places = self._by_folder.get(folder, ())
        found = ((place[len(folder) + 1 :], self._found.stamps[place]) for place in places)
        return tuple((place, stamp) for place, stamp in found if stamp != FOLDER)


def _experiment(place: str) -> Iterable[str]:
    """The experiment's folder that a place lies in: `seasons/SEASON/EXPERIMENT`."""
    parts = place.split("/", 3)
    return ("/".join(parts[:3]),) if len(parts) > 3 and parts[0] == "seasons" else ()


def stamp_of(path: Path) -> Stamp | None:
    """The stamp of one file; None where it is not there."""
    try:
        stat = path.stat()
    except OSError:
        return None
    return (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)


def _read(path: Path) -> str:
    try:
        return blake2b(path.read_bytes(), digest_size=16).hexdigest()
    except OSError as error:  # then it cannot be read by anyone: that is what is known of it
        return f"unreadable: {error.strerror}"


def content_of_folder(folder: Path) -> str:
    """The digest of every file below a folder, with its name."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file()) if folder.is_dir() else []
    return digest_of([[path.relative_to(folder).as_posix(), _read(path)] for path in paths])
