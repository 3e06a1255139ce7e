"""The days in which half the plants reached a stage, where each plant's own day lies between two looks.

In: one `Interval` a plant. Out: the first and the last day on which the estimate may pass one half. Whole days, both
ends included: a plant without the stage on day 9 and with it on day 12 reached it on one of the days 10 to 12.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple, TypeVar

from sitegen.measure.methods import formula
from sitegen.measure.stages.survival import Observation, kaplan_meier_median

_ROUNDS = 5000
_SMALLEST_CHANGE = 1e-13
# An exact half must not miss the threshold by what the last round would still have moved.
_HALF = 0.5 - 1e-7


class Interval(NamedTuple):
    """The days on which one plant can have reached a stage, both included; `last` is None where it was not seen to."""

    first: int
    last: int | None

    @property
    def exact(self) -> bool:
        """Whether it is one day."""
        return self.first == self.last


Spans = Sequence[tuple[int, float]]


def _ends(interval: Interval) -> tuple[int, float]:
    return interval.first, math.inf if interval.last is None else interval.last


def _innermost(intervals: Iterable[Interval]) -> list[tuple[int, float]]:
    """The stretches that hold no end of another interval: the estimate gives weight to these alone."""
    ends = [_ends(interval) for interval in intervals]
    points = sorted([*((first, 0) for first, _ in ends), *((last, 1) for _, last in ends)])
    pairs = pairwise(points)
    return [(int(a[0]), b[0]) for a, b in pairs if (a[1], b[1]) == (0, 1)]


def _covered(interval: Interval, spans: Spans) -> range:
    """The stretches inside an interval, by position."""
    first, last = _ends(interval)
    inside = [n for n, (begin, end) in enumerate(spans) if first <= begin and end <= last]
    return range(inside[0], inside[-1] + 1)


def _product_limit(covered: Sequence[range], arrived: Sequence[bool], number: int) -> list[Fraction]:
    """The exact weights where each arrival lies in one stretch: those of Kaplan and Meier."""
    remaining, weights = Fraction(1), []
    for n in range(number):
        reached = sum(a and each.start == n for each, a in zip(covered, arrived, strict=True))
        waiting = sum(
            each.start >= n if a else each.start > n for each, a in zip(covered, arrived, strict=True)
        )
        left = remaining * (1 - Fraction(reached, waiting)) if waiting else Fraction(0)
        weights.append(remaining - left)
        remaining = left
    return weights


def _self_consistent(covered: Sequence[range], number: int) -> list[float]:
    """The weights that the plants' own expected shares add up to, by repetition."""
    weights = [1 / number] * number
    for _ in range(_ROUNDS):
        expected = [0.0] * number
        for each in covered:
            whole = math.fsum(weights[n] for n in each)
            for n in each:
                expected[n] += weights[n] / whole
        after = [share / len(covered) for share in expected]
        change = max(abs(a - b) for a, b in zip(after, weights, strict=True))
        weights = after
        if change < _SMALLEST_CHANGE:
            break
    return weights


Weight = TypeVar("Weight", float, Fraction)


def _passes(weights: Sequence[Weight], threshold: Weight) -> int:
    """The position at which the running sum reaches a threshold; the last one where rounding keeps it below."""
    totals = accumulate(weights)
    return next((n for n, total in enumerate(totals) if total >= threshold), len(weights) - 1)


def turnbull_span(intervals: Iterable[Interval]) -> tuple[int, int] | None:
    """The stretch in which the estimate of Turnbull passes one half; None where it does not, or nothing is known."""
    known = tuple(intervals)
    if not known:
        return None
    spans = _innermost(known)
    covered = [_covered(interval, spans) for interval in known]
    arrived = [interval.last is not None for interval in known]
    if all(len(each) == 1 for each, a in zip(covered, arrived, strict=True) if a):
        place = _passes(_product_limit(covered, arrived, len(spans)), Fraction(1, 2))
    else:
        place = _passes(_self_consistent(covered, len(spans)), _HALF)
    first, last = spans[place]
    return None if math.isinf(last) else (first, int(last))


