"""One command at a time changes the files of a journal.

In: a folder of lock files, the journal's folder. Out: a lock, held until its block ends.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

from filelock import FileLock, Timeout

WAIT = 10.0  # seconds; a command that changes a journal takes less than one


class BusyError(OSError):
    """Another command has held the lock for too long: told as what a system refuses."""

    def __init__(self, root: Path) -> None:
        super().__init__(errno.EAGAIN, "another command is changing it", str(root))


@contextmanager
def journal_lock(locks: Path, root: Path, wait: float = WAIT) -> Iterator[None]:
    """Hold the lock of a journal.

    The lock file lies in a folder of the user's own: the shared temporary one is open to others, and a journal may lie on
    a disk that knows no locks.

    Raises
    ------
    BusyError
        Where another command holds it for longer than `wait` [s].

    """
    lock = FileLock(locks / f"{sha256(os.fsencode(root.resolve())).hexdigest()[:24]}.lock")
    try:
        lock.acquire(timeout=wait)
    except Timeout as error:
        raise BusyError(root) from error
    try:
        yield
    finally:
        lock.release()
