"""Staging: a new file waits beside its final path until all files are made.

In: a page, the output folder. Out: `StagedFile`. A file that has the same content already is left alone, with its times.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from sitegen.core.site.page import Page
from sitegen.write.manifest import Fingerprint


@dataclass(frozen=True, slots=True)
class StagedFile:
    """A file of the new site; `changed` if its new content waits at `staged_path`."""

    address: str
    fingerprint: Fingerprint
    changed: bool


def stage(page: Page, folder: Path) -> StagedFile:
    """Write a page beside its final path, unless the file there has the same content."""
    body, path = page.content, folder / page.address
    changed = not _has_content(path, body)
    if changed:
        path.parent.mkdir(parents=True, exist_ok=True)
        staged_path(path).write_bytes(body)
    else:
        # The page may have been staged before with other content, which must not be moved into place.
        staged_path(path).unlink(missing_ok=True)
    return StagedFile(page.address, fingerprint_of(body), changed)


def staged_path(path: Path) -> Path:
    """Where a new file waits: in the same folder, since only a move within one file system is a single step."""
    return path.with_name(f".{path.name}.new")


def fingerprint_of(body: bytes) -> Fingerprint:
    """The digest and the size of a file's content."""
    return blake2b(body, digest_size=16).hexdigest(), len(body)


def _has_content(path: Path, body: bytes) -> bool:
    try:
        # The size first: most changed files differ in it, and need not be read.
        return path.stat().st_size == len(body) and path.read_bytes() == body
    except OSError:
        return False
