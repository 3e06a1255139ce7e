"""What the logs of other runs have of the tubs that a run shares with them.

In: a run, and the runs that it shares tubs with. Out: the run, with an `OtherLog` for each shared tub in its set-up.
Days are those of this run where both starts are dated; records from after its end are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from sitegen.core.records.rows import Deed, Run, Watering
from sitegen.core.records.setup import OtherDoses, OtherLog, SharedTub
from sitegen.core.records.sharing import counterpart, days_later, left_on, shifted
from sitegen.core.values.day import Day
from sitegen.measure.solution.feed import alike, dose_count, doses_of, feed_added
from sitegen.measure.solution.water import (
    Fillings,
    opened,
    refill_count,
    uncounted_feed,
    uncounted_water,
    water_added,
)


def with_other_logs(run: Run, others: Mapping[str, Run | None]) -> Run:
    """A run that knows what other logs have of its shared tubs; one that is not to be read leaves them open."""
    shares = tuple(_with_log(run, share, others.get(share.run)) for share in run.setup.shares)
    return replace(run, setup=replace(run.setup, shares=shares))


def _with_log(run: Run, share: SharedTub, other: Run | None) -> SharedTub:
    theirs = counterpart(share, run, other) if other is not None else None
    if other is None or theirs is None:
        return share
    # Whether a filling of the other was its first depends on whether this run was there before.
    known = tuple(
        replace(each, log=_times(other, run)) if each.run == run.id else each for each in other.setup.shares
    )
    there = replace(other, setup=replace(other.setup, shares=known))
    return replace(share, log=_log(run, there, theirs.tub))


def _times(run: Run, other: Run) -> OtherLog:
    """When another run was in a tub, in days of this run."""
    later, left = days_later(run, other), left_on(other)
    if later is None:
        return OtherLog()
    return OtherLog(since=Day.on(later), until=shifted(left, later) if left else None)


def _log(run: Run, other: Run, tub: str) -> OtherLog:
    fillings, later, left = Fillings.of(other), days_later(run, other), left_on(run)

    def counts(day: Day) -> bool:
        """Whether a record may lie before the end of this run."""
        return later is None or left is None or day.first + later <= left.last

    poured = [event for event in fillings.into(tub) if counts(event.day)]
    by_routine = bool(uncounted_water(other, tub))
    water = water_added(map(fillings.amount, poured))
    refills = refill_count([event for event in poured if _refills(event, fillings)])
    return replace(
        _times(run, other),
        water=(opened(water) if by_routine else water) if poured or by_routine else None,
        refills=opened(refills) if by_routine else refills,
        changes=sum(event.deed is Deed.CHANGE for event in poured),
        doses=tuple(
            each for deed in (Deed.FEED, Deed.ADJUST) for each in _doses(other, tub, fillings, deed, counts)
        ),
    )


def _refills(event: Watering, fillings: Fillings) -> bool:
    return event.deed is Deed.WATER and not fillings.first_filling(event)


def _doses(
    other: Run, tub: str, fillings: Fillings, deed: Deed, counts: Callable[[Day], bool]
) -> Iterator[OtherDoses]:
    """Each product that the other log has for the tub, or that a routine of it gave."""
    products = {product.id: product for product in other.setup.products}
    doses = [
        dose for dose in doses_of(other, fillings, products, deed) if dose.tub == tub and counts(dose.day)
    ]
    routines = uncounted_feed(other, tub) if deed is Deed.FEED else ()
    by_routine = [routine.product for routine in routines]
    for product in dict.fromkeys([*(dose.product for dose in doses), *by_routine]):
        given = [dose for dose in doses if dose.product == product]
        amounts, dimension, _ = alike(given)
        amount, times = feed_added(amounts, dimension), dose_count(given)
        if product in by_routine:
            amount, times = opened(amount), opened(times)
        yield OtherDoses(product, amount, times, adjusts=deed is Deed.ADJUST)
