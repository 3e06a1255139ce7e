"""Runs pytest in forked processes, in which the libraries are imported already and the package is not.

In: a unit of the package and its tests, an order of tests, a changed module. Out: an exit status for each process. A
process is the leader of a group, so that what a test started ends with it; a test that takes ten times as long as it
did without a change ends its process by an alarm.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import TypeVar

import pytest

_Task = TypeVar("_Task")
SLOWER = 10.0  # times a test's own time, before it counts as hanging
SHIM = Path(__file__).parent / "shim"


@dataclass(frozen=True)
class Ended:
    """How a process ended: its exit status (negative: the signal), what it said, and after how long [s]."""

    status: int
    said: str
    seconds: float

    @property
    def late(self) -> bool:
        """Whether an alarm ended it."""
        return self.status == -signal.SIGALRM


@pytest.fixture(autouse=True)
def _cache_of_a_test(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one test left in the cache folder must not change another, since the order is not the usual one."""
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path_factory.mktemp("cache")))


@dataclass
class Tests:
    """A run of pytest: some tests in a given order, or all of some files, stopping at the first that fails."""

    root: Path
    files: Sequence[str]
    order: Sequence[str] = ()
    times: Mapping[str, float] = field(default_factory=dict)
    grace: float = 10.0  # seconds more than a test's time
    plugins: Sequence[object] = ()

    def run(self, scratch: Path) -> int:
        """The exit status of pytest; only to be called in a process of its own."""
        files = sorted({name.partition("::")[0] for name in self.order}) or self.files
        self._ring_after(sum(self.times.values()))
        scratch.mkdir()
        os.environ["TMPDIR"] = tempfile.tempdir = str(scratch)
        arguments = ["-x", "-q", "-o", "addopts=", "--strict-markers", "-p", "no:cacheprovider"]
        arguments += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]  # plugins are imported already
        arguments += ["--tb=line", "--no-header", f"--rootdir={self.root}", f"--basetemp={scratch / 'base'}"]
        return int(pytest.main([*arguments, *files], plugins=[self, sys.modules[__name__], *self.plugins]))

    def pytest_collection(self) -> None:
        """Examples are the same as ever, but a failing one is not made smaller."""
        from hypothesis import Phase, settings  # once the project has set its profile

        settings.register_profile(
            "mutation", settings.default, phases=(Phase.explicit, Phase.generate), database=None
        )
        settings.load_profile("mutation")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep the tests that are named, in that order; all where none is."""
        if self.order:
            place = {name: number for number, name in enumerate(self.order)}
            items[:] = sorted((i for i in items if i.nodeid in place), key=lambda item: place[item.nodeid])

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        """Set the alarm for each test."""
        self._ring_after(self.times.get(item.nodeid, self.grace))
        return (yield)

    def _ring_after(self, seconds: float) -> None:
        if self.times:
            signal.setitimer(signal.ITIMER_REAL, SLOWER * seconds + self.grace)


def in_processes(
    tasks: Iterable[_Task],
    work: Callable[[_Task, Path], int],
    root: Path,
    mutant: Callable[[_Task], Mapping[str, str] | None],
    jobs: int,
) -> Iterator[tuple[_Task, Ended]]:
    """How each task ended, as they end; `work` is called in a process of its own, with the path of a new folder."""
    running: dict[int, tuple[_Task, float, Path]] = {}
    with tempfile.TemporaryDirectory(prefix="mutation-") as folder:
        try:
            for number, task in enumerate(tasks):
                if len(running) >= jobs:
                    yield _next_ended(running)
                place = Path(folder) / str(number)
                pid = _forked(work, task, place, root, mutant(task))
                running[pid] = (task, time.monotonic(), place)
            while running:
                yield _next_ended(running)
        finally:
            for pid in running:
                _end_group(pid)


def _next_ended(running: dict[int, tuple[_Task, float, Path]]) -> tuple[_Task, Ended]:
    pid, status = os.wait()
    _end_group(pid)
    task, begun, place = running.pop(pid)
    said = place.with_suffix(".log").read_text("utf-8", "replace")
    shutil.rmtree(place, ignore_errors=True)
    return task, Ended(os.waitstatus_to_exitcode(status), said, time.monotonic() - begun)


def _end_group(pid: int) -> None:
    with suppress(ProcessLookupError):
        os.killpg(pid, signal.SIGKILL)


def _forked(
    work: Callable[[_Task, Path], int], task: _Task, place: Path, root: Path, mutant: Mapping[str, str] | None
) -> int:
    sys.stdout.flush()
    sys.stderr.flush()
    if pid := os.fork():
        return pid
    status = 70  # an internal error, by sysexits.h
    try:
        os.setsid()
        log = os.open(place.with_suffix(".log"), os.O_WRONLY | os.O_CREAT)
        os.dup2(log, 1)
        os.dup2(log, 2)
        _settle(root, place, mutant)
        status = work(task, place)
    except BaseException:
        traceback.print_exc()
    finally:
        with suppress(Exception):
            sys.stdout.flush()
            sys.stderr.flush()
        os._exit(status)


def _settle(root: Path, place: Path, mutant: Mapping[str, str] | None) -> None:
    """Make the checkout's package the one that is imported, here and in processes that tests start."""
    os.chdir(root)
    sys.path[:0] = [str(SHIM), str(root)]
    os.environ["PYTHONPATH"] = os.pathsep.join((str(SHIM), str(root)))
    sys.modules["__main__"] = ModuleType("__main__")  # processes that are spawned would import the real one
    if mutant is not None:
        path = place.with_suffix(".json")
        path.write_text(json.dumps(dict(mutant)), "utf-8")
        os.environ["MUTANT"] = str(path)
    sys.modules.pop("sitecustomize", None)
    import_module("sitecustomize")  # the one in the folder `shim`
