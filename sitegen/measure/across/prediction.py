"""Where the next run is expected to lie among earlier ones: order alone, without an assumed distribution.

In: one value a unit, each between two bounds, the upper one perhaps missing. Out: the range from the lowest to the
highest of those with an upper bound, and the chance that the next one lies in it. Nothing here knows which runs are
independent, nor what the values are of.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce

from sitegen.measure.methods import formula

FEWEST = 3  # of two, the range holds the next one time in three: that says nothing


@dataclass(frozen=True, slots=True)
class Bounds:
    """A value between two bounds; `high` is None where nothing limits it."""

    low: float
    high: float | None
    about: bool = False
    by_eye: bool = False

    @property
    def single(self) -> bool:
        """Whether it is one number."""
        return self.low == self.high

    def joined(self, other: Bounds) -> Bounds:
        """What holds both."""
        high = None if self.high is None or other.high is None else max(self.high, other.high)
        return Bounds(min(self.low, other.low), high, self.about or other.about, self.by_eye or other.by_eye)


@dataclass(frozen=True, slots=True)
class Prediction:
    """The range in which the next one is expected, from `runs` earlier ones; None where they are too few.

    `open` more had no upper bound; `passed` lay below the least that the next one can be.
    """

    window: Bounds | None
    chance: Fraction | None
    runs: int
    open: int
    passed: int
    at_least: bool


@formula(reads=())
def next_run_chance(runs: int, unbounded: int = 0) -> Fraction:
    """Chance that the next run falls within the range of the earlier ones.

    Parameters
    ----------
    runs
        Earlier runs whose value has an upper bound [count], at least 1.
    unbounded
        Earlier runs whose value has none: the stage had not come by the last look, or a pick was not weighed [count].

    Returns
    -------
    Fraction
        Chance [share from 0 to 1].

    Notes
    -----
    The next of n + 1 runs grown alike is as likely to be in any place of their order. With m runs that have no upper
    bound, the range ends with the n-th of n + m at the least, wherever those lie::

        chance = (n - 1) / (n + m + 1)

    Three earlier runs: one in two; five: two in three. Runs of one tub at one time count once. It is exact where values
    are single numbers without ties and m is 0, and the least that it can be otherwise. At the end of the range Kaplan and
    Meier's estimate of the share below is never less than n/(n + m): it supposes that the m runs ended for other reasons.
    Here nothing is supposed of them.

    References
    ----------
    Wilks, S. S. (1941). Determination of sample sizes for setting tolerance limits. Annals of Mathematical Statistics
    12, 91-96.

    David, H. A., and Nagaraja, H. N. (2003). Order Statistics, 3rd edition. Wiley, chapter 7: distribution-free
    prediction intervals (from memory).

    Kaplan, E. L., and Meier, P. (1958). Nonparametric estimation from incomplete observations. Journal of the American
    Statistical Association 53, 457-481.

    """
    return Fraction(max(0, runs - 1), runs + unbounded + 1)


@formula(reads=())
def next_run_window(values: Sequence[Bounds], least: float) -> Bounds | None:
    """Range in which the next run is expected.

    From the lowest to the highest of earlier runs. A value that is itself a range widens it at both ends.

    Parameters
    ----------
    values
        Lower and upper bound of each earlier run [day or g]; an upper one may be missing.
    least
        What the next run cannot be below: the day after its last look, what it has given so far [day or g].

    Returns
    -------
    Bounds or None
        The range [day or g]; None where no run that can have reached the least has an upper bound.

    Notes
    -----
    Over the runs with bounds l to h, h at or above the least value d::

        window = max(d, min l) … max h

    Runs that lay below d are left out: among those that did not, the next one is as likely to be in any place of their
    order. A run without an upper bound adds nothing to the range; the chance allows for it.

    References
    ----------
    David, H. A., and Nagaraja, H. N. (2003). Order Statistics, 3rd edition. Wiley, chapter 7 (from memory).

    """
    known = [value for value in values if value.high is not None and value.high >= least]
    if not known:
        return None
    whole = reduce(Bounds.joined, known)
    return Bounds(max(whole.low, least), whole.high, whole.about, whole.by_eye)


def predict(values: Sequence[Bounds], least: float) -> Prediction:
    """Where the next one lies that is at least so much; no range from fewer than three with an upper bound.

    Counted are those that certainly lie at or above `least`. One that may lie on either side of it widens the range,
    and counts only where it has no upper bound: there it could lie beyond the range.
    """
    beyond = [value for value in values if value.high is None or value.high >= least]
    certain = sum(value.high is not None and value.low >= least for value in beyond)
    unbounded = sum(value.high is None for value in beyond)
    passed = len(values) - len(beyond)
    if certain < FEWEST:
        return Prediction(None, None, certain, unbounded, passed, at_least=False)
    return Prediction(
        next_run_window(beyond, least),
        next_run_chance(certain, unbounded),
        certain,
        unbounded,
        passed,
        at_least=not all(value.single for value in beyond),
    )
