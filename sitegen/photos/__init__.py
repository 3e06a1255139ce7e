"""Photo files → `PhotoSet(pictures, pages)`: upright, in a few sizes, without any metadata.

The photos of all experiments are worked on together, one a core; what is in memory at once does not grow with their
number, since finished files lie in the store and pages name them by path.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path, PurePath, PurePosixPath

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Run
from sitegen.core.site.addresses import slug
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.site.page import Page
from sitegen.core.site.photo_formats import photo_finding
from sitegen.core.store import Store
from sitegen.photos.photo import Ready, Size, ready, soon

__all__ = ["Album", "PhotoSet", "prepare", "ready", "soon"]

MOST_AT_ONCE = 8  # each may hold a decoded photo; more cores than these are rare where journals are written
ENDINGS = {"image/webp": "webp", "image/jpeg": "jpg"}


@dataclass(frozen=True, slots=True)
class Album:
    """The photos of one run, and the folder that they lie in."""

    run: Run
    folder: Path


@dataclass(frozen=True, slots=True)
class PhotoSet:
    """The photos of one run in the order of days, those without a day last; `pages` are their files."""

    pictures: tuple[Picture, ...] = ()
    pages: tuple[Page, ...] = ()


def prepare(
    albums: Sequence[Album], store: Store, one: Callable[[Path, Store], Ready] = ready
) -> tuple[tuple[PhotoSet, ...], tuple[Finding, ...]]:
    """All photos of some runs.

    Parameters
    ----------
    albums
        The runs, with what was dropped into their folders.
    store
        Where finished files lie, and are found again.
    one
        What makes a photo ready: `ready`, or `soon` where nobody may wait.

    Returns
    -------
    Sets, findings
        A set a run, in the order given; a finding for each file that cannot be decoded, which its set leaves out.

    """
    paths = [album.folder / photo.file for album in albums for photo in album.run.photo_files]
    made = dict(zip(paths, _all_ready(paths, store, one), strict=True))
    sets = tuple(_set(album, made) for album in albums)
    return sets, tuple(finding for album in albums for finding in _faults(album, made))


def _all_ready(paths: Sequence[Path], store: Store, one: Callable[[Path, Store], Ready]) -> list[Ready]:
    """Codecs let go of the interpreter's lock, so that threads use every core."""
    with warnings.catch_warnings(), ThreadPoolExecutor(_at_once()) as pool:
        warnings.simplefilter("ignore")  # odd metadata, which is thrown away
        return list(pool.map(lambda path: one(path, store), paths))


def _at_once() -> int:
    if hasattr(os, "sched_getaffinity"):  # a container may be allowed fewer cores than there are
        return min(MOST_AT_ONCE, len(os.sched_getaffinity(0)))
    return min(MOST_AT_ONCE, os.cpu_count() or 1)


def _set(album: Album, made: dict[Path, Ready]) -> PhotoSet:
    pictures: list[Picture] = []
    pages: list[Page] = []
    for photo in sorted(album.run.photo_files, key=_order):
        found = made[album.folder / photo.file]
        if not found.sizes:
            continue
        addresses = [_address(album.run.id, photo.file, size) for size in found.sizes]
        pictures.append(_picture(album.run, photo, found, addresses))
        pages += [Page(a, s.media, s.file) for a, s in zip(addresses, found.sizes, strict=True)]
    return PhotoSet(tuple(pictures), tuple(pages))


def _order(photo: PhotoFile) -> tuple[bool, float, str]:
    return (photo.day is None, photo.day.middle if photo.day else 0, photo.file)


def _address(experiment: str, file: str, size: Size) -> str:
    """An address that changes with the content, so that it may be cached for ever."""
    stem = slug(PurePath(file).stem) or "photo"
    return f"photos/{experiment}/{stem}-{size.width}-{size.digest}.{ENDINGS[size.media]}"


def _picture(run: Run, photo: PhotoFile, found: Ready, addresses: Sequence[str]) -> Picture:
    line = next((row for row in run.rows.photos if row.file == photo.file), None)
    return Picture(
        file=photo.file,
        alt=line.alt if line else "",
        files=tuple(
            PictureFile(a, s.media, s.width, s.height) for a, s in zip(addresses, found.sizes, strict=True)
        ),
        day=photo.day,
        plants=line.which.ids if line and line.which else (),
        shows=line.shows if line else "",
        placeholder=found.colour,
    )


def _faults(album: Album, made: dict[Path, Ready]) -> list[Finding]:
    folder = PurePosixPath(album.run.setup.source.file).parent / "photos"
    found = ((photo.file, made[album.folder / photo.file]) for photo in album.run.photo_files)
    return [
        photo_finding(one.fault, file, Source(str(folder / file)), one.about)
        for file, one in found
        if one.fault
    ]
