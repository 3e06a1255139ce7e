"""Time until a stage, with plants that had not reached it when they were last looked at.

In: one `Spell` a plant. Out: the Kaplan-Meier curve and its median, in exact fractions. Never drops a plant
that had not reached the stage and never dates it to its last look.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Spell", "SurvivalStep", "kaplan_meier_median", "survival_curve"]

HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Spell:
    """One plant under watch: until `day`, when it `reached` the stage or was looked at for the last time."""

    day: int
    reached: bool


@dataclass(frozen=True, slots=True)
class SurvivalStep:
    """A day on which plants reached the stage: how many still waited, how many of them did, what remains."""

    day: int
    waiting: int
    reached: int
    remaining: Fraction


def survival_curve(spells: Iterable[Spell]) -> tuple[SurvivalStep, ...]:
    """Share of plants still waiting for a stage.

    Parameters
    ----------
    spells
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
    known = tuple(spells)
    remaining, steps = Fraction(1), []
    for day in sorted({spell.day for spell in known if spell.reached}):
        waiting = sum(spell.day >= day for spell in known)
        reached = sum(spell.day == day and spell.reached for spell in known)
        remaining *= 1 - Fraction(reached, waiting)
        steps.append(SurvivalStep(day, waiting, reached, remaining))
    return tuple(steps)


def kaplan_meier_median(spells: Iterable[Spell]) -> int | None:
    """Day by which half the plants had reached a stage.

    Plants that had not reached it when they were last looked at count as waiting until then. The median
    stays open ("not reached") where too few arrived.

    Parameters
    ----------
    spells
        One for each plant [days since its own sowing].

    Returns
    -------
    int or None
        The median [days since sowing]; None where half was not reached.

    Notes
    -----
    The first day on which at most half are still waiting::

        median = inf { t : S(t) ≤ 1/2 }

    S is the Kaplan-Meier estimate, kept as an exact fraction so that one half is one half. A stage that was
    recorded as not there yet at an earlier visit lies between the two visits: the median is then given from
    the one estimate, with the earlier visits, to the other, with the days seen.

    References
    ----------
    Kaplan, E. L. and Meier, P. (1958). Nonparametric estimation from incomplete observations. Journal of the
    American Statistical Association 53, 457-481.

    """
    return next((step.day for step in survival_curve(spells) if step.remaining <= HALF), None)
