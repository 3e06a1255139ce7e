"""How two arms compare over several runs, and how much may be said: one row of a decision table.

In: for each independent unit (a system, tub and stretch of time) the value of either arm. Out: `Evidence`: the row, who
was ahead how often, the difference and chances. Plants of one run share a tub, so that the run is what counts: a
difference inside one run describes its tubs (Hurlbert 1984). A value that is open, an interval or by eye has no mean:
such runs are put in order where the intervals do not overlap, and nothing more.

Hurlbert, S. H. (1984). Pseudoreplication and the design of ecological field experiments. Ecological Monographs 54,
187-211.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sitegen.core.facts.across import Evidence, Pair
from sitegen.core.values.quantity import Quantity
from sitegen.measure.across.significance import (
    MOST_PAIRED,
    holm_adjusted,
    luck_of_order,
    permutation_test,
    sign_flip_interval,
    sign_flip_test,
    welch_interval,
)

ENOUGH_PAIRED = 6  # the smallest chance of five runs is one in sixteen: no five can be below 0.05
ENOUGH_APART = 4  # a side: three against three cannot be below one in ten


def order_of(first: Quantity, second: Quantity) -> int | None:
    """1 where the second is certainly larger, -1 where smaller, 0 where both are one number; None where they overlap."""
    if first.exact and second.exact and first.low == second.low:
        return 0
    if first.high is not None and second.low > first.high:
        return 1
    if second.high is not None and first.low > second.high:
        return -1
    return None


def _measured(value: Quantity) -> bool:
    """Whether it is a number that a mean may take: neither an interval, nor by eye."""
    return value.single and not value.by_eye


def evidence_of(pairs: Iterable[Pair]) -> Evidence:
    """What may be said of two arms, for one measure.

    Units that held both arms decide, where there are any: within them everything but the arm is alike. Without such
    units, those with either arm are compared as they are: they differ in more than the arm.
    """
    known = tuple(pairs)
    both = {p.unit: (p.first, p.second) for p in known if p.first is not None and p.second is not None}
    if both:
        return _within(both)
    first = [pair.first for pair in known if pair.first is not None]
    second = [pair.second for pair in known if pair.second is not None]
    if not first or not second:
        return Evidence("nothing", len(first) + len(second))
    return _apart(first, second)


def _within(both: Mapping[str, tuple[Quantity, Quantity]]) -> Evidence:
    orders = tuple((unit, order_of(first, second)) for unit, (first, second) in both.items())
    bounds = not all(_measured(first) and _measured(second) for first, second in both.values())
    found = Evidence("one run", len(both), orders, bounds)
    if len(both) == 1:
        return found
    ahead, behind = len(found.units(1)), len(found.units(-1))
    luck = luck_of_order(max(ahead, behind), ahead + behind) if ahead + behind else None
    found = replace(found, row="few runs", chance=luck)
    # With more than 16 runs the order alone says enough, and all signs would be too many to look at.
    if bounds or not ENOUGH_PAIRED <= len(both) <= MOST_PAIRED:
        return found
    differences = [second.low - first.low for first, second in both.values()]
    chance = sign_flip_test(differences)
    interval = sign_flip_interval(differences)
    return replace(found, row="many runs", difference=interval, chance=chance, adjusted=chance)


def _apart(first: Sequence[Quantity], second: Sequence[Quantity]) -> Evidence:
    found = Evidence(
        "different runs", len(first) + len(second), bounds=not all(map(_measured, (*first, *second)))
    )
    if found.bounds or min(len(first), len(second)) < ENOUGH_APART:
        return found
    sides = [value.low for value in first], [value.low for value in second]
    chance, interval = permutation_test(*sides), welch_interval(*sides)
    return replace(found, row="many different runs", difference=interval, chance=chance, adjusted=chance)


def allowed_for_others(found: Mapping[str, Evidence]) -> dict[str, Evidence]:
    """Several comparisons of one measure, the chance of each raised for the others (Holm)."""
    chances = {name: each.adjusted for name, each in found.items()}
    raised = holm_adjusted({name: chance for name, chance in chances.items() if chance is not None})
    return {name: replace(each, adjusted=raised.get(name)) for name, each in found.items()}
