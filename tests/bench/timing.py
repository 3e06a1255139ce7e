"""Runs a command in processes of its own and measures it.

In: `Command`. Out: wall or processor time [s], or the most memory that all its processes held at once [MB]. A command
that fails is never measured: it raises, with the last of what it said.
"""

from __future__ import annotations

import contextlib
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

__all__ = ["Command", "memory", "processor", "seconds"]

ROOT = Path(__file__).parents[2]
PAGE_MB = os.sysconf("SC_PAGE_SIZE") / 1e6
SAMPLE = 0.02  # seconds; a peak shorter than this may be missed


def _nothing() -> None:
    pass


@dataclass(frozen=True, slots=True)
class Command:
    """Arguments of the same Python, what to do before each run, on how many cores, and what a run is divided by."""

    arguments: tuple[str, ...]
    environment: Mapping[str, str] = field(default_factory=dict)
    before: Callable[[], None] = _nothing
    cores: int = 2
    per: int = 1


def seconds(command: Command) -> float:
    """Wall time from start to end [s]."""
    command.before()
    begin = time.perf_counter()
    with _running(command) as process:
        process.wait()
        taken = time.perf_counter() - begin
    return taken / command.per


def processor(command: Command) -> float:
    """Processor time of all processes [s]: steadier than wall time on a machine that others use."""
    command.before()
    begin = resource.getrusage(resource.RUSAGE_CHILDREN)
    with _running(command) as process:
        process.wait()
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (end.ru_utime - begin.ru_utime + end.ru_stime - begin.ru_stime) / command.per


def memory(command: Command) -> float:
    """The most resident memory of all processes together [MB]; pages that they share count for each."""
    command.before()
    most = 0.0
    with _running(command) as process:
        while process.poll() is None:
            most = max(most, sum(map(_resident, _family(process.pid))))
            time.sleep(SAMPLE)
    return most / command.per


@contextlib.contextmanager
def _running(command: Command) -> Iterator[subprocess.Popen[bytes]]:
    with tempfile.TemporaryFile() as said, _on_cores(command.cores):
        process = subprocess.Popen(
            [sys.executable, *command.arguments],
            cwd=ROOT,
            env=os.environ | command.environment,
            stdout=said,
            stderr=said,
        )
        try:
            yield process
        finally:
            process.kill()
        if process.wait():
            said.seek(0)
            raise RuntimeError(
                f"{command.arguments} gave {process.returncode}:\n{said.read()[-2000:].decode()}"
            )


@contextlib.contextmanager
def _on_cores(number: int) -> Iterator[None]:
    """Processes started now inherit where they may run."""
    allowed = os.sched_getaffinity(0)
    os.sched_setaffinity(0, sorted(allowed)[:number])
    try:
        yield
    finally:
        os.sched_setaffinity(0, allowed)


def _family(process: int) -> Iterator[int]:
    """A process and all below it, as far as they still run."""
    yield process
    with contextlib.suppress(OSError):
        for children in Path(f"/proc/{process}/task").glob("*/children"):
            for child in children.read_text().split():
                yield from _family(int(child))


def _resident(process: int) -> float:
    with contextlib.suppress(OSError):
        return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * PAGE_MB
    return 0.0
