"""The files of a journal: which there are, whether one was touched, and digests of their content.

In: a folder. Out: `Inventory` (a stamp for each file) and `Digests` (content by file and by run). A file whose stamp
has not changed since it was last read is not opened. Imports no library: a command that finds nothing changed reads
only this.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from hashlib import blake2b
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST, is_utf8, utf8
from sitegen.core.files.inside import files_below, in_circle, is_link, is_regular, leads_out
from sitegen.core.store import Store

# Nanoseconds. The clocks of file systems tick every 1-10 ms, so a second change within one tick may leave the stamp as it
# was: the digest of a file that was changed so recently is used, but not remembered.
SETTLED = 50_000_000
DEEPEST = 16  # folders; a symbolic link may lead back to a folder above it
RECAP = "recap.md"

Stamp = tuple[int, int, int, int]  # size, modified, changed, inode
FOLDER: Stamp = (-1, 0, 0, 0)
# Of what cannot be opened: folders, pipes, names that are not UTF-8, links that lead nowhere. One that leads out of the
# journal has the times and the inode of the link behind the same first number.
CLOSED: Stamp = (-2, 0, 0, 0)


@dataclass(frozen=True)
class Inventory:
    """Stamps by place; that of a folder, or of what cannot be opened, stays. `taken` is when it was begun [ns]."""

    stamps: dict[str, Stamp]
    taken: int

    @property
    def digest(self) -> str:
        """Changes when any file does."""
        return digest_of(sorted(self.stamps.items()))

    @property
    def settled(self) -> bool:
        """Whether every file has been at rest for long enough that a later change will show."""
        return all(self.at_rest(stamp) for stamp in self.stamps.values())

    def at_rest(self, stamp: Stamp) -> bool:
        """Whether a file was changed long enough before the inventory was taken."""
        return max(stamp[1], stamp[2]) < self.taken - SETTLED

    def with_folder(self, root: Path, place: str) -> Inventory:
        """The same with one folder looked at again; the other files are taken to be unchanged."""
        folder = root / place
        found = inventory(folder, root)
        below = {} if MANIFEST in found.stamps else found.stamps
        own: dict[str, Stamp] = {}
        if folder.is_dir():
            own = {place: _link_stamp(str(folder)) if leads_out(folder, root) else FOLDER}
        start = f"{place}/"
        outside = {name: s for name, s in self.stamps.items() if name != place and not name.startswith(start)}
        # The earlier time is kept: it is the safe one for every file outside of the folder.
        return Inventory(outside | own | {start + name: s for name, s in below.items()}, self.taken)


def inventory(folder: Path, root: Path | None = None) -> Inventory:
    """All files of a journal, or of one of its folders, except hidden ones and the output of builds."""
    taken = time.time_ns()
    home = folder if root is None else root
    if root is not None and leads_out(folder, root):
        return Inventory({}, taken)
    return Inventory(dict(_Scan(str(home)).of(str(folder))), taken)


def unbounded_inventory(folder: Path) -> Inventory:
    """All files of a folder that is no journal's, wherever its links lead."""
    taken = time.time_ns()
    return Inventory(dict(_Scan("").of(str(folder))), taken)


@dataclass(frozen=True, slots=True)
class _Scan:
    """A walk through folders; links are followed as long as they stay in `root`, and where there is none, anywhere."""

    root: str

    def of(self, folder: str) -> Iterator[tuple[str, Stamp]]:
        return self._below(folder, "", (os.path.realpath(folder),))

    def _below(self, folder: str, place: str, above: tuple[str, ...]) -> Iterator[tuple[str, Stamp]]:
        try:
            with os.scandir(folder) as found:
                items = list(found)
        except OSError:
            if place:
                yield place[:-1], CLOSED
            return
        if place and (any(item.name == MANIFEST for item in items) or place.count("/") > DEEPEST):
            return
        if place:
            yield place[:-1], FOLDER
        for item in items:
            if not is_utf8(item.name):  # nothing reads it: it could be neither stored nor published
                yield place + utf8(item.name), CLOSED
                continue
            try:
                yield from self._item(item, place, above)
            except OSError:  # a link that leads nowhere or to itself, or a file that was removed meanwhile
                if item.is_symlink() and not item.name.startswith("."):  # editors lock a file by such a link
                    yield place + item.name, CLOSED

    def _item(
        self, item: os.DirEntry[str], place: str, above: tuple[str, ...]
    ) -> Iterator[tuple[str, Stamp]]:
        if is_link(item):
            real = os.path.realpath(item.path)
            is_lost = not os.path.exists(real)  # noqa: PTH110 - of a text
            if not is_lost and self.root and leads_out(real, self.root):
                yield place + item.name, _link_stamp(item.path)
                return
            if item.is_dir() and in_circle(item.path, real, above):
                yield place + item.name, CLOSED
                return
            above = (*above, real)
        if not item.is_dir():
            stat = item.stat()
            yield place + item.name, _stamp(stat) if is_regular(stat) else CLOSED
        elif not item.name.startswith("."):
            yield from self._below(item.path, f"{place}{item.name}/", above)


