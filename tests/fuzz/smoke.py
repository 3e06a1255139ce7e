"""A short run without coverage: seeds, and small changes of them by a seeded random number generator.

In: a target, a folder, a number of executions. Out: the faults, each with its input.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from pathlib import Path

from tests.fuzz.guard import guarded
from tests.fuzz.mutations import Mutator
from tests.fuzz.target import Target


def faults(target: Target, folder: Path, executions: int, seed: int = 1) -> Iterator[tuple[bytes, Exception]]:
    """The faults among some executions: of evenly chosen seeds first, then of changes of any."""
    run, seeds = target.prepare(folder), list(target.seeds())
    for number, data in enumerate(itertools.islice(_inputs(target, seeds, executions, seed), executions)):
        try:
            guarded(run, data, folder, again=number % 16 == 0)
        except Exception as error:
            yield data, error


def _inputs(target: Target, seeds: list[bytes], executions: int, seed: int) -> Iterator[bytes]:
    most = max(1, executions // 3)
    yield from seeds[:: max(1, -(-len(seeds) // most))]
    rng = random.Random(f"{target.name} {seed}")  # noqa: S311 - no secret
    mutator = Mutator(target.kind, target.tokens, seeds, target.longest)
    while True:
        yield mutator.changed(rng.choice(seeds), rng)
