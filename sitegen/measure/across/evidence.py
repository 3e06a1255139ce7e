"""How two arms compare over several runs, and how much may be said: one row of a decision table.

In: for each independent unit (a system, tub and stretch of time) the value of either arm. Out: `Evidence`: the row, who
was ahead how often, the difference and chances. Plants of one run share a tub, so that the run is what counts: a
difference inside one run describes its tubs (Hurlbert 1984). A value that is open, an interval or by eye has no mean:
such runs are put in order where the intervals do not overlap, and nothing more.

Hurlbert, S. H. (1984). Pseudoreplication and the design of ecological field experiments. Ecological Monographs 54,
187-211.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import reduce
from typing import TypeVar

from sitegen.core.facts.across import Evidence, Interval, Pair, Row, Test
from sitegen.core.values.quantity import Quantity
from sitegen.measure.across.significance import (
    MOST_PAIRED,
    holm_adjusted,
    interval_of_order,
    luck_of_order,
    permutation_test,
    sign_flip_interval,
    sign_flip_test,
    welch_interval,
    welch_test,
)

_Name = TypeVar("_Name", bound=Hashable)

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
        return _with_gap(found, *next(iter(both.values())))
    ahead, behind = len(found.units(1)), len(found.units(-1))
    luck = luck_of_order(max(ahead, behind), ahead + behind) if ahead + behind else None
    found = replace(found, row="few runs", chance=luck, test="order" if luck else "")
    if bounds or len(both) < ENOUGH_PAIRED:
        return found
    differences = [second.low - first.low for first, second in both.values()]
    if len(both) > MOST_PAIRED:  # all signs would be too many to look at
        return _tested(found, luck or Fraction(1), interval_of_order(differences), "order")
    return _tested(found, sign_flip_test(differences), sign_flip_interval(differences), "signs")


def _tested(found: Evidence, chance: Fraction, interval: Interval, test: Test) -> Evidence:
    row: Row = "many runs" if found.row == "few runs" else "many different runs"
    return replace(found, row=row, difference=interval, chance=chance, adjusted=chance, test=test)


def _with_gap(found: Evidence, first: Quantity, second: Quantity) -> Evidence:
    """With the order of two values, and by how much one was ahead."""
    order = order_of(first, second)
    if not order or first.by_eye or second.by_eye:
        return replace(found, order=order)
    more, less = (second, first) if order == 1 else (first, second)
    low = more.low - (less.low if less.high is None else less.high)
    high = None if more.high is None else more.high - less.low
    about, step = first.about or second.about, max(first.step, second.step)
    return replace(found, order=order, gap=Quantity(low, high, first.dimension, about=about, step=step))


def _apart(first: Sequence[Quantity], second: Sequence[Quantity]) -> Evidence:
    found = Evidence(
        "different runs", len(first) + len(second), bounds=not all(map(_measured, (*first, *second)))
    )
    if min(len(first), len(second)) < ENOUGH_APART:
        return found
    if found.bounds:
        return _with_gap(replace(found, row="many different runs"), hull(first), hull(second))
    sides = [value.low for value in first], [value.low for value in second]
    chance = permutation_test(*sides)
    if chance is None:
        return _tested(found, welch_test(*sides), welch_interval(*sides), "welch")
    return _tested(found, chance, welch_interval(*sides), "groups")


def hull(values: Iterable[Quantity]) -> Quantity:
    """The narrowest quantity that holds all of them, of which there is at least one."""
    return reduce(_joined, values)


def _joined(one: Quantity, other: Quantity) -> Quantity:
    bounded = one.high is not None and other.high is not None
    return Quantity(
        min(one.low, other.low),
        max(one.high or 0.0, other.high or 0.0) if bounded else None,
        one.dimension,
        one.about or other.about,
        one.by_eye or other.by_eye,
        max(one.open, other.open),
        max(one.unweighed, other.unweighed),
        max(one.step, other.step),
    )


def allowed_for_others(found: Mapping[_Name, Evidence]) -> dict[_Name, Evidence]:
    """Several comparisons of one measure, the chance of each raised for the others (Holm)."""
    tested = [name for name, each in found.items() if each.adjusted is not None]
    raised = holm_adjusted({str(n): found[name].adjusted or Fraction(0) for n, name in enumerate(tested)})
    adjusted = {name: raised[str(n)] for n, name in enumerate(tested)}
    return {
        name: replace(each, adjusted=adjusted[name], beside=len(tested) - 1) if name in adjusted else each
        for name, each in found.items()
    }
