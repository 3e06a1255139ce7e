"""A file that a process holds while it writes it: what nobody holds was left by a process that was killed.

In: an open file. Out: whether it is held now. It is free again as soon as it is closed, however its process ends.
"""

from __future__ import annotations

from typing import IO


def hold(file: IO[bytes]) -> bool:
    """Hold an open file; False where another process does, or where that cannot be known."""
    try:
        import fcntl  # noqa: PLC0415 - where there is none, no file that is open can be removed
    except ImportError:
        return True
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
