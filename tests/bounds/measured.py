"""Runs one input in a process of its own, bounded in time and memory.

In: the name of an input. Out: `Measured`: processor time, the most memory held, what was said first.
"""

from __future__ import annotations

import contextlib
import io
import multiprocessing
import resource
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from multiprocessing.connection import Connection
from pathlib import Path

from tests.bounds.inputs import INPUTS, SOUND

__all__ = ["Measured", "measured"]

TODAY = date(2025, 6, 1)
LONGEST = 20  # seconds of processor time, after which the process is ended
_MOST = 6_000_000_000


@dataclass(frozen=True, slots=True)
class Measured:
    """Seconds of processor time, megabytes beyond those of an empty run, the exit and what was said first."""

    seconds: float
    megabytes: float
    said: str


def written(name: str, root: Path) -> Path:
    """The journal of an input in a folder."""
    for path, content in {**SOUND, **INPUTS[name]()}.items():
        target = root / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content.encode() if isinstance(content, str) else content)
    return root


def measured(name: str, command: str = "validate") -> Measured:
    """What a command makes of an input, in a forked process."""
    with tempfile.TemporaryDirectory() as folder:
        root = written(name, Path(folder) / "journal")
        ours, theirs = multiprocessing.Pipe(duplex=False)
        process = multiprocessing.get_context("fork").Process(target=_run, args=(root, command, theirs))
        process.start()
        theirs.close()
        try:
            seconds, megabytes, said = ours.recv()
        except EOFError:
            process.join()
            return Measured(LONGEST, 0, f"ended by signal {-(process.exitcode or 0)}")
        process.join()
    return Measured(seconds, megabytes, said)


def _run(root: Path, command: str, answer: Connection) -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST + 1))
    resource.setrlimit(resource.RLIMIT_AS, (_MOST, _MOST))
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    begin = time.process_time()
    said = _said(lambda: _command(root, command))
    taken = time.process_time() - begin
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    answer.send((taken, (most - before) / 1000, said))
    answer.close()


def _said(run: Callable[[], str]) -> str:
    with contextlib.redirect_stderr(io.StringIO()):
        try:
            return run()
        except BaseException as error:
            last = traceback.extract_tb(error.__traceback__)[-1]
            place = f"{last.filename.rpartition('sitegen/')[2]}:{last.lineno}"
            return f"!! {type(error).__name__}: {str(error)[:60]} ({place})"


def _command(root: Path, command: str) -> str:
    from sitegen.app.console.report import findings_text
    from sitegen.pipeline import publish, validate

    if command == "validate":
        found = validate(root, TODAY).findings
    else:
        found = publish(root, TODAY, jobs=1, keep_going=True).findings
    findings_text(found, root)
    errors = [finding for finding in found if finding.is_error] or list(found)
    return f"{len(found)}: {errors[0].code}: {errors[0].message[:70]}" if errors else "sound"
