"""Simulates how often each interval with a percentage holds what it is of: `python -m tests.bench.coverage`.

In: a seed, a number of draws, the functions of `sitegen.measure` themselves. Out: a line for each interval and sample
size: the coverage that it bears, and the simulated one. Two intervals bear a percentage: the share's (Wilson, 95 % on
average over all true shares) and the median's (ranks, its own coverage, at least that where days are spans or plants
were lost). The limits that are not given, since for few plants they are not 95 %, stand beside them.
Run on demand; nothing here passes or fails.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from random import Random

from sitegen.measure.ranges import wilson_interval
from sitegen.measure.stages.survival import Observation
from sitegen.measure.stages.turnbull import Interval, median_interval
from tests.measure.stages.log_log_limits import log_log_interval

__all__ = ["Row", "median_coverage", "rows", "wilson_coverage"]

SIZES = (6, 7, 8, 9, 10, 12, 15, 20, 21, 30)
COUNTS = (1, 2, 4, 6, 10, 20, 50, 100, 400)
FINE = 1_000_000  # days are drawn so finely that no two are the same
HALF_LIFE = 30 * FINE
WEEK = 7 * FINE


@dataclass(frozen=True, slots=True)
class Row:
    """One interval at one sample size: the coverage that it bears, as words, and the share of draws that it held."""

    name: str
    size: int
    borne: str
    simulated: float


def wilson_coverage(size: int, draws: int, random: Random) -> float:
    """How often the interval of a share holds the true one; that is drawn anew each time, from 0 to 1."""
    held = 0
    for _ in range(draws):
        share = random.random()
        low, high = wilson_interval(sum(random.random() < share for _ in range(size)), size)
        held += low <= share <= high
    return held / draws


def _times(size: int, random: Random) -> list[int]:
    """Days to a stage, exponentially distributed."""
    return [math.ceil(random.expovariate(math.log(2) / HALF_LIFE)) for _ in range(size)]


def to_the_day(times: Sequence[int], _: Random) -> list[Interval]:
    """Each plant looked at all the time."""
    return [Interval(time, time) for time in times]


def weekly(times: Sequence[int], _: Random) -> list[Interval]:
    """Each plant looked at once a week."""
    return [Interval((time - 1) // WEEK * WEEK + 1, -(-time // WEEK) * WEEK) for time in times]


def with_losses(times: Sequence[int], random: Random) -> list[Interval]:
    """Each plant looked at all the time, until it is lost."""
    lost = [math.ceil(random.expovariate(math.log(2) / (3 * HALF_LIFE))) for _ in times]
    pairs = zip(times, lost, strict=True)
    return [Interval(time, time) if time <= gone else Interval(gone + 1, None) for time, gone in pairs]


Looks = Callable[[Sequence[int], Random], list[Interval]]


def median_coverage(
    size: int, draws: int, random: Random, looks: Looks = to_the_day
) -> tuple[float, float, bool]:
    """The coverage that the interval of a median bears, the simulated one, and whether all were exact."""
    held, coverage, exact = 0, 0.0, True
    for _ in range(draws):
        found = median_interval(looks(_times(size, random), random))
        assert found is not None
        held += found.low <= HALF_LIFE and (found.high is None or found.high >= HALF_LIFE)
        coverage, exact = found.coverage, exact and found.exact
    return coverage, held / draws, exact


def log_log_coverage(size: int, draws: int, random: Random) -> float:
    """How often the limits of the Kaplan-Meier median hold it, where all plants arrived."""
    held = 0
    for _ in range(draws):
        low, high = log_log_interval(Observation(time, reached=True) for time in _times(size, random))
        held += low is not None and low <= HALF_LIFE and (high is None or high >= HALF_LIFE)
    return held / draws


def rows(draws: int, random: Random) -> Iterator[Row]:
    """Every interval at every sample size."""
    for size in COUNTS:
        borne = "95 % on average"
        yield Row("share, Wilson", size, borne, wilson_coverage(size, draws, random))
    for name, looks in (
        ("median, to the day", to_the_day),
        ("median, looked at weekly", weekly),
        ("median, some plants lost", with_losses),
    ):
        for size in SIZES:
            coverage, simulated, exact = median_coverage(size, draws, random, looks)
            percent = f"{100 * coverage:.2f} %" if exact else f"at least {100 * coverage:.2f} %"
            yield Row(name, size, percent, simulated)
    for size in (1, 2, 3, 4, *SIZES):
        yield Row("not given: log(-log) limits", size, "95 % for many", log_log_coverage(size, draws, random))


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description="How often intervals hold what they are of.")
    parser.add_argument("--draws", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    print(f"{'interval':<28} {'n':>4} {'bears':>18} {'simulated':>10}")
    for row in rows(given.draws, Random(given.seed)):  # noqa: S311 - a simulation
        print(f"{row.name:<28} {row.size:>4} {row.borne:>18} {100 * row.simulated:>8.2f} %", flush=True)


if __name__ == "__main__":
    main()
