"""The manifest of an output folder: the files that were written.

In: the output folder. Out: `Manifest`, files with their fingerprints, or None for a folder of another origin. It lies
in the folder itself and holds nothing of the machine that wrote it. It is always written last, so a file newer than it
was changed by someone else.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST

STAGING = ".sitegen.staging"  # the hidden folder in which new files wait
FORMAT = 2
FIRST = 1  # has addresses only, and did not always say its number
FORMATS = (FIRST, FORMAT)  # those that are read
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
    others = (each for each in folder.iterdir() if each.name not in {STAGING, _NEW})
    return not (folder / MANIFEST).is_file() and any(others)


def read_manifest(folder: Path) -> Manifest | None:
    """The manifest of a folder; an empty one for an empty or missing folder, None for foreign files."""
    path = folder / MANIFEST
    if is_foreign(folder):
        return None
    if not path.is_file():
        return Manifest()
    try:
        data = json.loads(path.read_text("utf-8"))
        # What a later format means is not known: a file that it names may be one that is not to be removed.
        if _format(data) not in FORMATS:
            return None
        files = dict(_entries(data["files"]))
        # Not the change time: copying the folder renews it, and files that were edited before would be believed.
        return Manifest(files, path.stat().st_mtime_ns)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None


def why_unread(folder: Path) -> str:
    """What is wrong with the manifest of a folder that `read_manifest` makes nothing of; empty where it has none."""
    path = folder / MANIFEST
    if not path.is_file():
        return ""
    try:
        found = _format(json.loads(path.read_text("utf-8")))
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return "is damaged"
    later = type(found) is int and found > FORMAT
    return f"is of format {found}; formats {FIRST} and {FORMAT} are read" if later else "is damaged"


def _format(data: object) -> object:
    """The format that a manifest says, or does not say."""
    if not isinstance(data, dict):
        raise TypeError("not a mapping")
    found = data.get("format", FIRST)
    return None if isinstance(found, bool) else found


def _entries(files: object) -> Iterator[tuple[str, Fingerprint]]:
    """The entries whose address stays in the folder: others would have files elsewhere removed."""
    if isinstance(files, list):  # of the first format
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
    return (
        isinstance(address, str)
        and address[:1] not in {"", "/"}
        and address[1:2] != ":"
        and "\\" not in address
        and "\0" not in address
        # The first test is quick, and almost always false: there are thousands of addresses.
        and not (".." in address and ".." in address.split("/"))
        and (address.isascii() or _is_a_name(address))
    )


def _is_a_name(address: str) -> bool:
    """Whether a file can have that name: a lone surrogate, which JSON can hold, stands in none of ours."""
    return not any("\ud800" <= letter <= "\udfff" for letter in address)


def write_manifest(folder: Path, staging: Path, files: Mapping[str, Fingerprint]) -> None:
    """Write the manifest of a folder in one step, by way of `staging`: a reader sees the old one or the new one."""
    # Another name than its own: in a folder that appears by one rename, both lie in the same place.
    new = staging / _NEW
    new.write_text(json.dumps({"files": files, "format": FORMAT}, sort_keys=True) + "\n", "utf-8")
    new.replace(folder / MANIFEST)
