"""What lies in the way of new files and is not ours: it is never written through, replaced or removed.

In: the output folder, addresses. Out: findings, before anything is moved.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from pathlib import Path, PurePosixPath

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source


def obstacles(folder: Path, changed: Iterable[str], known: Collection[str]) -> Iterator[Finding]:
    """A finding for each file, folder or link that somebody else put where a changed file goes."""
    folded = {address.casefold() for address in known}
    files = tuple(changed)
    folders = {parent.as_posix() for file in files for parent in PurePosixPath(file).parents} - {"."}
    for place in (*sorted(folders), *files):
        what = _obstacle(folder / place, place not in folders, place.casefold() in folded)
        if what:
            yield _in_the_way(folder, place, what)


def _obstacle(path: Path, is_file: bool, ours: bool) -> str:
    """What is in the way of a file or of a folder that holds some; empty where nothing is."""
    if not is_file:
        if path.is_symlink():
            return "is a link: what is written there would land elsewhere"
        return "is a file, where a folder goes" if path.exists() and not path.is_dir() and not ours else ""
    if path.is_dir() and not path.is_symlink():
        return "is a folder, where a file goes"
    return "was not written from the journal" if not ours and (path.exists() or path.is_symlink()) else ""


def leads_elsewhere(folder: Path, address: str) -> bool:
    """Whether a link lies between the output folder and an address, so that the file there is not in the folder."""
    parents = PurePosixPath(address).parents
    return any((folder / parent).is_symlink() for parent in parents if parent.as_posix() != ".")


def _in_the_way(folder: Path, place: str, what: str) -> Finding:
    message = f"`{folder / place}` {what}"
    mend = "move it out of the output folder, or choose another folder with `-o`"
    return Finding("output-in-the-way", Source(folder.name), message, mend, place)
