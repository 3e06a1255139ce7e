"""Time until plants reached a stage: one by one where they were told apart, else as counts.

In: the milestone rows of one stage. Out: `Arrival`s, `CountStep`s, one `Observation` a plant; the Kaplan-Meier curve
and its median, in exact fractions. Never drops a plant that had not reached the stage, never dates it to its last
look, and never says which plant where the log does not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.core.facts.tree import Arrival, CountStep
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import MilestoneRow, Run, Which
from sitegen.core.values.day import Day
from sitegen.measure.methods import formula
from sitegen.measure.ranges import Z_95
from sitegen.measure.run.axis import last_day


def in_order(rows: Sequence[MilestoneRow]) -> tuple[MilestoneRow, ...]:
    """Rows by day, then as entered."""
    return tuple(sorted(rows, key=lambda row: (*by_day(row.day), row.entry, row.source)))


def by_day(day: Day) -> tuple[int, int]:
    """The sort key of observations: "before 34" comes after day 27, for it was seen by day 33."""
    return day.last, day.first


def is_not_yet(row: MilestoneRow) -> bool:
    """Whether a row says that nobody it is about had reached the stage."""
    return not row.reached or row.which.nobody


def told_apart(rows: Sequence[MilestoneRow]) -> bool:
    """Whether every arrival is one of a named plant: no count runs ahead of the names."""
    named: set[str] = set()
    for row in in_order(rows):
        if is_not_yet(row):
            continue
        named |= set(row.which.ids)
        ahead = 1 if row.which.count is None else row.which.count
        if not row.which.named and ahead > len(named):
            return False
    return True


def _after(run: Run, rows: Sequence[MilestoneRow], plant: str, seen: Day | None) -> Day | None:
    """The last look that said not yet, before the stage was seen."""
    roster = Roster.of(run.setup, run.rows)
    days = [
        row.day
        for row in rows
        if is_not_yet(row)
        and (names(row.which, plant) or (not row.which.named and plant in roster.standing(row.day.first)))
        and row.day.first >= sowing_day(run, plant)
        and (seen is None or by_day(row.day) < by_day(seen))
    ]
    return max(days, key=by_day, default=None)


def _arrival(run: Run, rows: Sequence[MilestoneRow], plant: str) -> Arrival:
    own = sowing_day(run, plant)
    seen = [r for r in rows if not is_not_yet(r) and names(r.which, plant) and r.day.last >= own]
    if not seen:
        return Arrival(plant, None, _after(run, rows, plant, None), last_look(run, plant))
    first = in_order(seen)[0]
    return Arrival(plant, first.day, _after(run, rows, plant, first.day), last_look(run, plant), first.source)


def arrivals_of(run: Run, rows: Sequence[MilestoneRow]) -> tuple[Arrival, ...]:
    """One arrival for each plant of the experiment."""
    return tuple(_arrival(run, rows, plant) for plant in run.setup.plant_ids)


def steps_of(run: Run, rows: Sequence[MilestoneRow]) -> tuple[CountStep, ...]:
    """The cumulative count at each look; named plants count as many as they are."""
    roster = Roster.of(run.setup, run.rows)
    named: set[str] = set()
    count, steps = 0, []
    for row in in_order(rows):
        standing = roster.count(row.day.first)
        if row.which.named and is_not_yet(row) and len(row.which.ids) < standing:
            continue  # a look at some of the plants says nothing of the number that had arrived
        if not is_not_yet(row):
            named |= set(row.which.ids)
            stated = len(named) if row.which.named else (1 if row.which.count is None else row.which.count)
            count = max(count, stated)
        some = row.which.count is None and not row.which.named
        of = None if some else (row.which.of or max(standing, count))
        steps.append(CountStep(row.day, count, of, row.source))
    return tuple(steps)


def observations_of_arrivals(
    run: Run, arrivals: Sequence[Arrival], *, earliest: bool
) -> tuple[Observation, ...]:
    """One observation a plant, in days since its own sowing.

    Dated to the day seen; with `earliest`, to the look before where that one said not yet.
    """
    observations = []
    for arrival in arrivals:
        own = sowing_day(run, arrival.plant)
        if arrival.day is not None:
            day = arrival.day.last
            if earliest:
                day = arrival.after.first if arrival.after else arrival.day.first
            observations.append(Observation(max(0, day - own), reached=True))
        else:
            look = arrival.last_look.last if arrival.last_look else own
            observations.append(Observation(max(0, look - own), reached=False))
    return tuple(observations)


def observations_of_steps(steps: Sequence[CountStep], *, earliest: bool) -> tuple[Observation, ...]:
    """One observation for each of the plants counted, none of them named.

    Those that never arrived count as waiting until the last look; where fewer plants were left to count,
    those gone count as waiting until the look that missed them.
    """
    counted = [step for step in steps if step.of is not None]
    whole = max((step.of for step in counted if step.of is not None), default=0)
    observations: list[Observation] = []
    so_far, left = 0, whole
    looked: int | None = None  # the latest day that an earlier look cannot have been before
    for step in steps:
        day = step.day.last if not earliest else step.day.first if looked is None else looked
        observations += [Observation(day, reached=True)] * (step.count - so_far)
        room = whole - step.count - sum(not observation.reached for observation in observations)
        gone = max(0, min(left - (step.of or left), room))
        observations += [Observation(step.day.last, reached=False)] * gone
        so_far, left = max(so_far, step.count), min(left, step.of or left)
        looked = step.day.first if looked is None else max(looked, step.day.first)
    waiting = max(0, whole - len(observations))
    return (*observations, *[Observation(steps[-1].day.last, reached=False)] * waiting) if steps else ()


def names(which: Which | None, plant: str) -> bool:
    """Whether a record is about a plant by name (a group and `all` name each of theirs)."""
    return which is not None and plant in which.ids


def last_look(run: Run, plant: str) -> Day | None:
    """The last day on which something was recorded of a plant."""
    rows = run.rows
    roster = Roster.of(run.setup, rows)
    days = [reading.day for reading in rows.readings if plant in reading.plants]
    days += [event.day for event in rows.events if names(event.which, plant)]
    days += [pick.day for pick in rows.picks if names(pick.which, plant)]
    for row in rows.milestones:
        everyone = row.which.nobody and plant in roster.standing(row.day.first)
        if names(row.which, plant) or everyone:
            days.append(row.day)
    return last_day(days)


def sowing_day(run: Run, plant: str) -> int:
    """The day that a plant's own days run from: its last sowing, else day 0."""
    sown = Roster.of(run.setup, run.rows).sown_on(plant)
    return 0 if sown is None else sown.day.first


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


@formula
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


@formula
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

    S is the Kaplan-Meier estimate, kept as an exact fraction so that one half is one half. A stage that was
    recorded as not there yet at an earlier visit lies between the two visits: the median is then given from
    the one estimate, with the earlier visits, to the other, with the days seen.

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


@formula
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


@formula
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

    Where a stage lies between two visits, the interval begins with the estimate from the earlier visits and ends with the
    one from the days seen. It takes the plants for independent of each other; those sharing one tub may not be.

    References
    ----------
    Brookmeyer, R. and Crowley, J. (1982). A confidence interval for the median survival time. Biometrics 38, 29-41.

    """
    limits = curve_limits(observations)
    low = next((each.day for each in limits if each.low <= HALF_WITH_ROUNDING), None)
    high = next((each.day for each in limits if each.high <= HALF_WITH_ROUNDING), None)
    return low, high
