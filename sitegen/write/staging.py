"""New files of a site, which wait in a hidden folder until all are made.

In: pages, the output folder. Out: `StagedFile`; its content waits at `Staging.path`, unless the output holds the same.
The hidden folder is ours alone: whatever a killed process left in it is removed with it, and nothing beside it is.
"""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST
from sitegen.core.site.page import Page
from sitegen.write.manifest import STAGING, Fingerprint, is_foreign, write_manifest


@dataclass(frozen=True, slots=True)
class StagedFile:
    """A file of the new site; `changed` if its new content waits."""

    address: str
    fingerprint: Fingerprint
    changed: bool


@dataclass(frozen=True, slots=True)
class Staging:
    """New files of the output `folder` wait in `place`, on the same file system: a move is then a single step.

    `whole`: the folder is new, and appears by one rename of `place`.
    """

    folder: Path
    place: Path
    whole: bool

    def path(self, address: str) -> Path:
        """Where a new file waits."""
        return self.place / address


def stage(page: Page, staging: Staging) -> StagedFile:
    """Write a page to where it waits, unless the file in the output has the same content."""
    body, path = page.content, staging.path(page.address)
    changed = not _has_content(staging.folder / page.address, body)
    if changed:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(body)
    else:
        # The page may have been staged before with other content, which must not be moved into place.
        path.unlink(missing_ok=True)
    return StagedFile(page.address, fingerprint_of(body), changed)


def fingerprint_of(body: bytes) -> Fingerprint:
    """The digest and the size of a file's content."""
    return blake2b(body, digest_size=16).hexdigest(), len(body)


def _has_content(path: Path, body: bytes) -> bool:
    try:
        # The size first: most changed files differ in it, and need not be read.
        return path.stat().st_size == len(body) and path.read_bytes() == body
    except OSError:
        return False


def inner_place(folder: Path) -> Path:
    """Inside an output that is there."""
    return folder / STAGING


def outer_place(folder: Path) -> Path:
    """Beside an output that is not there yet."""
    return folder.with_name(f".{folder.name}{STAGING}")


def begin_staging(folder: Path, *, first: bool) -> Staging:
    """Make the hidden folder; `first`: nothing was ever written to the output.

    Raises
    ------
    OSError
        Where no folder can be made.

    """
    if first:
        # Where no folder may be made beside the output, or one of somebody else's has the name: inside.
        with suppress(OSError):
            return _begin_whole(folder)
    return _begin_inside(folder, first=first)


def _begin_inside(folder: Path, *, first: bool) -> Staging:
    folder.mkdir(exist_ok=True)  # those above it were made for a place beside it
    place = inner_place(folder)
    place.mkdir()
    if first:
        # Before the first file: without a manifest the files of a killed process would be foreign.
        write_manifest(folder, place, {})
    return Staging(folder, place, whole=False)


def _begin_whole(folder: Path) -> Staging:
    place = outer_place(folder)
    place.mkdir(parents=True)
    try:
        # By its manifest the next process knows the folder as ours, if this one is killed.
        write_manifest(place, place, {})
    except OSError:
        shutil.rmtree(place)
        raise
    return Staging(folder, place, whole=True)


def taken_inside(staging: Staging) -> Staging:
    """The same files inside the output, where `place` could not take its place."""
    # Copied: the output may be a mount point, and then lies on another file system.
    inside = _begin_inside(staging.folder, first=True)
    shutil.copytree(staging.place, inside.place, ignore=shutil.ignore_patterns(MANIFEST), dirs_exist_ok=True)
    shutil.rmtree(staging.place)
    return inside


def remove_staging(folder: Path) -> None:
    """Remove what waits for an output, and what a killed process left waiting."""
    inner, outer = inner_place(folder), outer_place(folder)
    if (
        inner.is_symlink() or inner.is_file()
    ):  # somebody's link is not followed; a file is an older version's marker
        inner.unlink()
    elif inner.is_dir():
        shutil.rmtree(inner)
    # Where the name of the output leaves no room for a longer one, Path would raise an error.
    if os.path.isdir(outer) and not outer.is_symlink() and not is_foreign(outer):  # noqa: PTH112 - as said
        for path in outer.iterdir():
            if path.name != MANIFEST:  # last: by it the folder is known as ours, if this process is killed
                shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()
        shutil.rmtree(outer)
