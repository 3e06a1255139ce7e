"""After a run: its faults run again without measuring and made smaller, and the lines that its inputs reach.

In: the name of a target, its modules, the folder of its run. Out: the report in that folder, completed.
"""

from __future__ import annotations

import contextlib
import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import coverage

from tests.fuzz.guard import bounded_memory, guarded
from tests.fuzz.guided import REPORT
from tests.fuzz.kept_faults import settled
from tests.fuzz.targets import target_named

PACKAGE = Path(__file__).parents[2] / "sitegen"


def settle(name: str, modules: Sequence[str], home: Path) -> None:
    """Complete a report."""
    report = json.loads((home / REPORT).read_text())
    report["lines"] = _lines(name, modules, home)
    target = target_named(name)
    bounded_memory()
    saved = []
    for path in sorted((home / "faults").glob("*")):
        if not path.suffix:
            with TemporaryDirectory() as work:
                saved.append(asdict(settled(path, target.prepare(Path(work)), Path(work))))
    report["saved"] = saved
    (home / REPORT).write_text(json.dumps(report, indent=1))


def _lines(name: str, modules: Sequence[str], home: Path) -> dict[str, Any]:
    """How many lines of the modules under test the kept inputs reach, of how many; and the seeds alone."""
    files = [str(path.resolve()) for path in sorted(_files(modules))]
    meter = coverage.Coverage(data_file=None, include=files, config_file=False, concurrency="thread")
    meter.start()
    target = target_named(name)
    with TemporaryDirectory() as work:
        run = target.prepare(Path(work))
        for path in sorted([*(home / "seeds").glob("*"), *(home / "corpus").glob("*")]):
            with contextlib.suppress(Exception):
                guarded(run, path.read_bytes(), Path(work))
    meter.stop()
    reached, lines = 0, 0
    for file in files:
        _, statements, _, missing, _ = meter.analysis2(file)
        reached, lines = reached + len(statements) - len(missing), lines + len(statements)
    return {"reached": reached, "of": lines, "kept": sum(1 for _ in (home / "corpus").glob("*"))}


def _files(modules: Sequence[str]) -> list[Path]:
    found: list[Path] = []
    for each in modules:
        place = PACKAGE / each
        found += [place] if place.is_file() else place.rglob("*.py")
    return found


if __name__ == "__main__":
    settle(sys.argv[1], sys.argv[2].split(","), Path(sys.argv[3]))
