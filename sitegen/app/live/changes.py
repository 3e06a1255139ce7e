"""What a change on the disk means for a journal.

In: events of the watching library, and paths. Out: which files of the journal were touched, as paths relative to it;
which page one of them belongs to. Nothing is read or watched here.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import Enum
from pathlib import Path
from typing import Protocol

FOLDERS = frozenset({"seasons", "look"})
ENDINGS = frozenset({".yaml", ".yml", ".md"})

# What editors and office programs leave beside a file while they save it.
_SCRATCH_STARTS = (".", "#", "~$")
_SCRATCH_ENDS = (
    "~",
    "#",
    ".tmp",
    ".swp",
    ".swx",
    ".bak",
    ".part",
    ".crdownload",
    "___jb_tmp___",
    "___jb_old___",
)


class How(Enum):
    """What happened to a path: it was begun, written to its end, moved here whole, removed."""

    CAME = "came"
    CHANGED = "changed"
    PLACED = "placed"
    WENT = "went"


_TELLING = {"closed": How.CHANGED, "created": How.CAME, "deleted": How.WENT}
# `modified` may come while a file is still being written. Where the system says when it was closed, that is waited for.
_WITHOUT_CLOSING = _TELLING | {"modified": How.CHANGED}


class Event(Protocol):
    """What is asked of an event."""

    @property
    def event_type(self) -> str:
        """What happened."""

    @property
    def is_directory(self) -> bool:
        """Whether to a folder."""

    @property
    def src_path(self) -> bytes | str:
        """Where."""

    @property
    def dest_path(self) -> bytes | str:
        """Where it is now, if it was moved."""


def touched(event: Event, *, closes: bool) -> tuple[tuple[Path, How], ...]:
    """The paths that an event is about, and what happened to each; none where it says nothing yet.

    `closes` says whether the system reports the closing of files. Where it does not, the order of events means nothing
    either (a comparison of two looks tells what was created before what was moved): then a path has changed, no more.
    """
    found = _told(event, _TELLING if closes else _WITHOUT_CLOSING)
    return found if closes else tuple((path, How.CHANGED) for path, _ in found)


def _told(event: Event, telling: Mapping[str, How]) -> tuple[tuple[Path, How], ...]:
    if event.event_type == "moved":
        return (_path(event.src_path), How.WENT), (_path(event.dest_path), How.PLACED)
    how = telling.get(event.event_type)
    if how is None or (event.is_directory and how is How.CHANGED):
        return ()
    return ((_path(event.src_path), how),)


def _path(path: bytes | str) -> Path:
    return Path(os.fsdecode(path))


def joined(burst: Iterable[tuple[str, How]]) -> frozenset[str]:
    """The files that a burst touched.

    What came and went within it is left out: an editor that saves by writing another file and renaming it has changed
    the one that it is named now.
    """
    first: dict[str, How] = {}
    last: dict[str, How] = {}
    for name, how in burst:
        first.setdefault(name, how)
        last[name] = how
    return frozenset(n for n in last if first[n] not in _HERE_FIRST or last[n] is not How.WENT)


_HERE_FIRST = (How.CAME, How.PLACED)


def complete(burst: Sequence[tuple[str, How]]) -> bool:
    """Whether every file of a burst is whole: none was only begun, and none is away, perhaps to be written anew."""
    last = dict(burst)
    away = {name for name, how in last.items() if how is How.WENT}
    begun = any(how is How.CAME for how in last.values())
    return not begun and not any(name in joined(burst) for name in away)


def within(path: Path, root: Path, beside: Iterable[Path] = ()) -> str | None:
    """A path as a file of the journal, or of a folder beside it; None for what no page is made from."""
    if _is_scratch(path.name):
        return None
    if path.is_relative_to(root):
        parts = path.relative_to(root).parts
        return "/".join(parts) if _is_read(parts) else None
    home = next((folder for folder in beside if path.is_relative_to(folder)), None)
    return None if home is None else "/".join((home.name, *path.relative_to(home).parts))


def _is_scratch(name: str) -> bool:
    return name.startswith(_SCRATCH_STARTS) or name.endswith(_SCRATCH_ENDS)


def _is_read(parts: tuple[str, ...]) -> bool:
    if not parts or any(part.startswith(".") for part in parts):
        return False
    return parts[0] in FOLDERS or (len(parts) == 1 and Path(parts[0]).suffix in ENDINGS)


def page_edited(files: Iterable[str], page_of: Mapping[str, str]) -> str:
    """The page that was worked on, if it was one page: an empty text for the look, or for several at once."""
    pages = {page for file in files if (page := _page(file, page_of))}
    return pages.pop() if len(pages) == 1 else ""


def _page(file: str, page_of: Mapping[str, str]) -> str:
    """The page of a file, else of the nearest folder that has one."""
    return next((page_of[name] for name in _upwards(file) if name in page_of), "")


def _upwards(file: str) -> Iterator[str]:
    while file:
        yield file
        file = file.rpartition("/")[0]
