"""Picks that do not add up: written twice, more spoilt than picked, a tally below its picks or an earlier tally.

In: the context of a run. Out: findings about picks and running tallies.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
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


def spoilt_heavier(context: Context) -> Iterator[Finding]:
    """What is spoilt weighs no more than the pick that it is a part of."""
    for pick in context.run.rows.picks:
        spoilt = pick.spoilt_weight
        if spoilt is None or not _heavier(spoilt, pick.weight):
            continue
        found, whole = amount(spoilt), amount(pick.weight)
        message = f"{found} of the pick {on_day(pick.day)} was spoilt, but all of it weighed {whole}"
        mend = "check both weights: that of the pick includes what is spoilt"
        yield Finding("spoilt-heavier", pick.source, message, mend, found, f"at most {whole}")


def spoilt_disagrees(context: Context) -> Iterator[Finding]:
    """The weight of what is spoilt fits its number: nothing of no piece, all of the pick of all its pieces."""
    mend = "check `count` and `weight` of what is spoilt"
    for pick in context.run.rows.picks:
        spoilt, number, when = pick.spoilt_weight, pick.spoilt, on_day(pick.day)
        if spoilt is None or number is None:
            continue
        found = f"count: {number}, weight: {amount(spoilt)}"
        if number == 0 and spoilt.low > 0:
            message = f"none of the pick {when} was spoilt, but {amount(spoilt)} of it was"
            yield Finding("spoilt-disagrees", pick.source, message, mend, found, "no weight")
        elif number and number == pick.count and _heavier(pick.weight, spoilt):
            whole = amount(pick.weight)
            message = f"all {number} of the pick {when} were spoilt, but only {amount(spoilt)} of its {whole}"
            yield Finding("spoilt-disagrees", pick.source, message, mend, found, f"weight: {whole}")


def _heavier(one: Quantity, other: Quantity) -> bool:
    """Whether a weight is certainly above another, rounding and estimates aside."""
    if other.high is None:
        return False
    estimated = one.about or one.by_eye or other.about or other.by_eye
    return one.low > other.high * (_ESTIMATE if estimated else 1.0) + (one.step + other.step) / 2


def tally_below_picks(context: Context) -> Iterator[Finding]:
    """A running tally covers the picks up to its day."""
    for tally in _weighed(context):
        covered = [pick for pick in context.run.rows.picks if _covered(context, pick, tally)]
        picked = _at_least(covered)
        if not _below(tally, picked, covered):
            continue
        sum_of_picks = _written(picked, tally)
        found, when = amount(tally.amount), on_day(tally.day)
        message = f"{found} had been picked {when}, but the picks up to then come to {sum_of_picks}"
        mend = "check `total_so_far` and the picks before it"
        yield Finding("tally-below-picks", tally.source, message, mend, found, f"{sum_of_picks} or more")


def tally_below_earlier(context: Context) -> Iterator[Finding]:
    """A running tally covers an earlier one of the same plants or of some of them, and the picks after that.

    One below the earlier tally of the very same plants fell, and one below its picks has a finding of its own.
    """
    tallies = _weighed(context)
    for tally in tallies:
        covered = [pick for pick in context.run.rows.picks if _covered(context, pick, tally)]
        if _below(tally, _at_least(covered), covered):
            continue
        sums = [
            (earlier.amount.low + _at_least(since), earlier, since)
            for earlier in tallies
            if earlier.day.last < tally.day.first and _plants(context, earlier) <= _plants(context, tally)
            for since in [
                [p for p in covered if p.day.first > earlier.day.last and p.earlier in ("", "apart")]
            ]
            if since or _plants(context, earlier) != _plants(context, tally)
        ]
        least, earlier, since = max(sums, key=lambda found: found[0], default=(0.0, tally, []))
        if not _below(tally, least, since, earlier):
            continue
        found, sum_of_both, before = amount(tally.amount), _written(least, tally), amount(earlier.amount)
        message = (
            f"{found} had been picked {on_day(tally.day)}, but {before} {on_day(earlier.day)} "
            f"and the picks after it come to {sum_of_both}"
        )
        mend = "check `total_so_far` on both days and the picks between them"
        yield Finding("tally-below-earlier", tally.source, message, mend, found, f"{sum_of_both} or more")


def _weighed(context: Context) -> list[Tally]:
    """The running tallies of weights that have an upper bound."""
    tallies = context.run.rows.tallies
    return [t for t in tallies if t.amount.high is not None and t.amount.dimension is Dimension.MASS]


def _below(tally: Tally, least: float, picks: Sequence[Pick], earlier: Tally | None = None) -> bool:
    """Whether a running tally is certainly below a sum of picks and of an earlier tally, rounding and estimates aside."""
    tallies = [tally] if earlier is None else [tally, earlier]
    rounding = sum(each.amount.step for each in tallies) + sum(pick.weight.step for pick in picks)
    estimated = any(each.amount.about or each.amount.by_eye for each in tallies)
    return least > (tally.amount.high or 0.0) * (_ESTIMATE if estimated else 1.0) + rounding / 2


def _written(grams: float, tally: Tally) -> str:
    return amount(Quantity(grams, grams, Dimension.MASS, step=tally.amount.step))


def _plants(context: Context, tally: Tally) -> frozenset[str]:
    """The plants of a running tally; all of them, where it names none."""
    return frozenset(context.about(tally.which))


def _covered(context: Context, pick: Pick, tally: Tally) -> bool:
    """Whether a tally certainly includes a pick; those of its own visit are included."""
    plants = _plants(context, tally)
    whole = plants == set(context.run.setup.plant_ids)
    mine = whole or (pick.which.named and set(pick.which.ids) <= plants)
    return mine and pick.day.last <= tally.day.first


def _at_least(picks: Iterable[Pick]) -> float:
    """The lower bound of the sum of picks [g]; a pick that includes earlier ones, or may, is not added to them."""
    grams = 0.0
    for pick in picks:
        apart = pick.earlier in ("", "apart")
        grams = grams + pick.weight.low if apart else max(grams, pick.weight.low)
    return grams
