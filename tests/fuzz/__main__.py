"""Fuzzing on demand: `python -m tests.fuzz [TARGET …] [--seconds S | --runs N] [--seed S] [--keep FOLDER]`.

In: names of targets (none: all), limits for each, seconds of processor time. Out: a line a target: executions, seconds, executions a second, lines
of its modules that are reached, the slowest input, memory; then each fault with its smallest input and the command that
runs it again. Status 1 where there is a fault. `--input FILE` reads one input, `--list` names the targets.
"""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import argparse
import importlib.util
import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir
from typing import Any

from tests.fuzz.guard import guarded
from tests.fuzz.guided import REPORT
from tests.fuzz.target import Target
from tests.fuzz.targets import NAMES, PLANTED, target_named

_FAST = Path("/dev/shm")  # noqa: S108 - the folder of a target is made by tempfile
_COLUMNS = (
    "target",
    "executions",
    "seconds",
    "a second",
    "lines",
    "kept",
    "slowest s",
    "grown MB",
    "peak MB",
    "faults",
)


def main() -> int:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.fuzz", description="Fuzz what reads the work of others."
    )
    parser.add_argument("targets", nargs="*", metavar="TARGET")
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--runs", type=int, default=10**12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, default=Path(gettempdir()) / "sitegen-fuzz", metavar="FOLDER")
    parser.add_argument("--input", type=Path, metavar="FILE")
    parser.add_argument("--list", action="store_true")
    given = parser.parse_args()
    os.environ.setdefault("SITEGEN_CACHE", str(given.keep / "cache"))
    unknown = [name for name in given.targets if name not in (*NAMES, PLANTED)]
    if unknown:
        parser.error(f"no target {', '.join(unknown)}; there are {', '.join(NAMES)}")
    if given.list:
        print(*NAMES, sep="\n")
        return 0
    if given.input is not None:
        return _one(given.targets, given.input)
    if importlib.util.find_spec("atheris") is None:
        parser.error("the library that guides is not installed: `.venv/bin/pip install -e '.[fuzz]'`")
    return _all(given.targets or list(NAMES), given)


def _one(names: list[str], path: Path) -> int:
    """Read one input under guard, with a traceback where it has a fault."""
    (name,) = names
    target = target_named(name)
    with TemporaryDirectory() as work:
        cost = guarded(target.prepare(Path(work)), path.read_bytes(), Path(work), again=True)
    print(f"no fault: {cost.seconds:.3f} s, {cost.grown / 1e6:.0f} MB")
    return 0


def _all(names: list[str], given: argparse.Namespace) -> int:
    print(_row(_COLUMNS), flush=True)
    reports = {}
    for name in names:
        reports[name] = _fuzzed(target_named(name), given)
        print(_row(_cells(name, reports[name])), flush=True)
    executions = sum(report.get("executions", 0) for report in reports.values())
    faults = [(name, each) for name, report in reports.items() for each in report["saved"]]
    print(f"\n{executions:,} executions, {len(faults)} kinds of faults")
    for name, each in faults:
        sure = "" if each["sure"] else " (not again when run alone)"
        print(
            f"\n{name}: {each['kind']} {each['place']}{sure}\n  {each['message']}\n  {each['size']} bytes: python -m tests.fuzz {name} --input {each['path']}"
        )
    return 1 if any(each["sure"] for _, each in faults) else 0


def _fuzzed(target: Target, given: argparse.Namespace) -> dict[str, Any]:
    """The report of one target, whose process may also have been ended."""
    name, home = target.name, given.keep / target.name
    home.mkdir(parents=True, exist_ok=True)
    (home / REPORT).unlink(missing_ok=True)
    with (
        TemporaryDirectory(dir=_FAST if _FAST.is_dir() else None) as work,
        (home / "log.txt").open("w") as log,
    ):
        limits = [str(given.runs), str(given.seconds), str(given.seed)]
        ended = subprocess.run(
            [
                sys.executable,
                "-m",
                "tests.fuzz.guided",
                name,
                ",".join(target.packages),
                str(home),
                work,
                *limits,
            ],
            stdout=log,
            stderr=log,
            check=False,
        )
    if not (home / REPORT).exists():
        found = sorted(str(path) for path in home.glob("ended-*"))
        message = f"the process ended with {ended.returncode}; see {home / 'log.txt'}"
        fault = {
            "kind": "ended",
            "place": "",
            "message": message,
            "path": (found or ["-"])[-1],
            "size": 0,
            "sure": True,
        }
        return {"saved": [fault], "faults": 1}
    subprocess.run(
        [sys.executable, "-m", "tests.fuzz.settle", name, ",".join(target.modules), str(home)], check=True
    )
    found_report: dict[str, Any] = json.loads((home / REPORT).read_text())
    return found_report


def _cells(name: str, report: dict[str, Any]) -> tuple[str, ...]:
    if "lines" not in report:
        return (name, *["-"] * 8, "ended")
    lines, seconds = report["lines"], report["seconds"]
    return (
        name,
        f"{report['executions']:,}",
        f"{seconds:.0f}",
        f"{report['executions'] / max(seconds, 1e-9):.0f}",
        f"{lines['reached']}/{lines['of']}",
        str(lines["kept"]),
        f"{report['slowest']:.2f}",
        f"{report['grown'] / 1e6:.0f}",
        f"{report['peak'] / 1e6:.0f}",
        str(len(report["saved"])),
    )


def _row(cells: tuple[str, ...]) -> str:
    return f"{cells[0]:<15}" + "".join(f"{cell:>11}" for cell in cells[1:])


if __name__ == "__main__":
    sys.exit(main())
