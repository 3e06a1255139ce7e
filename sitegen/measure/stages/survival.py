"""Time until plants reached a stage, where each was looked at on every day: the Kaplan-Meier curve and its limits.

In: one `Observation` a plant. Out: the curve and its median, in exact fractions, and the interval of the median. Never
drops a plant that had not reached the stage.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from sitegen.measure.methods import formula
from sitegen.measure.ranges import Z_95

HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Observation:
    """One plant under watch: until `day`, when it `reached` the stage or was looked at for the last time."""

    day: int
    reached: bool


@dataclass(frozen=True, slots=True)
class SurvivalStep:
    """A day on which plants reached the stage: how many still waited, how many of them did, the share left."""

    day: int
    waiting: int
    reached: int
    remaining: Fraction


@formula(reads=("milestones.day", "milestones.plants"))
def survival_curve(observations: Iterable[Observation]) -> tuple[SurvivalStep, ...]:
    """Share of plants still waiting for a stage.

    Parameters
    ----------
    observations
        One for each plant [day].

    Returns
    -------
    tuple[SurvivalStep, ...]
        One for each day with an arrival, in order [share from 0 to 1, as a fraction].

    Notes
    -----
    With d arrivals among n plants still waiting on each day t::

        S(t) = ∏ (1 - d/n)

    A plant last looked at on a day with an arrival still counts as waiting on that day.

    References
    ----------
    Kaplan, E. L. and Meier, P. (1958). Nonparametric estimation from incomplete observations. Journal of the
    American Statistical Association 53, 457-481.

    """
    known = tuple(observations)
    remaining, steps = Fraction(1), []
    for day in sorted({observation.day for observation in known if observation.reached}):
        waiting = sum(observation.day >= day for observation in known)
        reached = sum(observation.day == day and observation.reached for observation in known)
        remaining *= 1 - Fraction(reached, waiting)
        steps.append(SurvivalStep(day, waiting, reached, remaining))
    return tuple(steps)


@formula(
    reads=("milestones.day", "milestones.plants"),
    exact_if={
        "half went on before or after it": ("milestones.day",),
        "a count says how many": ("milestones.plants",),
    },
)
def kaplan_meier_median(observations: Iterable[Observation]) -> int | None:
    """Day by which half the plants had reached a stage.

    Plants that had not reached it when they were last looked at count as waiting until then. The median
    stays open ("not reached") where too few arrived.

    Parameters
    ----------
    observations
        One for each plant [days since its own sowing].

    Returns
    -------
    int or None
        The median [days since sowing]; None where half was not reached.

    Notes
    -----
    The first day on which at most half are still waiting::

        median = inf { t : S(t) ≤ 1/2 }

    S is the Kaplan-Meier estimate, kept as an exact fraction so that one half is one half. Times between two
    stages go from the median of the shortest possible to that of the longest.

    References
    ----------
    Kaplan, E. L. and Meier, P. (1958). Nonparametric estimation from incomplete observations. Journal of the
    American Statistical Association 53, 457-481.

    """
    return next((step.day for step in survival_curve(observations) if step.remaining <= HALF), None)


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


@formula(reads=("milestones.day", "milestones.plants"))
def curve_limits(observations: Iterable[Observation]) -> tuple[Limits, ...]:
    """Interval of the share still waiting.

    Parameters
    ----------
    observations
        One for each plant [day].

    Returns
    -------
    tuple[Limits, ...]
        Lower and upper 95 % limit on each day with an arrival [share from 0 to 1].

    Notes
    -----
    With S the Kaplan-Meier estimate, d arrivals among n waiting, and z = 1.959964::

        v = Σ d / (n (n - d))
        S ^ exp(± z √v / ln S)

    These are pointwise limits on the log(-log) scale, which stay between 0 and 1. Other programs use other scales
    by default; their limits differ where plants are few. Once no plant waits any more the upper limit is not known.

    References
    ----------
    Greenwood, M. (1926). The natural duration of cancer. Reports on Public Health and Medical Subjects 33, 1-26.

    Kalbfleisch, J. D. and Prentice, R. L. (1980). The Statistical Analysis of Failure Time Data. Wiley, New York.

    """
    curve = survival_curve(observations)
    return tuple(_limits(curve[: position + 1]) for position in range(len(curve)))


@formula(
    reads=("milestones.day", "milestones.plants"),
    exact_if={"its rank is no limit": ("milestones.day",), "a count says how many": ("milestones.plants",)},
)
def median_interval(observations: Iterable[Observation]) -> tuple[int | None, int | None]:
    """95 % interval of the day by which half had reached a stage.

    From few plants it is wide, and often open towards the end: too few had arrived to say more.

    Parameters
    ----------
    observations
        One for each plant [days since its own sowing].

    Returns
    -------
    tuple[int or None, int or None]
        First and last day of the interval [days]; None where the curve's limit never falls to one half.

    Notes
    -----
    With the limits L and U of the share still waiting (log(-log) scale)::

        from inf { t : L(t) ≤ 1/2 }   to inf { t : U(t) ≤ 1/2 }

    It is given from six plants that reached the stage, and only where each plant's day is known to the day. It takes the
    plants for independent of each other; those sharing one tub may not be.

    References
    ----------
    Brookmeyer, R. and Crowley, J. (1982). A confidence interval for the median survival time. Biometrics 38, 29-41.

    """
    limits = curve_limits(observations)
    low = next((each.day for each in limits if each.low <= HALF_WITH_ROUNDING), None)
    high = next((each.day for each in limits if each.high <= HALF_WITH_ROUNDING), None)
    return low, high
