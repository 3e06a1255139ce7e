"""How large a difference several runs would show, before they are grown.

In: numbers of runs, the relative differences of earlier ones. Out: chances, and differences as multiples of how far those
of single runs lie apart. The tests are those of `significance`; nothing here knows of tubs or plants.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import count
from random import Random
from statistics import NormalDist, fmean, variance

from sitegen.measure.methods import formula

ONE_IN = 20  # 0.05: how often luck alone may give what is called a difference
WANTED = 0.8  # the chance that is asked of a design; common practice, no source
DRAWS = 1000  # simulated sets of runs, each with both signs: chances are known to about one in a hundred
MOST_SIMULATED = 12  # runs: each more doubles the work
_SEED = 1935


def _most_choices(runs: int, comparisons: int) -> int:
    """The most selections of runs, that of none included, whose sum may have the other sign: 2k/2ⁿ < 0.05/m."""
    return ((1 << runs) - 1) // (2 * ONE_IN * comparisons)


@formula(reads=())
def fewest_paired_runs(comparisons: int) -> int:
    """Fewest runs that can show a difference.

    Each run has all arms. With fewer runs even differences of one sign come by luck alone too often.

    Parameters
    ----------
    comparisons
        Pairs of arms that are compared [count], at least 1.

    Returns
    -------
    int
        Runs [count]: six for two arms.

    Notes
    -----
    With m comparisons the first of them has to pass 0.05/m (Holm)::

        n = the smallest with 2 / 2ⁿ < 0.05 / m

    References
    ----------
    Fisher, R. A. (1935). The Design of Experiments. Oliver and Boyd, section 21.

    """
    return next(runs for runs in count(1) if _most_choices(runs, comparisons))


def _limits_of(values: Sequence[float], choices: int) -> tuple[float, float]:
    """The shifts from which the sign-flip test calls the values larger than 0, and the same of the values turned round.

    It does where at most so many selections of values, that of none included, have a sum of 0 or less: where the shift
    lies above the mean of the selection in that place, from below, with its sign turned (Hartigan 1969).
    """
    sums = [(0.0, 0)]
    for value in values:
        sums += [(total + value, size + 1) for total, size in sums]
    means = sorted([total / size for total, size in sums if size])
    return -means[choices - 1], means[-choices]


@lru_cache(maxsize=32)
def _limits(runs: int, comparisons: int) -> tuple[float, ...]:
    """The shifts, in order, from which simulated sets of runs show a difference; empty where none can."""
    choices = _most_choices(runs, comparisons)
    if not choices:
        return ()
    # Only `random()` gives the same numbers in every version of Python.
    random, normal = Random(_SEED), NormalDist()  # noqa: S311 - nothing secret
    sets = [[normal.inv_cdf(random.random()) for _ in range(runs)] for _ in range(DRAWS)]
    return tuple(sorted(limit for values in sets for limit in _limits_of(values, choices)))


def _check(runs: int) -> None:
    if not 1 <= runs <= MOST_SIMULATED:
        raise ValueError(f"{runs} runs, 1 to {MOST_SIMULATED} expected")


@formula(reads=())
def power_of_signs(difference: float, runs: int, comparisons: int = 1) -> float:
    """Chance that runs show a difference.

    The share of simulated sets of runs in which the sign-flip test puts it down to luck less than one time in twenty.

    Parameters
    ----------
    difference
        True difference of two arms, as a multiple of the standard deviation of the differences of single runs.
    runs
        Runs that held both arms [count], 1 to 12.
    comparisons
        Pairs of arms that are compared [count].

    Returns
    -------
    float
        Chance [share from 0 to 1]; 0 for fewer than six runs.

    Notes
    -----
    1000 sets of normally distributed differences z, each also with its signs turned, always the same ones::

        power = share of sets with p(z + difference) < 0.05 / m

    References
    ----------
    Cohen, J. (1988). Statistical Power Analysis for the Behavioral Sciences, 2nd edition. Erlbaum, chapter 2 (from
    memory).

    """
    _check(runs)
    limits = _limits(runs, comparisons)
    # Either arm may come out ahead. Every set is there with both signs, so that the two chances add up.
    found = sum((difference > limit) + (-difference > limit) for limit in limits)
    return found / len(limits) if limits else 0.0


@formula(reads=())
def detectable_difference(runs: int, comparisons: int = 1) -> float | None:
    """Difference that runs show four times in five.

    Parameters
    ----------
    runs
        Runs that held both arms [count], 1 to 12.
    comparisons
        Pairs of arms that are compared [count].

    Returns
    -------
    float or None
        As a multiple of the standard deviation of the differences of single runs; None where no difference is shown,
        however large it is.

    Notes
    -----
    ::

        difference = the smallest with a power of 0.8

    References
    ----------
    Cohen, J. (1988). Statistical Power Analysis for the Behavioral Sciences, 2nd edition. Erlbaum, chapter 2 (from
    memory).

    """
    _check(runs)
    limits = _limits(runs, comparisons)
    return limits[math.ceil(WANTED * len(limits)) - 1] if limits else None


@formula(reads=())
def relative_difference(first: float, second: float) -> float:
    """Difference of two arms relative to their mean.

    Parameters
    ----------
    first, second
        The value of either arm in one run [as measured], not both 0.

    Returns
    -------
    float
        The second less the first [share of their mean]: from -2 to 2.

    Notes
    -----
    ::

        d = (second - first) / ((first + second) / 2)

    References
    ----------
    By definition of the quantities.

    """
    return (second - first) / fmean((first, second))


@formula(reads=())
def spread_between_runs(differences: Iterable[Sequence[float]]) -> float | None:
    """Spread of the differences between runs.

    Parameters
    ----------
    differences
        For each pair of arms one difference a run [share of the mean].

    Returns
    -------
    float or None
        Standard deviation about the mean difference of each pair [share of the mean]; None where no pair has three
        differences, or none of them differ.

    Notes
    -----
    Over the pairs of arms that three runs or more held::

        s = √( Σ (n - 1) s² / Σ (n - 1) )

    References
    ----------
    ISO 3534-1:2006, Statistics - Vocabulary and symbols, sample standard deviation (from memory).

    """
    enough = [each for each in differences if len(each) >= 3]
    freedom = sum(len(each) - 1 for each in enough)
    if not freedom:
        return None
    return math.sqrt(math.fsum((len(each) - 1) * variance(each) for each in enough) / freedom) or None


@formula(reads=())
def smallest_chance_apart(first: int, second: int) -> Fraction:
    """Chance of the clearest result of tubs that each hold one arm.

    All tubs of one arm are ahead of all those of the other.

    Parameters
    ----------
    first, second
        Tubs of either arm [count], at least 1.

    Returns
    -------
    Fraction
        Chance that luck alone gives so clear a result [share from 0 to 1].

    Notes
    -----
    Where both arms have as many tubs, the reverse is as clear::

        p = 2 / C(n₁ + n₂, n₁), with different numbers 1 / C(n₁ + n₂, n₁)

    One tub each: luck alone does it every time. Four each: one time in 35.

    References
    ----------
    Pitman, E. J. G. (1937). Significance tests which may be applied to samples from any populations. Supplement to the
    Journal of the Royal Statistical Society 4, 119-130.

    """
    return Fraction(2 if first == second else 1, math.comb(first + second, first))
