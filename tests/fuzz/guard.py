"""One input read under guard: what it costs, and whether all that must hold does.

In: a prepared target, an input. Out: `Cost`, or the exception that is a fault: one that the target raised, more than
2 s of processor time, more than 500 MB, another result the second time, a printed warning of a library, a file outside of the given folders, a process
or a connection.
"""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import gc
import logging
import os
import resource
import signal
import sys
import time
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType
from typing import Any

from tests.fuzz.target import FaultError, Run

SLOWEST = 2.0  # seconds of processor time
STOPPED = 10.0  # seconds after which an input is given up
LARGEST = 500_000_000  # bytes that the process may grow by
AGAIN = 16  # every 16th input is read twice
_ROOT = Path(__file__).parents[2]
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
# Events of the interpreter, and the places of paths among their arguments.
_CHANGES = {
    "os.mkdir": (0,),
    "os.remove": (0,),
    "os.rmdir": (0,),
    "os.rename": (0, 1),
    "os.link": (0, 1),
    "os.symlink": (1,),
    "os.truncate": (0,),
    "os.chmod": (0,),
    "os.utime": (0,),
    "shutil.rmtree": (0,),
    "sqlite3.connect": (0,),
}
_NEVER = (
    "subprocess.Popen",
    "os.system",
    "os.exec",
    "os.posix_spawn",
    "os.fork",
    "socket.connect",
    "socket.bind",
    "pty.spawn",
)
# What the interpreter and libraries read for themselves.
_OWN = (
    sys.prefix,
    sys.base_prefix,
    str(_ROOT),
    str(_ROOT / ".venv"),
    "/usr/share",
    "/usr/lib",
    "/etc",
    "/proc/self",
    "/dev",
)
_OWN_FOLDERS = tuple({os.path.realpath(place) for place in _OWN} | set(_OWN))


def _is_own(place: str) -> bool:
    return place.startswith(_OWN_FOLDERS) or place in sys.path


class TooLongError(BaseException):
    """An input that was given up; no handler for exceptions of a reader catches it."""


class _Watch:
    """What the files of one input are held against; one hook serves the process, since none can be removed."""

    def __init__(self) -> None:
        self.folder = ""
        self.seen: list[str] = []
        self.hooked = False

    def hook(self) -> None:
        if not self.hooked:
            self.hooked = True
            sys.addaudithook(self.audit)

    def audit(self, event: str, arguments: tuple[Any, ...]) -> None:
        if not self.folder:
            return
        if event == "open":
            path, mode, flags = arguments
            writes = any(sign in mode for sign in "wax+") if isinstance(mode, str) else bool(flags & _WRITING)
            self.look(path, "written" if writes else "read", writes=writes)
        elif event in _CHANGES:
            for number, place in enumerate(_CHANGES[event]):
                self.look(_in_folder(arguments, place, number), event, writes=True)
        elif event in ("os.listdir", "os.scandir"):
            self.look(arguments[0], event, writes=False)
        elif event in _NEVER:
            self.seen.append(f"{event} of {arguments[0]!r}")

    def look(self, path: object, what: str, *, writes: bool) -> None:
        """Note a path that is none of ours."""
        if isinstance(path, int) or path is None or path == ":memory:":
            return
        place = (
            os.path.abspath(os.fsdecode(path))  # noqa: PTH100 - links are not followed
            if isinstance(path, (str, bytes, os.PathLike))
            else str(path)
        )
        if place.startswith("/proc/self/fd/"):
            place = os.path.realpath(os.path.dirname(place))  # noqa: PTH120
        if (place + "/").startswith(self.folder + "/"):
            return
        if writes and "/__pycache__/" in place:  # the interpreter's own
            return
        if not writes and _is_own(place):
            return
        self.seen.append(f"{what}: {place}")


def _in_folder(arguments: tuple[Any, ...], place: int, number: int) -> Any:
    """A path of an event, which may be relative to an open folder: those are given as numbers behind the paths."""
    path = arguments[place]
    folders = [each for each in arguments[1:] if isinstance(each, int) and each >= 0]
    if (
        arguments[-1] == -1
        or not folders
        or not isinstance(path, (str, bytes))
        or os.fsencode(path)[:1] == b"/"
    ):
        return path
    opened = folders[min(number, len(folders) - 1)] if len(arguments) > 3 else folders[-1]
    return os.path.join(os.fsencode(f"/proc/self/fd/{opened}"), os.fsencode(path))  # noqa: PTH118


_WATCH = _Watch()


@dataclass(slots=True)
class Cost:
    """The seconds of processor time that an input took, and the bytes that the process grew by at most."""

    seconds: float
    grown: int
    result: object = field(repr=False, default=None)


class _Noted(logging.Handler):
    """Notes what a library logs and nobody takes: it would be printed."""

    def __init__(self, seen: list[str]) -> None:
        super().__init__(logging.WARNING)
        self.seen = seen

    def emit(self, record: logging.LogRecord) -> None:
        """Note it."""
        self.seen.append(f"printed by {record.name}: {record.getMessage()}")


_LAST_RESORT = logging.lastResort


def _stop(_signal: int, _frame: FrameType | None) -> None:
    raise TooLongError


def guarded(
    run: Run,
    data: bytes,
    folder: Path,
    *,
    again: bool = False,
    slowest: float = SLOWEST,
    largest: int = LARGEST,
) -> Cost:
    """Read an input; every fault raises."""
    before = _peak()
    with _watched(folder) as seen:
        begin = time.process_time()
        result = run(data)
        seconds = time.process_time() - begin
    grown = _peak() - before
    if seen:
        raise FaultError(f"outside of its folder: {'; '.join(sorted(set(seen))[:3])}")
    if seconds > slowest:
        raise FaultError(f"it took more than {slowest:g} s: {seconds:.1f} s")
    if grown > largest:
        raise FaultError(f"it took more than {largest // 1_000_000} MB: {grown // 1_000_000} MB")
    if again and run(data) != result:
        raise FaultError("the same input gave another result")
    return Cost(seconds, grown, result)


@contextmanager
def _watched(folder: Path) -> Iterator[Sequence[str]]:
    _WATCH.hook()
    _WATCH.seen = []
    told: list[warnings.WarningMessage] = []
    _WATCH.folder = str(folder.resolve())
    before = signal.signal(signal.SIGVTALRM, _stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, STOPPED)
    try:
        with warnings.catch_warnings(record=True) as told:
            warnings.simplefilter("always")
            logging.lastResort = _Noted(seen := _WATCH.seen)
            yield seen
    except TooLongError as error:
        raise FaultError(f"it was given up after {STOPPED:g} s") from error
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)
        _WATCH.folder = ""
        logging.lastResort = _LAST_RESORT
    if told:
        raise FaultError(f"a warning of a library is printed: {told[0].message}")


def _peak() -> int:
    """The most memory that the process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def peak() -> int:
    """The same, for a report."""
    return _peak()


def bounded_memory(limit: int = 4_000_000_000) -> None:
    """Make what would need far more than a target may take an error instead of the end of the machine."""
    soft = limit + int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    resource.setrlimit(resource.RLIMIT_AS, (soft, resource.getrlimit(resource.RLIMIT_AS)[1]))
    gc.collect()
