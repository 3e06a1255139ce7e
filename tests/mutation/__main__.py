"""Whether the tests notice small changes of the program's meaning: `python -m tests.mutation [folder …]`.

In: folders or modules of the package. Out: each mutant that no test noticed, a table, the share that was noticed. Ends
with status 1 where that is less than `--at-least`. Only tests of the mutant's own folder that execute the changed line
are run. A mutant counts as killed where a test fails, or takes ten times as long as before. Mutants declared equivalent
(`equivalent.txt`) are not tried and count apart. Of the random stories of the build one is told: its other tests show
the same faults sooner. Run on demand; 300 mutants take the better part of an hour on two cores.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
import warnings
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from tests.mutation.coverage_map import CoverageMap, Recorder, Unit
from tests.mutation.equivalent import declared, outdated
from tests.mutation.forked import Ended, Tests, in_processes
from tests.mutation.mutants import Mutant, Source, sample

FOLDERS = ("measure", "judge", "write", "pipeline", "memo.py")
OUTCOMES = ("killed", "timeout", "survived", "equivalent")


@dataclass(frozen=True)
class Trial:
    """A mutant, the unit it is in, and what is known of the unit's tests."""

    mutant: Mutant
    unit: Unit
    known: CoverageMap
    grace: float

    def run(self, scratch: Path) -> int:
        """The exit status of the tests."""
        order = self.known.order(self.mutant.file, self.mutant.lines)
        return Tests(self.unit.root, self.unit.test_files, order, self.known.times, self.grace).run(scratch)

    def changed(self) -> dict[str, str]:
        """The changed module, for the importer."""
        file = str(self.unit.root / self.mutant.file)
        return {"module": self.unit.module(self.mutant.file), "file": file, "source": self.mutant.source}


def maps(units: Sequence[Unit], jobs: int) -> dict[Unit, CoverageMap]:
    """The map of each unit: the one that was kept, or a new one where the tests pass, in the usual order and another."""
    paths = {unit: unit.kept if unit.kept.exists() else unit.kept.with_suffix(".new") for unit in units}
    new = [unit for unit, path in paths.items() if path != unit.kept]

    def recorded(unit: Unit, scratch: Path) -> int:
        return Recorder(unit).record(paths[unit], scratch)

    def again(unit: Unit, scratch: Path) -> int:
        known = found[unit]
        return Tests(unit.root, unit.test_files, known.quickest_first(), known.times).run(scratch)

    for unit, ended in in_processes(new, recorded, units[0].root, lambda _: None, jobs):
        _must_pass(unit, ended)
    found = {unit: CoverageMap.load(path) for unit, path in paths.items()}
    _preload(name for known in found.values() for name in known.libraries)
    for unit, ended in in_processes(new, again, units[0].root, lambda _: None, jobs):
        _must_pass(unit, ended)
        paths[unit].replace(unit.kept)
    return found


def _must_pass(unit: Unit, ended: Ended) -> None:
    if ended.status:
        sys.exit(f"the tests of {unit.name} fail without any change (status {ended.status}):\n{ended.said}")
    print(f"{unit.name}: tests pass in {ended.seconds:.0f} s", file=sys.stderr)


def _preload(libraries: Iterable[str]) -> None:
    """Import what the tests import, so that a forked process has it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in sorted(set(libraries) - sys.modules.keys()):
            with suppress(Exception):
                import_module(name)


def _outcome(trial: Trial, ended: Ended) -> str:
    if ended.status in {5, 70}:
        sys.exit(f"the tests of {trial.unit.name} could not be run:\n{trial.mutant}\n{ended.said}")
    return "timeout" if ended.late else "killed" if ended.status else "survived"


def _parsed() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("folders", nargs="*", default=FOLDERS, help="below the package")
    parser.add_argument("--sample", type=int, default=300, help="how many mutants")
    parser.add_argument("--seed", type=int, default=20261128)
    parser.add_argument("--jobs", type=int, default=2, help="how many at a time")
    parser.add_argument("--grace", type=float, default=10, help="seconds more than ten times a test's own")
    parser.add_argument("--at-least", type=float, default=0.85, help="the share wanted")
    parser.add_argument("--list", action="store_true", help="print the sample only")
    parser.add_argument("--root", type=Path, default=Path(__file__).parents[2])
    parser.add_argument("--package", default="sitegen")
    parser.add_argument(
        "--equivalent", type=Path, default=Path("tests/mutation/equivalent.txt"), help="below the root"
    )
    return parser.parse_args()


def main() -> int:
    """Do what is asked."""
    chosen = _parsed()
    root = chosen.root.resolve()
    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # threads do not survive a fork
    os.environ["SITEGEN_STORIES"] = "1"
    os.environ.setdefault("HYPOTHESIS_PROFILE", "thorough")
    units = [Unit(root, chosen.package, name) for name in chosen.folders]
    owner = {path: unit for unit in units for path in unit.sources}
    mutants = sample([Source.read(root, path) for path in owner], chosen.sample, chosen.seed)
    if chosen.list:
        print(*mutants, sep="\n")
        return 0
    declarations = declared(root / chosen.equivalent)
    if old := list(outdated(declarations, root)):
        sys.exit("\n".join(("these declarations fit no change any more:", *(str(d.identity) for d in old))))
    return _tried(mutants, owner, {d.identity for d in declarations}, chosen)


def _tried(
    mutants: Sequence[Mutant],
    owner: dict[Path, Unit],
    equivalent: set[tuple[str, str, str, str]],
    chosen: argparse.Namespace,
) -> int:
    """Try all mutants and report."""
    units = list(dict.fromkeys(owner.values()))
    known = maps(units, chosen.jobs)
    begun = time.monotonic()
    counts = {unit: Counter[str]() for unit in units}
    trials = []
    for mutant in mutants:
        unit = owner[units[0].root / mutant.file]
        if mutant.identity in equivalent:
            counts[unit]["equivalent"] += 1
        else:
            trials.append(Trial(mutant, unit, known[unit], chosen.grace))
    trials.sort(key=lambda trial: -trial.known.seconds)  # long ones first, so that no process is left alone
    for trial, ended in in_processes(trials, Trial.run, units[0].root, Trial.changed, chosen.jobs):
        outcome = _outcome(trial, ended)
        counts[trial.unit][outcome] += 1
        if outcome == "survived":
            print(trial.mutant, flush=True)
    score = _table(counts)
    print(f"{len(trials)} mutants in {(time.monotonic() - begun) / 60:.1f} minutes, seed {chosen.seed}")
    return 0 if score >= chosen.at_least else 1


def _table(counts: dict[Unit, Counter[str]]) -> float:
    """Print what became of the mutants, and give the share that was noticed."""
    rows = [(unit.name, count) for unit, count in counts.items()]
    rows.append(("all", sum(counts.values(), Counter())))
    print(f"\n{'folder':<12}{''.join(f'{name:>12}' for name in (*OUTCOMES, 'score'))}")
    score = 1.0
    for name, count in rows:
        noticed = count["killed"] + count["timeout"]
        score = noticed / max(1, noticed + count["survived"])
        print(f"{name:<12}{''.join(f'{count[outcome]:>12}' for outcome in OUTCOMES)}{score:>12.3f}")
    return score


if __name__ == "__main__":
    sys.exit(main())
