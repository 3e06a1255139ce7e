"""A file that its author may go on writing in: written anew only while it is as it was written.

In: a path, its new content. Out: what was done, or the difference that was kept back. The digest of what was written
lies in the store; a file that differs from it, or that the store does not know, is left as it is.
"""

from __future__ import annotations

import difflib
import os
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Literal

from sitegen.core.store import Store

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
    _replace(path, content)
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


def _replace(path: Path, content: bytes) -> None:
    """Write beside the file and rename: a full disk leaves the old one whole."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".new")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        # As other files are made: a temporary one is readable by its owner alone.
        mask = os.umask(0)
        os.umask(mask)
        Path(name).chmod(0o666 & ~mask)
        Path(name).replace(path)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise
