"""Picks that do not add up: written twice, more spoilt than picked, a running tally below its picks.

In: the context of a run. Out: findings about picks and running tallies.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.rows import Pick, Tally
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.judge.context import Context, amount, on_day, whose

_NOWHERE = Source("")
_ESTIMATE = 1.1  # an estimate may be wrong by a tenth. Common practice, no source.


def same_pick_twice(context: Context) -> Iterator[Finding]:
    """No two picks of one day are alike in everything that was written."""
    written: dict[Pick, Pick] = {}
    for pick in context.run.rows.picks:
        first = written.setdefault(replace(pick, entry=0, source=_NOWHERE), pick)
        if first is not pick:
            size = amount(pick.weight) if pick.weight.known else "not weighed"
            message = f"the pick from {whose(pick.which)} {on_day(pick.day)}, {size}, is written twice"
            mend = f"remove one of the two if it is the same pick as on line {first.source.line}"
            yield Finding("same-pick-twice", pick.source, message, mend, size)


def spoilt_exceeds(context: Context) -> Iterator[Finding]:
    """No more pieces are spoilt than were picked."""
    for pick in context.run.rows.picks:
        if pick.spoilt is None or pick.count is None or pick.spoilt <= pick.count:
            continue
        spoilt, count = pick.spoilt, pick.count
        message = f"{spoilt} of the pick {on_day(pick.day)} were spoilt, but only {count} were picked"
        mend = "check `spoilt` and `count`"
        yield Finding("spoilt-exceeds", pick.source, message, mend, f"spoilt: {spoilt}", f"at most {count}")


def tally_below_picks(context: Context) -> Iterator[Finding]:
    """A running tally covers the picks up to its day."""
    plants = frozenset(context.run.setup.plant_ids)
    for tally in context.run.rows.tallies:
        if tally.amount.high is None or tally.amount.dimension is not Dimension.MASS:
            continue
        covered = [pick for pick in context.run.rows.picks if _covered(pick, tally, plants)]
        picked = _at_least(covered)
        rounding = (tally.amount.step + sum(pick.weight.step for pick in covered)) / 2
        tolerance = _ESTIMATE if tally.amount.about or tally.amount.by_eye else 1.0
        if picked <= tally.amount.high * tolerance + rounding:
            continue
        sum_of_picks = amount(Quantity(picked, picked, Dimension.MASS, step=tally.amount.step))
        found, when = amount(tally.amount), on_day(tally.day)
        message = f"{found} had been picked {when}, but the picks up to then come to {sum_of_picks}"
        mend = "check `total_so_far` and the picks before it"
        yield Finding("tally-below-picks", tally.source, message, mend, found, f"{sum_of_picks} or more")


def _covered(pick: Pick, tally: Tally, plants: frozenset[str]) -> bool:
    """Whether a tally certainly includes a pick; those of its own visit are included."""
    whole = not tally.which.named or plants == set(tally.which.ids)
    mine = whole or (pick.which.named and set(pick.which.ids) <= set(tally.which.ids))
    return mine and pick.day.last <= tally.day.first


def _at_least(picks: Iterable[Pick]) -> float:
    """The lower bound of the sum of picks [g]; a pick that includes earlier ones, or may, is not added to them."""
    grams = 0.0
    for pick in picks:
        apart = pick.earlier in ("", "apart")
        grams = grams + pick.weight.low if apart else max(grams, pick.weight.low)
    return grams
