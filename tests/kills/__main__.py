"""Whether a kill at any moment loses or leaves anything: `python -m tests.kills [--every K] [--seed S] [WORD …]`.

In: scenarios whose name holds one of the words (none: all). Out: a line a scenario, with the kills made and those
survived; status 1 where one was not. `--every`: every so many of a command's file operations is killed before.
`--seed` chooses the first of them, and after some kills where the next command is killed too, before a third one ends.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from tests.kills.bench import TODAY, Bench, Scenario
from tests.kills.forked import command, environment_of, warm_up
from tests.kills.scenarios import FILE, SCENARIOS, WRITE, journal, to_file


@dataclass
class Count:
    """Kills of one scenario."""

    made: int = 0
    survived: int = 0
    operations: int = 0
    faults: list[str] = field(default_factory=list)

    def kill(self, bench: Bench, operation: int, again: int | None) -> bool:
        """One kill, with all that is looked at afterwards; False where the command had ended by then."""
        bench.restored()
        if not bench.killed(operation):
            self.operations = operation
            return False
        where = f"before {operation}"
        found = [f"{where}: {fault}" for fault in bench.faults()]
        kills = 1
        if again is not None and bench.killed(again):
            kills += 1
            where += f", then before {again}"
            found += [f"{where}: {fault}" for fault in bench.faults()]
        found += [f"{where}: {fault}" for fault in bench.faults_after()]
        self.made += kills
        self.survived += 0 if found else kills
        self.faults += found
        return True


def counted(scenario: Scenario, drawings: Path, every: int, seed: int) -> Count:
    """Kill the command of a scenario before each so-manieth of its operations."""
    chance = random.Random(f"{seed} {scenario.name}")  # noqa: S311 - no secret
    with tempfile.TemporaryDirectory() as home:
        bench, count = Bench(scenario, Path(home).resolve(), drawings).made(), Count()
        operation = chance.randrange(every)
        while count.kill(
            bench, operation, chance.randrange(3 * (operation + 1)) if chance.random() < 0.3 else None
        ):
            operation += every
    return count


@contextmanager
def warmed_up(*, writes: bool = True) -> Iterator[Path]:
    """Import and compile all that the commands need; a cache with the drawings of the journal, where it is written."""
    before = dict(os.environ)
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home).resolve()
        (folder / "tmp").mkdir()
        if writes:
            journal(folder)
        words = [word.replace("{}", str(folder)) for word in WRITE]

        def write(*more: str) -> None:
            done = command(*words, "--jobs", "1", *more, environment=environment_of(folder))
            assert done.status == 0, done.printed

        def mend() -> None:
            for words in (("validate", f"{folder}/bench", "--fix"), FILE):
                said = [word.replace("{}", str(folder)) for word in words]
                assert command(*said, "--today", TODAY, environment=environment_of(folder)).status < 2

        if writes:
            warm_up(write, lambda: write("-o", f"{folder}/again"))
        else:
            to_file(folder)
            warm_up(mend, lambda: None)
        os.environ.clear()
        os.environ.update(before)
        tempfile.tempdir = None
        yield folder / "store"


def main(words: Sequence[str]) -> int:
    """Print the kills of each scenario; 1 where one was not survived."""
    parser = argparse.ArgumentParser(prog="python -m tests.kills")
    parser.add_argument("words", nargs="*")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args(words)
    chosen = [each for each in SCENARIOS if not given.words or any(word in each.name for word in given.words)]
    with warmed_up(writes=any(scenario.writes for scenario in chosen)) as drawings:
        return _printed(chosen, given, drawings)


def _printed(chosen: Sequence[Scenario], given: argparse.Namespace, drawings: Path) -> int:
    total = Count()
    print(f"{'operations':>10} {'kills':>6} {'survived':>8} {'seconds':>7}")
    for scenario in chosen:
        begin = time.monotonic()
        count = counted(scenario, drawings, given.every, given.seed)
        seconds = time.monotonic() - begin
        print(
            f"{count.operations:10} {count.made:6} {count.survived:8} {seconds:7.0f}  {scenario.name}",
            flush=True,
        )
        for fault in count.faults[:20]:
            print(f"  {fault}", flush=True)
        total.made += count.made
        total.survived += count.survived
    print(f"{'':10} {total.made:6} {total.survived:8}")
    return int(total.survived != total.made)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
