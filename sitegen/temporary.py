"""Temporary folders that do not outlast their process, though it was killed.

In: nothing. Out: a folder, for as long as a block lasts. All lie in one folder that nobody else can open, each beside a
lock file; whoever needs one removes those whose lock is free.
"""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from filelock import BaseFileLock


@contextmanager
def temporary_home() -> Iterator[Path]:
    """The folder in which all others lie, for lock files too; it goes when nobody needs it any more.

    Raises
    ------
    PermissionError
        Where that folder is another user's: files of ours could be planted in it.

    """
    home = _home()
    lock = _mark(home)
    try:
        yield home
    finally:
        _remove(home, lock)
        _tidy(home)


@contextmanager
def temporary_folder() -> Iterator[Path]:
    """A new folder; an ordinary temporary one where the place of ours is somebody else's."""
    try:
        home = _home()
        lock = _mark(home)
    except OSError:
        with tempfile.TemporaryDirectory(prefix="sitegen-") as other:
            yield Path(other)
        return
    try:
        folder = Path(lock.lock_file).with_suffix("")
        folder.mkdir()
        yield folder
    finally:
        _remove(home, lock)
        _tidy(home)


def _home() -> Path:
    user = os.getuid() if hasattr(os, "getuid") else 0
    return Path(tempfile.gettempdir()) / f"sitegen-{user}"


def _mark(home: Path) -> BaseFileLock:
    """A new lock in the folder, held: as long as it is, nobody removes the folder."""
    from filelock import FileLock  # noqa: PLC0415 - few commands need one

    while True:
        home.mkdir(mode=0o700, exist_ok=True)
        _check_owner(home)
        lock = FileLock(home / f"{os.urandom(8).hex()}.lock")
        # Another process may have removed the folder since, as its last one.
        with suppress(FileNotFoundError):
            lock.acquire()
            return lock


def _check_owner(home: Path) -> None:
    found = home.lstat()
    other = hasattr(os, "getuid") and (found.st_uid != os.getuid() or found.st_mode & 0o077)
    if home.is_symlink() or other:
        raise PermissionError(errno.EACCES, "the folder of lock files is somebody else's", str(home))


def _remove(home: Path, lock: BaseFileLock) -> None:
    """Remove the folder of a lock that is held, and its file: who waits for that sees that it is gone."""
    path = Path(lock.lock_file)
    shutil.rmtree(home / path.stem, ignore_errors=True)
    with suppress(OSError):  # Windows removes no open file, but on release
        path.unlink()
    lock.release()


def _tidy(home: Path) -> None:
    """Remove what killed processes left, and the folder where nobody uses it."""
    from filelock import FileLock, Timeout  # noqa: PLC0415 - as above

    with suppress(OSError):
        for path in home.glob("*.lock"):
            lock = FileLock(path)
            with suppress(Timeout):
                lock.acquire(timeout=0)
                _remove(home, lock)
        home.rmdir()
