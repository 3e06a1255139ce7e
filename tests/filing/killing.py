"""Work in a process of its own, which is killed before one of its file operations.

In: work, the number of an operation. Out: whether the process got so far. Operations are what the interpreter reports
to its audit hooks (files opened, renamed, linked, removed, ...), and syncing.
"""

from __future__ import annotations

import os
import signal
import sys
import traceback
from collections.abc import Callable
from itertools import count
from typing import Any

from hypothesis import settings

OPERATIONS = {"open", "os.rename", "os.remove", "os.link", "os.chmod", "os.utime", "os.mkdir"}
# Of operations that one test takes in turn, every so many; all of them in a long run on demand.
EVERY = 1 if settings().max_examples > 100 else 9
FAILED = 70  # an internal error, by sysexits.h


def killed_before(operation: int, folder: str, work: Callable[[], object]) -> bool:
    """Whether the work was killed before an operation on the files below a folder (from 0); False where it ended."""
    pid = os.fork()
    if pid == 0:
        _work(operation, folder, work)
    _, status = os.waitpid(pid, 0)
    code = os.waitstatus_to_exitcode(status)
    assert code in (0, -signal.SIGKILL), f"the work failed with {code}"
    return code != 0


def _work(operation: int, folder: str, work: Callable[[], object]) -> None:
    numbers = count()

    def step() -> None:
        if next(numbers) == operation:
            os.kill(os.getpid(), signal.SIGKILL)

    def heard(event: str, arguments: tuple[object, ...]) -> None:
        if event in OPERATIONS and (isinstance(arguments[0], int) or str(arguments[0]).startswith(folder)):
            step()

    sync = os.fsync

    def synced(fd: Any) -> None:
        step()
        sync(fd)

    os.fsync = synced
    try:
        sys.addaudithook(heard)
        work()
    except BaseException:
        traceback.print_exc()
        os._exit(FAILED)
    os._exit(0)
