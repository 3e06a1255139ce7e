"""A file copied into a folder of the journal under a name that is free: whole or not at all.

In: a file elsewhere, the digest of its content, a folder. Out: the new file. Nothing is overwritten, and the file that is
copied is only read.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

_CHUNK = 1 << 20
_LEFT_OVER = re.compile(r"\..{1,40}\.[a-z0-9_]{8}\.new")


class CopyDiffersError(Exception):
    """What was written does not have the digest that was wanted: the file changed meanwhile, or a disk fails."""


def digest_of_file(path: Path) -> str:
    """The digest of a file's content."""
    found = sha256()
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            found.update(chunk)
    return found.hexdigest()


def copy_new(source: Path, folder: Path, names: Iterable[str], digest: str) -> Path:
    """Copy a file under the first of some names that no file has yet.

    Raises
    ------
    OSError
        Where the file cannot be read, or the folder not written to: nothing is left there.
    CopyDiffersError
        Where the copy does not have the digest.

    """
    handle, name = tempfile.mkstemp(dir=folder, prefix=f".{source.name[:40]}.", suffix=".new")
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as new, source.open("rb") as old:
            while chunk := old.read(_CHUNK):
                new.write(chunk)
            new.flush()
            os.fsync(new.fileno())
        if digest_of_file(beside) != digest:
            raise CopyDiffersError(source.name)
        _dress(beside, source)
        return _named(beside, folder, names)
    finally:
        with suppress(OSError):
            beside.unlink()


def _dress(path: Path, source: Path) -> None:
    """The times of the file that was copied, and the permissions of any new file."""
    found = source.stat()
    os.utime(path, ns=(found.st_atime_ns, found.st_mtime_ns))
    mask = os.umask(0)
    os.umask(mask)
    path.chmod(0o666 & ~mask)


def _named(beside: Path, folder: Path, names: Iterable[str]) -> Path:
    """Give the file its name; a name that another program has taken meanwhile is passed over."""
    for name in names:
        path = folder / name
        try:
            os.link(beside, path)
        except FileExistsError:
            continue
        except OSError:  # the disk knows no second name of a file
            if path.exists():
                continue
            beside.rename(path)
        return path
    raise FileExistsError(str(folder))


def sweep(folder: Path) -> None:
    """Remove what a killed process left of its copies."""
    with suppress(OSError):
        for each in os.scandir(folder):
            if _LEFT_OVER.fullmatch(each.name):
                Path(each.path).unlink()
