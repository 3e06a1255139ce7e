"""The boundary of a journal: a symbolic link is followed where it leads to a place in the journal, and nowhere else.

In: a path, the folder of the journal. Out: whether the path leads out; the files below a folder. Every reader of a
journal asks here before it lists a folder or opens a file (`tests/test_outside.py`).
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

# Real folders of copies that are worked on → those of the journals that their pictures are linked to.
_COPIES: dict[str, str] = {}


@contextmanager
def copy_of(copy: Path, root: Path) -> Iterator[None]:
    """Links from a copy into the journal lead to a place in it, for as long as the block lasts."""
    real = os.path.realpath(copy)
    _COPIES[real] = os.path.realpath(root)
    try:
        yield
    finally:
        del _COPIES[real]


def copies() -> Mapping[str, str]:
    """The copies that this process knows, to be told to another one."""
    return dict(_COPIES)


def know_copies(known: Mapping[str, str]) -> None:
    """Take over the copies that another process knows."""
    _COPIES.update(known)


def leads_out(path: Path | str, root: Path | str) -> bool:
    """Whether a path, with all links followed, lies outside of a journal."""
    real, home = os.path.realpath(path), os.path.realpath(root)
    return not _lies_in(real, home) and not (home in _COPIES and _lies_in(real, _COPIES[home]))


def _lies_in(real: str, home: str) -> bool:
    return real == home or real.startswith(home.rstrip(os.sep) + os.sep)


def is_link(entry: os.DirEntry[str]) -> bool:
    """Whether an entry of a folder is a symbolic link, or what Windows has in its place."""
    junction = getattr(entry, "is_junction", None)  # since Python 3.12
    return entry.is_symlink() or bool(junction is not None and junction())


def leads_back(path: Path | str) -> bool:
    """Whether a link leads to a folder that it lies in itself."""
    return _lies_in(os.path.realpath(os.path.dirname(path)), os.path.realpath(path))  # noqa: PTH120 - of texts too


def link_place(path: Path, root: Path) -> str:
    """The first part of a path that leads out of the journal, relative to its folder: the link."""
    parts = path.relative_to(root).parts
    places = ("/".join(parts[:length]) for length in range(1, len(parts) + 1))
    return next(
        (place for place in places if leads_out(root / place, root)), path.relative_to(root).as_posix()
    )


def is_file_inside(path: Path, root: Path) -> bool:
    """Whether a path is a file of the journal: there, and not beyond a link that leads out."""
    return path.is_file() and not leads_out(path, root)


def is_folder_inside(path: Path, root: Path) -> bool:
    """Whether a path is a folder of the journal: there, and not beyond a link that leads out."""
    return path.is_dir() and not leads_out(path, root)


def entries_in(folder: Path, root: Path) -> list[os.DirEntry[str]]:
    """What a folder of a journal holds, in no order and without links that lead out; nothing where it is not open."""
    if leads_out(folder, root):
        return []
    try:
        with os.scandir(folder) as found:
            return [each for each in found if not (is_link(each) and leads_out(each.path, root))]
    except OSError:
        return []


def paths_in(folder: Path, root: Path) -> list[Path]:
    """The paths of the same."""
    return [Path(each.path) for each in entries_in(folder, root)]


def files_below(folder: Path, root: Path) -> Iterator[Path]:
    """The files below a folder of a journal, in no order; through links that stay in the journal, not in circles."""
    if not leads_out(folder, root):
        yield from _files_below(folder, root, (os.path.realpath(folder),))


def _files_below(folder: Path, root: Path, above: tuple[str, ...]) -> Iterator[Path]:
    try:
        with os.scandir(folder) as found:
            entries = list(found)
    except OSError:
        return
    for entry in entries:
        real = os.path.realpath(entry.path) if is_link(entry) else ""
        if real and (leads_out(real, root) or in_circle(entry.path, real, above)):
            continue
        try:
            if entry.is_dir():
                inner = (*above, real) if real else above
                yield from _files_below(Path(entry.path), root, inner)
            elif entry.is_file():
                yield Path(entry.path)
        except OSError:
            continue


MOST_LINKS = 4  # folders that are reached through links within one another; common practice, no source


def in_circle(link: str, real: str, above: tuple[str, ...]) -> bool:
    """Whether a link to a folder leads back to one that was entered above it, or links are nested too deep.

    `real` is where it leads to; `above` are the real folders where the walk began and that it came to by links.
    """
    return len(above) > MOST_LINKS or any(_lies_in(each, real) for each in above) or leads_back(link)


def is_regular(found: os.stat_result) -> bool:
    """Whether it is a file: reading a pipe waits for ever, and reading a device may never end."""
    return stat.S_ISREG(found.st_mode)
