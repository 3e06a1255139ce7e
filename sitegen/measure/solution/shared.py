"""Tubs that plants of another run stand in too: the part of a run in what was put into them.

In: the tubs that a run shares, each with what the other log has of it. Out: sums as intervals, from what was put in
while the run had the tub alone to all that both logs have until the run ended; what another log has, as `OtherLog`. Each
log counts its own records: none is copied from one to the other, and no sum is divided between two crops.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sitegen.core.facts.figure import Remark, remark
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import OtherDoses, OtherLog, SharedTub
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, total, unknown
from sitegen.core.values.units import Dimension


def shares_of(run: Run, tub: str) -> tuple[SharedTub, ...]:
    """The runs that one tub is shared with; all shared tubs where `tub` is empty."""
    return tuple(share for share in run.setup.shares if not tub or share.tub == tub)


def shared_remark(run: Run, tub: str = "") -> Remark | None:
    """A remark on a tub that is shared; None where it is not."""
    tubs = tuple(dict.fromkeys(share.tub for share in shares_of(run, tub)))
    if not tubs:
        return None
    uncounted = not_counted(run, tub)
    if len(run.setup.tubs) == 1:
        return remark("tub_shared_uncounted" if uncounted else "tub_shared")
    return remark("tubs_shared_uncounted" if uncounted else "tubs_shared", n=len(tubs), tubs=tubs)


def not_counted(run: Run, tub: str = "") -> bool:
    """Whether a tub is shared with a run whose log nothing is known of: sums then have no upper bound."""
    return any(share.log is None for share in shares_of(run, tub))


def alone(run: Run, tub: str, day: Day) -> bool:
    """Whether a tub certainly held plants of no other run on a day; of no tub by name, none of them may be shared."""
    return all(_away(share.log, day) for share in shares_of(run, tub))


def _away(log: OtherLog | None, day: Day) -> bool:
    if log is None or log.since is None:
        return False
    return day.last < log.since.first or (log.until is not None and day.first > log.until.last)


def part_of_run(own: Quantity, alone_in_it: Quantity, others: Iterable[Quantity]) -> Quantity:
    """A sum over shared tubs: from what was put in while they were not shared, to all that the logs have."""
    return replace(total([own, *others], own.dimension), low=alone_in_it.low)


def nothing_known(value: Quantity) -> bool:
    """Whether a sum is no more than "at least nothing"."""
    return value.low <= 0 and value.high is None


def water_of_others(shares: Iterable[SharedTub]) -> tuple[Quantity, ...]:
    """The water that other logs have; unknown where such a log was not read."""
    found = [unknown(Dimension.VOLUME) if share.log is None else share.log.water for share in shares]
    return tuple(each for each in found if each is not None)


def refills_of_others(shares: Iterable[SharedTub]) -> tuple[Quantity, ...]:
    """The number of refills that each other log has; unknown where it was not read."""
    found = [unknown(Dimension.COUNT) if share.log is None else share.log.refills for share in shares]
    return tuple(each for each in found if each is not None)


def changes_of_others(shares: Iterable[SharedTub]) -> tuple[Quantity, ...]:
    """The number of water changes that each other log has; unknown where it was not read."""
    logs = [share.log for share in shares]
    return tuple(unknown(Dimension.COUNT) if log is None else counted(log.changes) for log in logs)


def empty_before(run: Run, tub: str, day: Day) -> bool:
    """Whether no other run can have stood in a tub before a day."""
    logs = [share.log for share in shares_of(run, tub)]
    return all(log is not None and log.since is not None and log.since.first >= day.last for log in logs)


def unknown_before(run: Run, tub: str) -> bool:
    """Whether nobody knows since when another run has stood in a tub."""
    return any(share.log is None or share.log.since is None for share in shares_of(run, tub))


def doses_of_others(shares: Iterable[SharedTub], *, adjusts: bool) -> Mapping[str, tuple[OtherDoses, ...]]:
    """The doses that other logs have, by product."""
    found: dict[str, list[OtherDoses]] = {}
    for share in shares:
        for each in share.log.doses if share.log is not None else ():
            if each.adjusts == adjusts:
                found.setdefault(each.product, []).append(each)
    return {product: tuple(doses) for product, doses in found.items()}
