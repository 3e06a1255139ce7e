"""The ledger of an output folder: which files are ours, and what is in each.

In: a folder. Out: `Ledger`, or None for a folder of another origin. It lies in the folder itself and holds nothing of the
machine that wrote it. Whether a file was touched since is told by the ledger's own age: it is always written last.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

LEDGER = ".sitegen.json"
STAGING = ".sitegen.staging"  # there while new files lie beside their places
FORMAT = 2

Content = tuple[str, int]  # digest and size; an empty digest where a file may be either of two
UNKNOWN: Content = ("", -1)
_CLIMBS = re.compile(r"(^|/)\.\.(/|$)|\\|^[A-Za-z]:")


@dataclass(frozen=True, slots=True)
class Ledger:
    """The files that were written, by address; `written` is when [ns], and 0 where it never was."""

    files: Mapping[str, Content] = field(default_factory=dict)
    written: int = 0


def is_foreign(folder: Path) -> bool:
    """Whether a folder holds files and no ledger."""
    if not folder.is_dir():
        return folder.exists()
    others = (each for each in folder.iterdir() if each.name != STAGING)
    return not (folder / LEDGER).is_file() and any(others)


def read_ledger(folder: Path) -> Ledger | None:
    """The ledger of a folder; an empty one where there are no files yet, None where they are not ours."""
    path = folder / LEDGER
    if is_foreign(folder):
        return None
    if not path.is_file():
        return Ledger()
    try:
        kept = json.loads(path.read_text("utf-8"))
        found = path.stat()
        return Ledger(dict(_entries(kept["files"])), max(found.st_mtime_ns, found.st_ctime_ns))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _entries(files: object) -> Iterable[tuple[str, Content]]:
    """The entries that may be believed: no address leads out of the folder."""
    given = files.items() if isinstance(files, dict) else [(name, None) for name in _list(files)]
    contents: Iterable[tuple[Any, Content]] = ((name, _content(said)) for name, said in given)
    if isinstance(files, dict) and _all_inside(files):
        return contents
    return ((name, content) for name, content in contents if isinstance(name, str) and _inside(name))


def _list(files: object) -> list[object]:
    """The files of a ledger that only names them."""
    if not isinstance(files, list):
        raise TypeError("neither a list nor a table of files")
    return files


def _content(said: object) -> Content:
    if isinstance(said, list) and len(said) == 2 and isinstance(said[0], str) and isinstance(said[1], int):
        return said[0], said[1]
    return UNKNOWN


def _all_inside(addresses: Iterable[str]) -> bool:
    """Whether every address stays in the folder: told at once, since there are thousands."""
    together = "\n".join(("", *addresses, ""))
    return not any(sign in together for sign in ("..", "\\", ":", "\n/", "\n\n"))


def _inside(address: str) -> bool:
    """Whether an address stays in the folder, also where a backslash or a drive begins another."""
    return bool(address) and not address.startswith("/") and not _CLIMBS.search(address)


def write_ledger(folder: Path, files: Mapping[str, Content]) -> None:
    """Note what is in a folder; never half a ledger."""
    fresh = folder / f"{LEDGER}.new"
    fresh.write_text(json.dumps({"files": files, "format": FORMAT}, sort_keys=True) + "\n", "utf-8")
    fresh.replace(folder / LEDGER)
