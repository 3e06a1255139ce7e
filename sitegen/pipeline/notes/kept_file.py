"""A file that its author may go on writing in: written anew only while it is as it was written.

In: a path, its new content. Out: what was done, or the difference that was kept back. The digest of what was written
lies in the store; a file that differs from it, or that the store does not know, is left as it is.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Literal

from sitegen.core.store import Store
from sitegen.filing.safe_file import replace_file

Outcome = Literal["written", "same", "kept"]


@dataclass(frozen=True, slots=True)
class KeptFile:
    """What became of a file; `difference` is a unified diff from it to what was not written."""

    outcome: Outcome
    difference: str = ""


def write_kept(path: Path, content: bytes, store: Store) -> KeptFile:
    """Write a file, unless the one there was changed by somebody else, or is not known.

    Raises
    ------
    OSError
        Where the file can be neither read nor written.

    """
    path = path.resolve()  # a link stays one: the file that it leads to is written
    key = store.key("files", "notes", str(path))
    if path.exists():
        there = path.read_bytes()
        if there == content:
            store.put(key, {"digest": _digest(content)})
            return KeptFile("same")
        known = store.get(key)
        if known is None or known.value.get("digest") != _digest(there):
            return KeptFile("kept", _difference(path, there, content))
    replace_file(path, content)
    # After the file: killed in between, the next run does not know the file, and keeps it.
    store.put(key, {"digest": _digest(content)})
    return KeptFile("written")


def _digest(content: bytes) -> str:
    return sha256(content).hexdigest()


def _difference(path: Path, there: bytes, content: bytes) -> str:
    """What would change, line by line; nothing of a picture."""
    if b"\0" in there or b"\0" in content:
        return ""
    before, after = (each.decode("utf-8", "replace").splitlines(keepends=True) for each in (there, content))
    lines = difflib.unified_diff(before, after, f"{path} (yours)", f"{path} (new)")
    return "".join(line if line.endswith("\n") else f"{line}\n" for line in lines)
