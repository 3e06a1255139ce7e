"""The manifest of an output folder, and new files that wait beside their places.

In: a page, the output folder. Out: `StagedFile`, moved when all files are made, where one with the same content is
left alone with its times; `Manifest`, the files that were written with their fingerprints, or None for a folder of
another origin. The manifest lies in the folder itself and holds nothing of the machine that wrote it. It is always
written last, so a file newer than it was changed by someone else.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import blake2b
from pathlib import Path

from sitegen.core.site.page import MANIFEST, Page


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


STAGING_MARKER = ".sitegen.staging"  # exists while staged files may exist: only then are they searched for
FORMAT = 2
_NEW = f"{MANIFEST}.new"

Fingerprint = tuple[str, int]  # digest and size [bytes]
# Equal to no file's fingerprint: a killed process may have left the old file or the new one.
UNKNOWN_CONTENT: Fingerprint = ("", -1)


@dataclass(frozen=True, slots=True)
class Manifest:
    """The files that were written, by address; `written` is the time of writing [ns], 0 for never."""

    files: Mapping[str, Fingerprint] = field(default_factory=dict)
    written: int = 0


def is_foreign(folder: Path) -> bool:
    """Whether a folder holds files and no manifest, or is no folder at all."""
    if not folder.is_dir():
        return folder.exists()
    # A process that is killed before the first manifest is in place leaves these in an empty folder.
    others = (each for each in folder.iterdir() if each.name not in {STAGING_MARKER, _NEW})
    return not (folder / MANIFEST).is_file() and any(others)


def read_manifest(folder: Path) -> Manifest | None:
    """The manifest of a folder; an empty one for an empty or missing folder, None for foreign files."""
    path = folder / MANIFEST
    if is_foreign(folder):
        return None
    if not path.is_file():
        return Manifest()
    try:
        files = dict(_entries(json.loads(path.read_text("utf-8"))["files"]))
        # Not the change time: copying the folder renews it, and files that were edited before would be believed.
        return Manifest(files, path.stat().st_mtime_ns)
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _entries(files: object) -> Iterator[tuple[str, Fingerprint]]:
    """The entries whose address stays in the folder: others would have files elsewhere removed."""
    if isinstance(files, list):  # format 1: addresses only
        files = dict.fromkeys(files)
    if not isinstance(files, dict):
        raise TypeError("neither a list nor a table of files")
    return ((address, _fingerprint(value)) for address, value in files.items() if _is_inside(address))


def _fingerprint(value: object) -> Fingerprint:
    match value:
        case [str(digest), int(size)]:
            return digest, size
    return UNKNOWN_CONTENT


def _is_inside(address: object) -> bool:
    """Whether an address stays in the folder, on systems with drives and backslashes too."""
    if not isinstance(address, str) or not address or address[0] == "/" or address[1:2] == ":":
        return False
    # The first test is quick, and almost always false: there are thousands of addresses.
    return "\\" not in address and not (".." in address and ".." in address.split("/"))


def write_manifest(folder: Path, files: Mapping[str, Fingerprint]) -> None:
    """Write the manifest, in one step: a reader sees the old one or the new one, never half of one."""
    new = folder / _NEW
    new.write_text(json.dumps({"files": files, "format": FORMAT}, sort_keys=True) + "\n", "utf-8")
    new.replace(folder / MANIFEST)