@formula(
    reads=("milestones.day", "milestones.plants", "picks.day"),
    exact_if={
        "half arrived before or after it": ("milestones.day",),
        "a count says how many": ("milestones.plants",),
        "no look lies within it": ("picks.day",),
    },
)
def turnbull_median(intervals: Iterable[Interval]) -> tuple[int, int] | None:
    """Days in which half the plants reached a stage.

    A plant reached it between the last check without it and the check that found it; one that had not when last
    checked did so later, or never. Where nobody checked before, nothing but the sowing bounds the day.

    Parameters
    ----------
    intervals
        For each plant the first and the last day on which it can have reached the stage [days since its own sowing].

    Returns
    -------
    tuple[int, int] or None
        First and last day on which the share may pass one half [days since sowing]; None where half was not reached.

    Notes
    -----
    With p the weights of the stretches between two checks that the likelihood is largest for::

        L = ∏ Σ p    (each plant's sum over the stretches inside its own days)
        median: the first stretch with Σ p ≥ 1/2

    Where the weight is inside a stretch cannot be known, so all of it is given. Where every plant was checked on every
    day the estimate is that of Kaplan and Meier, in exact fractions. Where plants were checked on different days, the
    estimate moves those seldom checked to the days on which others were seen: the span is then widened to the medians
    with the earliest and with the latest day of each plant.

    References
    ----------
    Turnbull, B. W. (1976). The empirical distribution function with arbitrarily grouped, censored and truncated data.
    Journal of the Royal Statistical Society B 38, 290-295.

    Peto, R. (1973). Experimental survival curves for interval-censored data. Applied Statistics 22, 86-91.

    """
    known = tuple(intervals)
    span = turnbull_span(known)
    low, high = (kaplan_meier_median(observations_at(known, end)) for end in ("first", "last"))
    if span is None or low is None or high is None:
        return None
    return min(span[0], low), max(span[1], high)


@formula(
    reads=("milestones.day", "milestones.plants", "picks.day"),
    exact_if={
        "another look bounds it": ("milestones.day",),
        "a count says how many": ("milestones.plants",),
        "no look lies within it": ("picks.day",),
    },
)
def days_of_each(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """Days until a stage, plant by plant.

    Where fewer than six plants had reached it, their days are shown one by one: of so few no interval includes the
    median in 95 % of samples.

    Parameters
    ----------
    intervals
        For each plant the first and the last day on which it can have reached the stage [days since its own sowing].

    Returns
    -------
    tuple[Interval, ...]
        Those of the plants that reached it, in order [days].

    Notes
    -----
    ::

        last check without it + 1 to check that found it

    """
    arrived = [(i.last, i.first) for i in intervals if i.last is not None]
    return tuple(Interval(first, last) for last, first in sorted(arrived))


class MedianInterval(NamedTuple):
    """The days between two of the plants by rank; `high` is None where too few had got there.

    `coverage` is the share of samples in which the interval holds the median; at least that, unless `exact`.
    """

    low: int
    high: int | None
    coverage: float
    exact: bool


@formula(
    reads=("milestones.day", "milestones.plants", "picks.day"),
    exact_if={
        "its rank is no limit": ("milestones.day",),
        "a count says how many": ("milestones.plants",),
        "no look lies within it": ("picks.day",),
    },
)
def median_interval(intervals: Sequence[Interval]) -> MedianInterval | None:
    """Interval of the day by which half had reached a stage.

    From the day of one plant, in the order of days, to that of another: whatever the days are, the median of many such
    plants is between the two in so many of a hundred samples. It is given with that number, from six plants that
    reached the stage.

    Parameters
    ----------
    intervals
        For each plant the first and the last day on which it can have reached the stage [days since its own sowing].

    Returns
    -------
    MedianInterval or None
        First and last day [days since sowing], and the coverage [share from 0 to 1]; None for fewer than six plants.

    Notes
    -----
    Of n plants, with the largest rank r that leaves no more than 2.5 % on either side, and B the binomial distribution
    of n and 1/2::

        from day of rank r to day of rank n + 1 - r
        coverage = 1 - 2 P(B < r)

    The coverage is exact for times that are never the same; on whole days it is no smaller. Where the plants in these
    ranks are known to a span of days, the interval goes from the first day of the one to the last day of the other; a
    plant that had not reached the stage counts from the day after its last check, with no last day. The coverage is then
    at least as large. It takes the plants for independent of each other; those sharing one tub may not be.

    References
    ----------
    Thompson, W. R. (1936). On confidence ranges for the median and other expectation distributions for populations of
    unknown distribution form. Annals of Mathematical Statistics 7, 122-128.

    """
    number, outside, rank = len(intervals), 0, 0
    while 40 * (outside + math.comb(number, rank)) <= 2**number:
        outside, rank = outside + math.comb(number, rank), rank + 1
    if not rank:
        return None
    ends = [_ends(interval) for interval in intervals]
    firsts, lasts = sorted(first for first, _ in ends), sorted(last for _, last in ends)
    low, high = firsts[rank - 1], lasts[number - rank]
    exact = low == lasts[rank - 1] and high == firsts[number - rank]
    return MedianInterval(
        low, None if math.isinf(high) else int(high), 1 - 2 * outside / 2**number, exact=exact
    )


def observations_at(intervals: Iterable[Interval], end: Literal["first", "last"]) -> list[Observation]:
    """Each plant with the first or the last day on which it can have reached the stage."""
    return [
        Observation(i.first - 1, reached=False)
        if i.last is None
        else Observation(i.first if end == "first" else i.last, reached=True)
        for i in intervals
    ]
