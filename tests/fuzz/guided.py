"""One target in a process of its own: inputs are changed towards lines that none has reached before.

In: the name of a target, the packages under test, a folder, limits. Out: a report as JSON in the folder. The coverage-guided library runs the
target in process and keeps inputs that reach something new; half of the changes are its own, half know the structure of
the input. A fault does not end the run: it is saved, and the next input is read.
"""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import contextlib
import json
import os
import random
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from tests.fuzz.guard import AGAIN, bounded_memory, guarded, peak
from tests.fuzz.kept_faults import save
from tests.fuzz.mutations import Mutator
from tests.fuzz.targets import target_named

REPORT = "report.json"


@dataclass(slots=True)
class Progress:
    """What a run has done so far."""

    executions: int = 0
    seconds: float = 0.0
    slowest: float = 0.0
    slowest_size: int = 0
    grown: int = 0
    peak: int = 0
    faults: int = 0


def fuzz(
    name: str, packages: list[str], home: Path, work: Path, *, runs: int, seconds: float, seed: int
) -> None:
    """Run a target until a limit, in processor time; ends the process."""
    import atheris

    # For the whole process: modules that are imported later are measured too.
    measured = atheris.instrument_imports(include=packages)
    measured.__enter__()
    target = target_named(name)
    run, seeds = target.prepare(work), list(target.seeds())
    corpus, given = home / "corpus", home / "seeds"
    for folder in (corpus, given):
        folder.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(seeds):
        (given / f"{number:04}").write_bytes(data)
    mutator = Mutator(target.kind, target.tokens, seeds, target.longest)
    longest = max(target.longest, *(len(data) for data in seeds))
    progress, begin = Progress(), time.process_time()

    def one(data: bytes) -> None:
        progress.executions += 1
        try:
            cost = guarded(run, data, work, again=progress.executions % AGAIN == 0)
            if cost.seconds > progress.slowest:
                progress.slowest, progress.slowest_size = cost.seconds, len(data)
                (home / "slowest").write_bytes(data)
            progress.grown = max(progress.grown, cost.grown)
        except Exception as error:  # a fault: saved, and on with the next
            progress.faults += 1
            save(home / "faults", data, error)
        progress.seconds = time.process_time() - begin
        if progress.executions >= runs or progress.seconds >= seconds:
            progress.peak = peak()
            (home / REPORT).write_text(json.dumps(asdict(progress)))
            os._exit(0)

    def changed(data: bytes, largest: int, number: int) -> bytes:
        rng = random.Random(number)  # noqa: S311 - no secret
        if rng.random() < 0.4:
            found: bytes = atheris.Mutate(data, largest)
            return found
        return mutator.changed(data, rng)[:largest]

    bounded_memory()
    atheris.Setup(_options(corpus, given, longest, seed), one, custom_mutator=changed)
    atheris.Fuzz()


def _options(corpus: Path, given: Path, longest: int, seed: int) -> list[str]:
    options: dict[str, Any] = {
        "max_len": longest,
        "seed": seed,
        "timeout": 120,
        "rss_limit_mb": 0,
        "len_control": 0,
        "print_final_stats": 0,
        "verbosity": 0,
    }
    artifacts = corpus.parent / "ended-"
    return [
        "fuzz",
        *(f"-{key}={value}" for key, value in options.items()),
        f"-artifact_prefix={artifacts}",
        str(corpus),
        str(given),
    ]


def main(arguments: Sequence[str]) -> None:
    """`NAME PACKAGES HOME WORK RUNS SECONDS SEED`."""
    name, packages, home, work, runs, seconds, seed = arguments
    with contextlib.suppress(KeyboardInterrupt):
        fuzz(
            name,
            packages.split(","),
            Path(home),
            Path(work),
            runs=int(runs),
            seconds=float(seconds),
            seed=int(seed),
        )


if __name__ == "__main__":
    main(sys.argv[1:])
