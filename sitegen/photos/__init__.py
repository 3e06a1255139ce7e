"""Photos of a run as published: upright, in a few sizes, without any metadata.

In: a run, the folder of its photos, the store. Out: `PhotoSet`, and findings about files that cannot be decoded. Encoded
files lie in the store, and pages name them by path: memory does not grow with the number of photos.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from sitegen.core.files.photo_formats import photo_finding
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Run
from sitegen.core.site.addresses import day_anchor
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.core.values.day import Day
from sitegen.photos.photo import ProcessedPhoto, Rendition, measured, process, process_later

__all__ = ["PROCESSES", "PhotoSet", "measured", "process", "process_all", "process_later"]

# By when photos are encoded.
PROCESSES = {"now": process, "later": process_later, "never": measured}

MOST_THREADS = 8  # each may hold a decoded photo; more cores are rare where journals are written
ENDINGS = {"image/webp": "webp", "image/jpeg": "jpg"}


@dataclass(frozen=True, slots=True)
class PhotoSet:
    """The photos of one run in the order of days, those without a day last; `pages` are their files."""

    pictures: tuple[Picture, ...] = ()
    pages: tuple[Page, ...] = ()


def process_all(
    run: Run, folder: Path, store: Store, one: Callable[[Path, Store], ProcessedPhoto] = process
) -> tuple[PhotoSet, tuple[Finding, ...]]:
    """All photos of a run.

    Parameters
    ----------
    run, folder
        The run, and the folder that its photos lie in.
    store
        The store of encoded files.
    one
        The function for a photo: `process`, `process_later` for a preview, `measured` where only sizes are wanted.

    Returns
    -------
    Photos, findings
        The photos, and a finding for each file that cannot be decoded and is left out.

    """
    files = sorted(run.photo_files, key=_order)
    # Codecs release the interpreter's lock, so that threads use every core.
    with warnings.catch_warnings(), ThreadPoolExecutor(thread_count()) as pool:
        warnings.simplefilter("ignore")  # of odd metadata, which is not published
        photos = list(pool.map(lambda file: one(folder / file.file, store), files))
    pictures: list[Picture] = []
    pages: dict[str, Page] = {}
    findings: list[Finding] = []
    place = PurePosixPath(run.setup.source.file).parent / "photos"
    for file, photo in zip(files, photos, strict=True):
        if photo.fault:
            source = Source(str(place / file.file))
            findings.append(photo_finding(photo.fault, file.file, source, photo.about))
            continue
        addresses = [_address(run.id, file.day, rendition) for rendition in photo.renditions]
        pictures.append(_picture(run, file, photo, addresses))
        # Two files with the same picture are one file of the site.
        pages |= {a: Page(a, r.media, r.file) for a, r in zip(addresses, photo.renditions, strict=True)}
    return PhotoSet(tuple(pictures), tuple(pages.values())), tuple(findings)


def thread_count() -> int:
    """How many photos are processed at once."""
    if hasattr(os, "sched_getaffinity"):  # a container may be allowed fewer cores than there are
        return min(MOST_THREADS, len(os.sched_getaffinity(0)))
    return min(MOST_THREADS, os.cpu_count() or 1)


def _order(photo: PhotoFile) -> tuple[bool, float, str]:
    return (photo.day is None, photo.day.middle if photo.day else 0, photo.file)


def _address(experiment: str, day: Day | None, rendition: Rendition) -> str:
    """An address that changes with the content, so that browsers may cache it for ever.

    It does not hold the name of the file: a phone writes the second into it, and a person their own words.
    """
    stem = "photo" if day is None else day_anchor(day)
    return f"photos/{experiment}/{stem}-{rendition.width}-{rendition.digest}.{ENDINGS[rendition.media]}"


def _picture(run: Run, file: PhotoFile, photo: ProcessedPhoto, addresses: Sequence[str]) -> Picture:
    line = next((row for row in run.rows.photos if row.file == file.file), None)
    return Picture(
        file=file.file,
        alt=line.alt if line else "",
        files=tuple(
            PictureFile(a, r.media, r.width, r.height)
            for a, r in zip(addresses, photo.renditions, strict=True)
        ),
        day=file.day,
        plants=line.which.ids if line and line.which else (),
        shows=line.shows if line else "",
        placeholder=photo.colour,
    )
