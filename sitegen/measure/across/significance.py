"""How often luck alone would give a difference between runs: exact tests, and intervals with the coverage they state.

In: one number a run (or a difference a run), each from an independent run. Out: chances, intervals. Nothing here knows
which runs are independent: `evidence` decides that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from statistics import fmean, median, variance

from sitegen.core.facts.across import Interval
from sitegen.measure.across.student import point_with_tail, upper_tail
from sitegen.measure.methods import formula

MOST_SPLITS = 200_000  # of two groups of runs: 10 and 10 have 184,756, and each is looked at
MOST_PAIRED = 16  # differences whose 2^n signs are all looked at
TIE = 1e-9  # relative: sums of the same numbers in another order differ in their last digits


@formula(reads=())
def luck_of_order(more: int, runs: int) -> Fraction:
    """Chance that luck alone puts one side ahead so often.

    Where neither side is better, each is ahead in a run with a chance of one half, as a coin falls.

    Parameters
    ----------
    more
        Runs in which the side that was ahead more often was ahead [count].
    runs
        Runs in which one of the two was ahead [count], at least 1.

    Returns
    -------
    Fraction
        Chance that one side or the other is ahead in so many runs or more [share from 0 to 1].

    Notes
    -----
    With k of n runs, k at least n/2::

        p = min(1, 2 · Σ C(n, i) / 2ⁿ), the sum over i = k … n

    Three of three runs: one time in four.

    References
    ----------
    Conover, W. J. (1999). Practical Nonparametric Statistics, 3rd edition. Wiley, section 3.4 (from
    memory).

    """
    most = max(more, runs - more)
    return min(Fraction(1), Fraction(2 * sum(math.comb(runs, i) for i in range(most, runs + 1)), 2**runs))


@formula(reads=())
def sign_flip_test(differences: Sequence[float]) -> Fraction:
    """Chance that luck alone gives such differences within runs.

    Each run held both arms. Where the arms do not differ, the difference of a run could as well have had the other
    sign: the mean difference is compared with that of every choice of signs.

    Parameters
    ----------
    differences
        One for each run [as measured], 1 to 16.

    Returns
    -------
    Fraction
        Share of the choices of signs whose mean is at least as far from 0 [share from 0 to 1].

    Notes
    -----
    ::

        p = number of choices with |Σ ±d| ≥ |Σ d| / 2ⁿ

    The smallest chance is 2/2ⁿ, so that it can be below 0.05 from six runs on.

    References
    ----------
    Fisher, R. A. (1935). The Design of Experiments. Oliver and Boyd, section 21.

    """
    if not 1 <= len(differences) <= MOST_PAIRED:
        raise ValueError(f"{len(differences)} differences, 1 to {MOST_PAIRED} expected")
    reached = abs(math.fsum(differences)) - _tolerance(differences)
    sums = [0.0]
    for difference in differences:
        sums = [total + sign for total in sums for sign in (difference, -difference)]
    return Fraction(sum(abs(total) >= reached for total in sums), len(sums))


def _tolerance(values: Sequence[float]) -> float:
    return TIE * math.fsum(map(abs, values))


@formula(reads=())
def sign_flip_interval(differences: Sequence[float]) -> Interval:
    """Mean difference within runs with its interval.

    The differences that the test of signs does not contradict: the means of all selections of runs cut the line into
    stretches, and where differences lie symmetrically the true one is in each of these with the same chance.

    Parameters
    ----------
    differences
        One for each run [as measured], 6 to 16: fewer have no interval of 95 %.

    Returns
    -------
    Interval
        The mean, and the narrowest such interval with a coverage of at least 0.95, which it names [as measured].

    Notes
    -----
    With the means m₁ ≤ m₂ ≤ … of the 2ⁿ - 1 selections of runs::

        interval = m_j to m_(2ⁿ - j), coverage = 1 - 2j / 2ⁿ, j the largest with a coverage of 0.95 or more

    Six runs: j = 1, 96.9 %.

    References
    ----------
    Hartigan, J. A. (1969). Using subsample values as typical values. Journal of the American Statistical Association
    64, 1303-1317.

    """
    number = len(differences)
    if not 6 <= number <= MOST_PAIRED:
        raise ValueError(f"{number} differences, 6 to {MOST_PAIRED} expected")
    sums = [(0.0, 0)]
    for difference in differences:
        sums += [(total + difference, size + 1) for total, size in sums]
    means = sorted(total / size for total, size in sums if size)
    rank = 2**number // 40  # half of 5 % of the choices
    return Interval(fmean(differences), means[rank - 1], means[-rank], 1 - 2 * rank / 2**number)


@formula(reads=())
def interval_of_order(differences: Sequence[float]) -> Interval:
    """Median difference within runs with its interval.

    As many of the smallest as of the largest differences are left out: the true median is among the others, unless more
    runs than expected happened to lie on one side of it.

    Parameters
    ----------
    differences
        One for each run [as measured], at least 6.

    Returns
    -------
    Interval
        The median, and the narrowest such interval with a coverage of at least 0.95, which it names [as measured].

    Notes
    -----
    With the differences d₁ ≤ d₂ ≤ … of n runs::

        interval = d_j to d_(n + 1 - j), coverage = 1 - 2 · Σ C(n, i) / 2ⁿ, the sum over i = 0 … j - 1

    Twenty runs: j = 6, 95.9 %.

    References
    ----------
    Conover, W. J. (1999). Practical Nonparametric Statistics, 3rd edition. Wiley, section 3.2 (from memory).

    """
    number, ordered = len(differences), sorted(differences)
    if number < 6:
        raise ValueError(f"{number} differences, at least 6 expected")
    rank, outside = 0, Fraction(0)
    while (more := outside + Fraction(2 * math.comb(number, rank), 2**number)) <= Fraction(1, 20):
        rank, outside = rank + 1, more
    return Interval(median(ordered), ordered[rank - 1], ordered[-rank], float(1 - outside))


@formula(reads=())
def permutation_test(first: Sequence[float], second: Sequence[float]) -> Fraction | None:
    """Chance that luck alone gives such a difference between runs.

    Where the arms do not differ, any of the runs could have been of either: the difference of the means is compared
    with that of every way of dividing the runs into two groups of these sizes.

    Parameters
    ----------
    first, second
        One value for each run of either side [as measured].

    Returns
    -------
    Fraction or None
        Share of the ways with a difference at least as large [share from 0 to 1]; None where there are more than
        200,000 ways.

    Notes
    -----
    ::

        p = number of ways with |mean₁ - mean₂| as large or larger / C(n₁ + n₂, n₁)

    Three against three runs can never be below 0.1, four against four are at least 0.0286.

    References
    ----------
    Pitman, E. J. G. (1937). Significance tests which may be applied to samples from any populations. Supplement to the
    Journal of the Royal Statistical Society 4, 119-130.

    """
    values = (*first, *second)
    ways = math.comb(len(values), len(first))
    if ways > MOST_SPLITS:
        return None
    # The difference of the means grows with the sum of the first group: its distance from the expected sum decides.
    expected = math.fsum(values) * len(first) / len(values)
    reached = abs(math.fsum(first) - expected) - _tolerance(values)
    return Fraction(
        sum(abs(math.fsum(group) - expected) >= reached for group in combinations(values, len(first))), ways
    )


@formula(reads=())
def welch_interval(first: Sequence[float], second: Sequence[float]) -> Interval:
    """Difference of means between runs with its 95 % interval.

    Parameters
    ----------
    first, second
        One value for each run of either side [as measured], at least two each.

    Returns
    -------
    Interval
        Mean of the second less mean of the first, and its interval [as measured].

    Notes
    -----
    With v = s²/n of either side::

        (mean₂ - mean₁) ± t(0.975, f) √(v₁ + v₂)
        f = (v₁ + v₂)² / (v₁²/(n₁ - 1) + v₂²/(n₂ - 1))

    The coverage of 95 % is an average over normally distributed runs; it does not suppose equal spreads.

    References
    ----------
    Welch, B. L. (1947). The generalization of "Student's" problem when several different population variances are
    involved. Biometrika 34, 28-35.

    """
    middle, error, freedom = _welch(first, second)
    if not error:
        return Interval(middle, middle, middle, 0.95)
    reach = point_with_tail(0.025, freedom) * error
    return Interval(middle, middle - reach, middle + reach, 0.95)


@formula(reads=())
def welch_test(first: Sequence[float], second: Sequence[float]) -> Fraction:
    """Chance of a difference between many runs, by Welch's approximation.

    It takes the place of the test of all ways of dividing the runs where these are too many to look at.

    Parameters
    ----------
    first, second
        One value for each run of either side [as measured], at least two each.

    Returns
    -------
    Fraction
        Chance of a difference of the means at least as large, to six decimals [share from 0 to 1].

    Notes
    -----
    With v = s²/n of either side, and f as for the interval::

        p = 2 · P(T ≥ |mean₂ - mean₁| / √(v₁ + v₂)), T with Student's distribution of f degrees of freedom

    References
    ----------
    Welch, B. L. (1947). The generalization of "Student's" problem when several different population variances are
    involved. Biometrika 34, 28-35.

    """
    middle, error, freedom = _welch(first, second)
    if not error:
        return Fraction(int(not middle))
    chance = 2 * upper_tail(abs(middle) / error, freedom)
    return max(Fraction(1, 10**6), Fraction(round(chance * 10**6), 10**6))


def _welch(first: Sequence[float], second: Sequence[float]) -> tuple[float, float, float]:
    """Difference of the means, its standard error and degrees of freedom."""
    parts = [(variance(side) / len(side), len(side) - 1) for side in (first, second)]
    total = math.fsum(part for part, _ in parts)
    freedom = total**2 / math.fsum(part**2 / below for part, below in parts) if total else 0.0
    return fmean(second) - fmean(first), math.sqrt(total), freedom


@formula(reads=())
def holm_adjusted(chances: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """Chances of several comparisons, each allowed for the others.

    Among many comparisons one looks striking by luck alone: each chance is raised so that all of them together are
    wrong no more often than one would be.

    Parameters
    ----------
    chances
        One for each comparison [share from 0 to 1].

    Returns
    -------
    dict[str, Fraction]
        The same comparisons, in the same order [share from 0 to 1].

    Notes
    -----
    In order of size, of m chances::

        p'ᵢ = max over j ≤ i of min(1, (m - j + 1) pⱼ)

    References
    ----------
    Holm, S. (1979). A simple sequentially rejective multiple test procedure. Scandinavian Journal of Statistics 6, 65-70.

    """
    adjusted = dict(_raised(sorted(chances.items(), key=lambda item: item[1])))
    return {name: adjusted[name] for name in chances}


def _raised(ordered: Sequence[tuple[str, Fraction]]) -> Iterator[tuple[str, Fraction]]:
    highest = Fraction(0)
    for place, (name, chance) in enumerate(ordered):
        highest = max(highest, min(Fraction(1), (len(ordered) - place) * chance))
        yield name, highest
