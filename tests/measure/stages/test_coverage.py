"""Ninety-five means ninety-five: what intervals with a percentage cover."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta, binom

from sitegen.measure.ranges import wilson_interval
from sitegen.measure.stages.turnbull import Interval, MedianInterval, median_interval
from tests.bench.coverage import median_coverage, to_the_day, weekly, wilson_coverage, with_losses
from tests.measure.published import published

DRAWS = 2000


def spread(coverage: float) -> float:
    """Four standard errors of a simulated coverage."""
    return 4 * math.sqrt(coverage * (1 - coverage) / DRAWS)


@pytest.mark.parametrize("row", published("median_ranks"), ids=lambda row: row["n"])
def test_ranks_and_coverage(row: dict[str, str]) -> None:
    """Of n plants seen on days 1 to n the interval goes from rank to rank, with the coverage of the table."""
    found = median_interval([Interval(day, day) for day in range(1, int(row["n"]) + 1)])
    assert found is not None
    assert (found.low, found.high, found.exact) == (int(row["low"]), int(row["high"]), True)
    assert 100 * found.coverage == pytest.approx(float(row["coverage"]), abs=5.1e-3)


@pytest.mark.parametrize("number", range(6))
def test_below_six_plants_no_interval_covers_enough(number: int) -> None:
    """Between the first and the last of five plants the median lies in 93.75 % (scipy.stats.binom): less than 95."""
    assert median_interval([Interval(day, day) for day in range(number)]) is None
    assert 1 - 2 * binom.cdf(0, 5, 0.5) == 0.9375


@given(st.lists(st.tuples(st.integers(1, 40), st.integers(0, 9), st.booleans()), min_size=6, max_size=25))
def test_spans_and_plants_not_there_only_widen(found: list[tuple[int, int, bool]]) -> None:
    """Whatever the true days inside the spans, the interval holds the one that they would give."""
    true = median_interval([Interval(day, day) for day, _, _ in found])
    loose = [
        Interval(max(0, day - wide), day + wide) if seen else Interval(max(0, day - wide), None)
        for day, wide, seen in found
    ]
    wider = median_interval(loose)
    assert true is not None
    assert wider is not None
    assert wider.coverage == true.coverage
    assert wider.low <= true.low
    assert true.high is not None
    assert wider.high is None or wider.high >= true.high


def test_an_interval_is_exact_where_both_its_ranks_are_known() -> None:
    """Spans between the two ranks do not matter; a plant lost before may have been of a lower rank."""
    known = [Interval(10, 10), Interval(12, 30), Interval(14, 20), Interval(15, 15), Interval(16, 30)]
    assert median_interval([*known, Interval(31, 31)]) == MedianInterval(10, 31, 0.96875, exact=True)
    assert median_interval([*known, Interval(5, None)]) == MedianInterval(5, None, 0.96875, exact=False)


@pytest.mark.parametrize("size", [6, 9, 15, 20])
def test_simulated_coverage_of_the_median(size: int) -> None:
    """The interval holds the median as often as it says; seen weekly, or with plants lost, at least as often."""
    random = Random(size)  # noqa: S311 - a simulation
    coverage, simulated, exact = median_coverage(size, DRAWS, random, to_the_day)
    assert exact
    assert simulated == pytest.approx(coverage, abs=spread(coverage))
    for looks in (weekly, with_losses):
        coverage, simulated, _ = median_coverage(size, DRAWS, random, looks)
        assert simulated >= coverage - spread(coverage)


@pytest.mark.parametrize("size", [4, 10, 20, 50, 400])
def test_mean_coverage_of_a_share(size: int) -> None:
    """Over all true shares Wilson's interval holds the share in 95 to 96 %: by integration, and in a simulation.

    The chance of k of n, taken over all shares, is a beta distribution's (scipy.stats.beta) divided by n + 1.
    """
    limits = [wilson_interval(part, size) for part in range(size + 1)]
    mean = sum(
        float(beta.cdf(high, k + 1, size - k + 1) - beta.cdf(low, k + 1, size - k + 1))
        for k, (low, high) in enumerate(limits)
    ) / (size + 1)
    assert 0.95 <= mean <= 0.96
    random = Random(size)  # noqa: S311 - a simulation
    assert wilson_coverage(size, DRAWS, random) == pytest.approx(mean, abs=spread(mean))
