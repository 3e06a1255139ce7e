"""Work in a process of its own, which is killed before one of its file operations.

In: work, the number of an operation. Out: whether the process got so far. Operations are the changes of a disk that the
interpreter reports to its audit hooks (files opened for writing, renamed, linked, removed, ...), syncing, statements of
SQLite, and the middle of a file that is written. What only reads is passed over: a kill there leaves the same disk.
"""

from __future__ import annotations

import io
import os
import signal
import sqlite3
import sys
import time
import traceback
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

from hypothesis import settings

NAMED = {"os.rename", "os.remove", "os.link", "os.symlink", "os.chmod", "os.utime", "os.mkdir", "os.rmdir"}
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
# Of operations that one test takes in turn, every so many; all of them in a long run on demand.
EVERY = 1 if settings().max_examples > 100 else 9
PATIENCE = 10.0  # seconds that processes may take to be gone
FAILED = 70  # an internal error, by sysexits.h

Step = Callable[[], None]


def killed_before(operation: int, folder: str, work: Callable[[], object], *, group: bool = False) -> bool:
    """Whether the work was killed before an operation on the files below a folder (from 0); False where it ended.

    With `group`, all processes that it has begun are killed with it; none of them may be left.
    """
    pid = os.fork()
    if pid == 0:
        _work(operation, folder, work, group=group)
    _, status = os.waitpid(pid, 0)
    code = os.waitstatus_to_exitcode(status)
    assert code in (0, -signal.SIGKILL), f"the work failed with {code}"
    if group:
        end = time.monotonic() + PATIENCE
        while left := members(pid):
            assert time.monotonic() < end, f"processes that were left: {left}"
            time.sleep(0.01)
    return code != 0


def members(group: int) -> list[int]:
    """The processes of a group that have not ended."""
    found = []
    for place in Path("/proc").glob("[0-9]*"):
        try:
            state, _, of = place.joinpath("stat").read_text("utf-8").rpartition(")")[2].split()[:3]
        except OSError:  # it has ended meanwhile
            continue
        if int(of) == group and state not in "ZX":
            found.append(int(place.name))
    return found


def _work(operation: int, folder: str, work: Callable[[], object], *, group: bool) -> None:
    numbers = count()
    if group:
        os.setsid()

    def step() -> None:
        if next(numbers) == operation:
            kill(os.getpid(), signal.SIGKILL)

    kill = os.killpg if group else os.kill
    try:
        _watch(folder, step)
        work()
    except BaseException:
        traceback.print_exc()
        os._exit(FAILED)
    os._exit(0)


def _watch(folder: str, step: Step) -> None:
    """Call `step` before each operation, for the rest of this process."""

    def heard(event: str, arguments: tuple[Any, ...]) -> None:
        if _changes(event, arguments, folder):
            step()

    sync = os.fsync

    def synced(fd: Any) -> None:
        step()
        sync(fd)

    os.fsync = synced
    _write_in_halves(folder, step)
    _count_statements(folder, step)
    sys.addaudithook(heard)


def _changes(event: str, arguments: tuple[Any, ...], folder: str) -> bool:
    """Whether an event is a change of something below a folder."""
    if event == "open":
        path, mode, flags = arguments
        writes = bool(flags & WRITING) if mode is None else any(letter in mode for letter in "wax+")
        return writes and str(path).startswith(folder)
    if event not in NAMED:
        return False
    # Removing a whole folder names its files by an open folder: those are ours too.
    name = arguments[0]
    return isinstance(name, int) or os.sep not in str(name) or str(name).startswith(folder)


def _write_in_halves(folder: str, step: Step) -> None:
    """Let every file be written in two halves, with an operation between them."""

    class Halves(io.BufferedWriter):
        def write(self, body: Any) -> int:
            half = len(body) // 2
            super().write(body[:half])
            self.flush()
            step()
            return half + super().write(body[half:])

    fdopen = os.fdopen

    def opened(handle: int, mode: str = "r", *arguments: Any, **options: Any) -> Any:
        return Halves(io.FileIO(handle, "w")) if mode == "wb" else fdopen(handle, mode, *arguments, **options)

    def write_bytes(path: Path, body: Any) -> int:
        if not str(path).startswith(folder):
            return path.open("wb").write(body)
        with Halves(io.FileIO(path, "w")) as file:
            return file.write(bytes(body))

    def write_text(path: Path, text: str, encoding: str | None = None, *_: object, **__: object) -> int:
        write_bytes(path, text.encode(encoding or "utf-8"))
        return len(text)

    os.fdopen = opened  # type: ignore[assignment]
    Path.write_bytes = write_bytes  # type: ignore[assignment, method-assign]
    Path.write_text = write_text  # type: ignore[assignment, method-assign]


def _count_statements(folder: str, step: Step) -> None:
    """Let every statement that may change a database be an operation, and the moment after it."""
    connect = sqlite3.connect

    class Counting(sqlite3.Connection):
        def execute(self, statement: str, *arguments: Any) -> sqlite3.Cursor:
            if statement.startswith("SELECT"):
                return super().execute(statement, *arguments)
            step()
            done = super().execute(statement, *arguments)
            step()
            return done

    def connected(database: Any, *arguments: Any, **options: Any) -> sqlite3.Connection:
        if str(database).startswith(folder):
            options["factory"] = Counting
        link: sqlite3.Connection = connect(database, *arguments, **options)
        return link

    sqlite3.connect = connected  # type: ignore[assignment]
