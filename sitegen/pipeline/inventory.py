"""Which files there are, and whether one was touched, without opening any.

In: folders. Out: `Inventory`: the stamp of every file by its place. Imports nothing that takes time: a run that finds
nothing changed looks at nothing else.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

LEDGER = ".sitegen.json"  # a folder that holds one was written from a journal, and is no part of it
SETTLED = 50_000_000  # nanoseconds; the clocks of file systems tick every 1-10 ms, and one tick may hide a second change
DEEPEST = 16  # folders; a link may lead back to where it lies

Stamp = tuple[int, int, int, int]  # size, modified, changed, inode
FOLDER: Stamp = (-1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Inventory:
    """Stamps by place, folders with a stamp that never changes; when it was taken."""

    stamps: dict[str, Stamp]
    taken: int

    @property
    def digest(self) -> str:
        """What changes when any file does."""
        return digest_of(sorted(self.stamps.items()))

    @property
    def settled(self) -> bool:
        """Whether every file has been at rest for long enough that a later change will show."""
        return all(self.at_rest(stamp) for stamp in self.stamps.values())

    def at_rest(self, stamp: Stamp) -> bool:
        """Whether a file was changed long enough before the look at it."""
        return max(stamp[1], stamp[2]) < self.taken - SETTLED

    def below(self, folder: str) -> dict[str, Stamp]:
        """What lies in a folder, by its place in it."""
        start = f"{folder}/"
        return {place[len(start) :]: stamp for place, stamp in self.stamps.items() if place.startswith(start)}


def inventory(root: Path) -> Inventory:
    """All of a folder but what begins with a dot, and what was written from a journal."""
    taken = time.time_ns()
    return Inventory(dict(_look(str(root), "")), taken)


def _look(folder: str, place: str) -> Iterator[tuple[str, Stamp]]:
    try:
        with os.scandir(folder) as found:
            entries = list(found)
    except OSError:
        return
    if place and (any(entry.name == LEDGER for entry in entries) or place.count("/") > DEEPEST):
        return
    if place:
        yield place[:-1], FOLDER
    for entry in entries:
        if entry.is_dir():
            if not entry.name.startswith("."):
                yield from _look(entry.path, f"{place}{entry.name}/")
            continue
        try:
            stat = entry.stat()
        except OSError:  # a link that leads nowhere, or gone already
            continue
        yield place + entry.name, (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)


def program() -> str:
    """What changes when the program or a theme does: stamps of all their files."""
    package = Path(__file__).parents[1]
    homes = (package, package.parent / "themes")
    found = [stamps for home in homes if home.is_dir() for stamps in _own(home)]
    return digest_of(sorted(found))


def _own(home: Path) -> Iterator[tuple[str, Stamp]]:
    return (item for item in _look(str(home), "") if "__pycache__" not in item[0])


def folder_stamps(root: Path, folders: Iterable[str]) -> list[tuple[int, int]]:
    """When each folder of an output last lost or gained a file."""
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
    return blake2b(
        json.dumps(value, ensure_ascii=False).encode("utf-8", "surrogatepass"), digest_size=16
    ).hexdigest()
