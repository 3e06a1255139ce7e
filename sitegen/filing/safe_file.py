"""A file of the author's replaced as a whole: after a kill at any moment, the old or the new content is there.

In: a path, its new content. Out: the file. Used wherever a file is written that cannot be made again.
"""

from __future__ import annotations

import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

from sitegen.core.files.held_file import hold


def replace_file(path: Path, content: bytes) -> None:
    """Write beside the file, and rename; a link stays one, and the file's permissions stay as they are.

    Raises
    ------
    OSError
        Where the folder cannot be written to, or the disk is full: the file is as it was.

    """
    path = path.resolve()
    remove_unfinished(path)
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".new")
    except OSError as error:
        error.filename = str(path)  # the author knows this one, not the file beside it
        raise
    try:
        with os.fdopen(handle, "wb") as file:
            hold(file)
            file.write(content)
            file.flush()
            # Before the rename: a power cut must not leave the new name with nothing in it.
            os.fsync(file.fileno())
        Path(name).chmod(_mode(path))
        Path(name).replace(path)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise
    _sync_folder(path.parent)


def remove_unfinished(path: Path) -> None:
    """Remove new contents of a file that never came to its place: those of processes that were killed."""
    path = path.resolve()
    name = re.compile(rf"\.{re.escape(path.name[:40])}\.[a-z0-9_]{{8}}\.new")
    with suppress(OSError):
        for other in [each for each in path.parent.iterdir() if name.fullmatch(each.name)]:
            with suppress(OSError), other.open("rb") as file:
                if hold(file):
                    other.unlink()


def replace_unchanged(path: Path, before: bytes, after: bytes) -> bool:
    """Replace a file that still holds what was read; one that changed is left to whoever changed it."""
    if path.read_bytes() != before:
        return False
    replace_file(path, after)
    return True


def _mode(path: Path) -> int:
    """The permissions of the file that is replaced; those of any new file where there is none."""
    with suppress(FileNotFoundError):
        return path.stat().st_mode & 0o7777
    # A temporary file is readable by its owner alone, other files by whom the mask says.
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    """Make the rename itself lasting, where the system can: Windows opens no folders."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
