"""Picks that do not add up: written twice, more spoilt than picked, a tally below its picks.

In: a case. Out: findings about picks and running tallies.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.rows import Pick, Tally
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.judge.case import Case
from sitegen.judge.words import amount, on_day, whose

_NOWHERE = Source("")
_ROUGH = 1.1  # an estimate may be out by a tenth before it is doubted; common practice, no source


def same_pick_twice(case: Case) -> Iterator[Finding]:
    """No two picks of one day are alike in everything that was written."""
    for first, *more in _alike(case.run.rows.picks):
        for pick in more:
            size = amount(pick.weight) if pick.weight.known else "not weighed"
            yield Finding(
                "same-pick-twice",
                pick.source,
                f"the pick from {whose(pick.which)} {on_day(pick.day)}, {size}, is written twice",
                f"remove one of the two if it is the same pick as on line {first.source.line}",
                size,
            )


def _alike(picks: Iterable[Pick]) -> Iterator[list[Pick]]:
    """Picks grouped by all that was written; most differ in their day, plants or weight already."""
    near: dict[tuple[int, tuple[str, ...], float], list[Pick]] = defaultdict(list)
    for pick in picks:
        near[pick.day.first, pick.which.ids, pick.weight.low].append(pick)
    for group in near.values():
        alike: dict[Pick, list[Pick]] = defaultdict(list)
        for pick in group if len(group) > 1 else ():
            alike[_without_place(pick)].append(pick)
        yield from alike.values()


def _without_place(pick: Pick) -> Pick:
    """A pick as seen, without where and in which entry it was written."""
    return replace(pick, entry=0, source=_NOWHERE)


def spoilt_exceeds(case: Case) -> Iterator[Finding]:
    """No more pieces are spoilt than were picked."""
    for pick in case.run.rows.picks:
        if pick.spoilt is None or pick.count is None or pick.spoilt <= pick.count:
            continue
        yield Finding(
            "spoilt-exceeds",
            pick.source,
            f"{pick.spoilt} of the pick {on_day(pick.day)} were spoilt, but only {pick.count} were picked",
            "check `spoilt` and `count`",
            f"spoilt: {pick.spoilt}",
            f"at most {pick.count}",
        )


def tally_below_picks(case: Case) -> Iterator[Finding]:
    """A running tally covers the picks up to its day."""
    plants = case.run.setup.plant_ids
    for tally in case.run.rows.tallies:
        if tally.amount.high is None or tally.amount.dimension is not Dimension.MASS:
            continue
        covered = [pick for pick in case.run.rows.picks if _covered(pick, tally, plants)]
        picked = _at_least(covered)
        rounding = (tally.amount.step + sum(pick.weight.step for pick in covered)) / 2
        rough = _ROUGH if tally.amount.about or tally.amount.by_eye else 1.0
        if picked <= tally.amount.high * rough + rounding:
            continue
        sum_of_picks = amount(Quantity(picked, picked, Dimension.MASS, step=tally.amount.step))
        yield Finding(
            "tally-below-picks",
            tally.source,
            f"{amount(tally.amount)} had been picked {on_day(tally.day)}, "
            f"but the picks up to then come to {sum_of_picks}",
            "check `total_so_far` and the picks before it",
            amount(tally.amount),
            f"{sum_of_picks} or more",
        )


def _covered(pick: Pick, tally: Tally, plants: tuple[str, ...]) -> bool:
    """Whether a tally certainly holds a pick; the picks of its own visit are in it."""
    whole = not tally.which.named or set(tally.which.ids) == set(plants)
    mine = whole or (pick.which.named and set(pick.which.ids) <= set(tally.which.ids))
    return mine and pick.day.last <= tally.day.first


def _at_least(picks: Iterable[Pick]) -> float:
    """The least that picks come to [g]; one that holds earlier picks, or may, is not added to them."""
    grams = 0.0
    for pick in picks:
        apart = pick.earlier in ("", "apart")
        grams = grams + pick.weight.low if apart else max(grams, pick.weight.low)
    return grams
