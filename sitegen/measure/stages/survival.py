"""Time until plants reached a stage, where each was looked at on every day: the Kaplan-Meier curve.

In: one `Observation` a plant. Out: the curve and its median, in exact fractions. Never drops a plant that had not
reached the stage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from sitegen.measure.methods import formula

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

    A plant last checked on a day with an arrival still counts as waiting on that day.

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

    Plants that had not reached it when last checked count as waiting until then. The median
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