def _link_stamp(path: str) -> Stamp:
    """The stamp of a link that leads out of the journal: of the link itself, since nothing is read through it."""
    stat = os.lstat(path)
    return (CLOSED[0], *_stamp(stat)[1:])


def program_digest() -> str:
    """Changes when the program or a theme does: stamps of all their files."""
    package = Path(__file__).parents[2]
    homes = (package, package.parent / "themes")
    found = [item for home in homes if home.is_dir() for item in _Scan("").of(str(home))]
    return digest_of(sorted(item for item in found if "__pycache__" not in item[0]))


def folder_stamps(root: Path, folders: Iterable[str]) -> list[tuple[int, int]]:
    """When each folder of an output last lost or gained a file."""
    # Some hundred folders in place of thousands of files: a file that was edited in place is not noticed by this.
    found: list[tuple[int, int]] = []
    for folder in folders:
        try:
            stat = os.stat(f"{root}/{folder}")  # noqa: PTH116 - thousands of them
            found.append((stat.st_mtime_ns, stat.st_ino))
        except OSError:
            found.append((0, 0))
    return found


def digest_of(value: object) -> str:
    """A short digest of JSON values."""
    return text_digest(json.dumps(value, ensure_ascii=False))


def text_digest(text: str) -> str:
    """A short digest of a text."""
    return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def folder_digest(folder: Path, root: Path | None = None) -> str:
    """The digest of every file below a folder, with its name; `root` is the journal's, where it is one of its folders."""
    below = folder.rglob("*") if root is None else files_below(folder, root)
    paths = sorted(path for path in below if path.is_file()) if folder.is_dir() else []
    return digest_of([[path.relative_to(folder).as_posix(), _content(path)] for path in paths])


def _content(path: Path) -> str:
    try:
        return blake2b(path.read_bytes(), digest_size=16).hexdigest()
    except OSError as error:  # nobody can read it: this is its content until someone can
        return f"unreadable: {error.strerror}"


@dataclass(frozen=True, slots=True)
class RunFiles:
    """The files of one run as they were when the build decided what to do: stamps by place, and two digests.

    `records` stands for everything in the folder but the recap, `recap` for the recap.
    """

    folder: Path
    stamps: tuple[tuple[str, Stamp], ...]
    records: str
    recap: str

    def unchanged(self) -> bool:
        """Whether the files are still those that the digests stand for."""
        # A file may be saved between its digest and its reading. What was made then must not be kept under the digest.
        try:
            return all(_stamp((self.folder / place).stat()) == stamp for place, stamp in self.stamps)
        except OSError:  # one is gone
            return False


def _stamp(stat: os.stat_result) -> Stamp:
    # The time of a change too, and the inode: copying tools set back the time of modification, and an editor that
    # renames a new file over the old one may leave size and times as they were.
    return (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)


class Digests:
    """Digests of a journal's files, remembered under the journal's folder for as long as stamps are the same."""

    def __init__(
        self, root: Path, found: Inventory, store: Store, before: dict[str, list[object]] | None = None
    ) -> None:
        self._root = root
        self._found = found
        self._store = store
        self._key = store.key("files", str(root))
        if before is None:
            kept = store.get(self._key)
            before = dict(kept.value) if kept is not None else {}
        self._before = before
        self._now: dict[str, list[object]] = {}

    def at(self, found: Inventory) -> Digests:
        """The same at a later inventory; the store is not asked again."""
        return Digests(self._root, found, self._store, self._before | self._now)

    @cached_property
    def _by_run(self) -> dict[str, list[str]]:
        """Files by the folder of their run, `seasons/SEASON/RUN`."""
        found: dict[str, list[str]] = {}
        for place in self._found.stamps:
            folder = run_folder(place)
            if folder:
                found.setdefault(folder, []).append(place)
        return found

    def of_run(self, folder: Path) -> RunFiles:
        """The files of one run."""
        place = folder.relative_to(self._root).as_posix()
        stamps = self._found.stamps
        files = {name[len(place) + 1 :]: name for name in sorted(self._by_run.get(place, ()))}
        recap = files.get(RECAP)
        return RunFiles(
            folder,
            tuple((short, stamps[name]) for short, name in files.items() if stamps[name][0] >= 0),
            digest_of([[short, self.of(name)] for short, name in files.items() if short != RECAP]),
            self.of(recap) if recap is not None else "",
        )

    def of(self, place: str) -> str:
        """The digest of one file."""
        stamp = self._found.stamps[place]
        if stamp[0] < 0:
            return "" if stamp == FOLDER else "closed" if stamp == CLOSED else f"a link {stamp}"
        known = self._before.get(place)
        if known is None or known[:4] != list(stamp):
            known = [*stamp, _content(self._root / place)]
        if self._found.at_rest(stamp):  # else the next command reads it again
            self._now[place] = known
        return str(known[4])

    def keep(self) -> None:
        """Remember the digests for the next command."""
        if self._now != self._before:
            self._store.put(self._key, self._now)


def run_folder(place: str) -> str:
    """The folder of the run that a file lies in: `seasons/SEASON/RUN`; empty for any other file."""
    parts = place.split("/", 3)
    return "/".join(parts[:3]) if len(parts) > 3 and parts[0] == "seasons" else ""
