"""Limits of the Kaplan-Meier curve and of its median on the log(-log) scale, which the site does not give.

In: observations. Out: limits. They are 95 % for many plants only: `tests.bench.coverage` prints what they cover for few,
beside the interval that the site gives.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from sitegen.measure.ranges import Z_95
from sitegen.measure.stages.survival import Observation, SurvivalStep, survival_curve

__all__ = ["Limits", "curve_limits", "log_log_interval"]

HALF_WITH_ROUNDING = 0.5 + 1e-12  # an exact half must not miss the threshold by the last digit of a float


@dataclass(frozen=True, slots=True)
class Limits:
    """The 95 % limits of the share still waiting, from a day on."""

    day: int
    low: float
    high: float


def _greenwood(steps: Iterable[SurvivalStep]) -> Fraction:
    """Greenwood's sum Σ d / (n (n - d)) over steps at which some still waited."""
    return sum((Fraction(s.reached, s.waiting * (s.waiting - s.reached)) for s in steps), Fraction(0))


def _limits(steps: tuple[SurvivalStep, ...]) -> Limits:
    last = steps[-1]
    if last.remaining == 0:
        # The transform has no value at 0: below nothing remains, above nothing is known.
        return Limits(last.day, 0.0, math.nan)
    share = float(last.remaining)
    reach = Z_95 * math.sqrt(_greenwood(steps)) / math.log(share)
    return Limits(last.day, share ** math.exp(-reach), share ** math.exp(reach))


def curve_limits(observations: Iterable[Observation]) -> tuple[Limits, ...]:
    """Pointwise limits S ^ exp(± z √v / ln S) on days with an arrival (Kalbfleisch and Prentice 1980)."""
    curve = survival_curve(observations)
    return tuple(_limits(curve[: position + 1]) for position in range(len(curve)))


def log_log_interval(observations: Iterable[Observation]) -> tuple[int | None, int | None]:
    """From the day on which the lower limit falls to one half to that of the upper (Brookmeyer and Crowley 1982)."""
    limits = curve_limits(observations)
    low = next((each.day for each in limits if each.low <= HALF_WITH_ROUNDING), None)
    high = next((each.day for each in limits if each.high <= HALF_WITH_ROUNDING), None)
    return low, high
