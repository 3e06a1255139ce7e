"""Two runs that share a tub: which tub of the other is meant, and when each of them was there.

In: two runs. Out: the other's declaration, days of one run in those of the other. Days can be compared only where both
starts are dated to the day.
"""

from __future__ import annotations

from sitegen.core.records.rows import Run
from sitegen.core.records.setup import SharedTub
from sitegen.core.values.day import Day


def counterpart(share: SharedTub, run: Run, other: Run) -> SharedTub | None:
    """The declaration of another run about the same tub; None where it has none.

    It goes by the same name; tubs that the two name otherwise belong together in the order in which they are written.
    """
    ours = [each for each in run.setup.shares if each.run == other.id]
    theirs = [each for each in other.setup.shares if each.run == run.id]
    named = {each.tub: each for each in theirs}
    if share.tub in named:
        return named[share.tub]
    common = {each.tub for each in ours} & named.keys()
    left = [each for each in theirs if each.tub not in common]
    place = [each.tub for each in ours if each.tub not in common].index(share.tub)
    return left[place] if place < len(left) else None


def days_later(run: Run, other: Run) -> int | None:
    """How many days after a run another was sown; None where one of them is not dated."""
    begun, other_begun = run.setup.start.date, other.setup.start.date
    if not run.setup.dated or not other.setup.dated or begun is None or other_begun is None:
        return None
    return (other_begun - begun).days


def shifted(day: Day, days: int) -> Day:
    """A day of one run as a day of another."""
    return Day(day.first + days, day.last + days, day.about)


def left_on(run: Run) -> Day | None:
    """The day on which all plants of a run were cleared; None while they may still stand."""
    end = run.ended
    return end.day if end is not None and end.kept is False and not _of_some(run) else None


def _of_some(run: Run) -> bool:
    which = run.ended.which if run.ended is not None else None
    return which is not None and set(which.ids) != set(run.setup.plant_ids)


def never_met(run: Run, other: Run) -> bool:
    """Whether one of two runs was certainly over before the other began."""
    later = days_later(run, other)
    if later is None:
        return False
    left, other_left = left_on(run), left_on(other)
    return (left is not None and left.last < later) or (
        other_left is not None and other_left.last + later < 0
    )
