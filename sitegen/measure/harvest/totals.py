"""Picks and running tallies put together, so that nothing is counted twice.

In: `Weighing` (one pick or tally each). Out: `Part`s that do not overlap, and their total. Never guesses
whether one weight holds another: where the log is unclear, the total is an interval.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Pick, Run, Tally, Which
from sitegen.core.values.quantity import Quantity, propagate, total
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import WEIGHTS, Conditions, day_key, formula

HOLDING = ("included", "unclear", "tally")
HELD: Conditions = {"a later weight holds it": WEIGHTS}


@dataclass(frozen=True, slots=True)
class Weighing:
    """One weight with its plants; `holds` tells whether earlier weights of the same plants are part of it.

    `order` is (first day, last day, entry), by which weights are sorted.
    """

    scope: frozenset[str]
    amount: Quantity
    source: Source
    order: tuple[int, int, int]
    holds: Literal["", "included", "apart", "unclear", "tally"] = ""


@dataclass(frozen=True, slots=True)
class Part:
    """An amount that overlaps no other; `inner` are the earlier parts that its weighing `item` holds."""

    scope: frozenset[str]
    amount: Quantity
    rows: tuple[Source, ...]
    item: Weighing
    inner: tuple[Part, ...] = ()

    @property
    def items(self) -> tuple[Weighing, ...]:
        """All its weighings."""
        return (self.item, *(item for part in self.inner for item in part.items))

    @property
    def mutual(self) -> bool:
        """Whether its weighing and one inside may each hold the other: their days leave open which came first."""
        inside = (item for part in self.inner for item in part.items)
        return any(item.holds in HOLDING and _earlier(item.order, self.item) is None for item in inside)

    @property
    def beyond(self) -> Quantity:
        """The amount of the weighing itself beyond the parts inside."""
        if not self.inner:
            return self.amount
        # Parts inside are weighed or not on their own account: only the outer weight's counts are its rest's.
        rest = _less(self.amount, [part.amount for part in self.inner])
        return replace(rest, open=self.amount.open, unweighed=self.amount.unweighed)


def in_order(weighings: Iterable[Weighing]) -> tuple[Weighing, ...]:
    """By day and entry; within an entry a tally comes after the picks, which it counts in.

    A weight that may hold others comes after all that can be earlier, where days are not certain.
    """
    written = sorted(weighings, key=lambda t: (*_place(t.order), t.holds == "tally", t.source))
    if all(first == last for item in written for first, last, _ in (item.order,)):
        return tuple(written)
    place = {item: n for n, item in enumerate(written)}
    for item in written:
        if item.holds in HOLDING:
            place[item] = max(
                n for n, other in enumerate(written) if other is item or _earlier(other.order, item) is None
            )
    return tuple(sorted(written, key=lambda item: (place[item], item.holds in HOLDING, item.order)))


def _place(order: tuple[int, int, int]) -> tuple[int, int, int]:
    """The place of a weight among others; one "before day 40" stands beside day 39."""
    first, last, entry = order
    return (last if first <= 0 < last - 1 else first, last, entry)


def _earlier(order: tuple[int, int, int], item: Weighing) -> bool | None:
    """Whether a weight is from before another; None where their days leave that open.

    Of the weights of its own visit a tally comes after the others; a pick does not.
    """
    first, last, entry = order
    if entry == item.order[2]:
        return item.holds == "tally"
    if first == last == item.order[0] == item.order[1]:
        return entry < item.order[2]
    if last < item.order[0]:
        return True
    return False if first > item.order[1] else None


def _at_least(amount: Quantity, inside: Quantity) -> Quantity:
    """An amount without an upper bound is at least as large as its parts."""
    return amount if amount.high is not None else replace(amount, low=max(amount.low, inside.low))


def _either(amount: Quantity, before: Quantity) -> Quantity:
    """From one holding the other, to both side by side."""
    both = total((amount, before), amount.dimension)
    return replace(both, low=max(amount.low, before.low))


def _absorb(item: Weighing, overlapping: Sequence[Part]) -> Part:
    before = total((part.amount for part in overlapping), item.amount.dimension)
    clear = item.holds != "unclear" and all(
        part.scope <= item.scope and all(_earlier(inside.order, item) for inside in part.items)
        for part in overlapping
    )
    amount = _at_least(item.amount, before) if clear else _either(item.amount, before)
    scope = item.scope.union(*(part.scope for part in overlapping))
    rows = (*(row for part in overlapping for row in part.rows), item.source)
    return Part(scope, amount, rows, item, tuple(overlapping))


def _may_hold(item: Weighing, part: Part) -> bool:
    """Whether a weight may hold some of a part: a tally all before it, a pick only those of earlier visits."""
    if item.holds not in HOLDING or not part.scope & item.scope:
        return False
    return any(_earlier(inside.order, item) is not False for inside in part.items)


def running_parts(weighings: Iterable[Weighing]) -> Iterator[tuple[Part, ...]]:
    """The parts after each weight, in order; one that holds earlier weights of its plants takes their place."""
    parts: tuple[Part, ...] = ()
    for item in in_order(weighings):
        overlapping = [part for part in parts if _may_hold(item, part)]
        rest = [part for part in parts if part not in overlapping] if overlapping else parts
        parts = (*rest, _absorb(item, overlapping))
        yield parts


def parts_of(weighings: Iterable[Weighing]) -> tuple[Part, ...]:
    """The parts after all weights."""
    *_, parts = ((), *running_parts(weighings))
    return parts


@formula(reads=WEIGHTS, exact_if=HELD)
def total_weight(weighings: Iterable[Weighing], dimension: Dimension = Dimension.MASS) -> Quantity:
    """Total picked.

    All weights together. A total so far covers everything picked up to it, and later picks are added;
    a pick that includes earlier ones covers them too. Where the log leaves open whether it does, the total
    is a range. A pick that nobody weighed makes it "at least".

    Parameters
    ----------
    weighings
        Picks and tallies [g].
    dimension
        Of the amounts: weights, or pieces.

    Returns
    -------
    Quantity
        The total [g].

    Notes
    -----
    With w the weights of picks since the last total so far T::

        total = T + Σ w

    A weight w of which it is unclear whether it includes the earlier weights e gives max(w, e) to w + e.

    """
    return total((part.amount for part in parts_of(weighings)), dimension)


def _less(whole: Quantity, parts: Sequence[Quantity]) -> Quantity:
    known = total(parts, whole.dimension)
    step = max(whole.step, known.step)
    return propagate(
        lambda a, b: max(0.0, a - b),
        increasing=[whole],
        decreasing=[known],
        dimension=whole.dimension,
        step=step,
    )


@dataclass(frozen=True, slots=True)
class HarvestRecords:
    """The picks and tallies of one run."""

    run: Run
    picks: tuple[Pick, ...]
    tallies: tuple[Tally, ...]
    everyone: frozenset[str]

    @classmethod
    def of(cls, run: Run) -> HarvestRecords:
        """The picks and tallies of a run, in the order of days and entries."""
        picks = sorted(run.rows.picks, key=lambda p: (*day_key(p.day), p.entry, p.source))
        tallies = sorted(run.rows.tallies, key=lambda t: (*day_key(t.day), t.entry, t.source))
        weights = (tally for tally in tallies if tally.amount.dimension is Dimension.MASS)
        return cls(run, tuple(picks), tuple(weights), frozenset(run.setup.plant_ids))

    def scope(self, which: Which, *, so_far: bool = False) -> frozenset[str]:
        """The plants a weight may come from: those named, else any.

        `all` are the plants that stand; in a weight of everything `so_far` also those lost by then.
        """
        everyone = not which.ids or (so_far and which.word == "all")
        return self.everyone if everyone else frozenset(which.ids)

    def weighing(self, pick: Pick, amount: Quantity | None = None) -> Weighing:
        """A pick with its weight, or with another amount of it."""
        order = (pick.day.first, pick.day.last, pick.entry)
        scope = self.scope(pick.which, so_far=pick.earlier in ("included", "unclear"))
        return Weighing(scope, amount or pick.weight, pick.source, order, pick.earlier)

    @property
    def everything(self) -> tuple[Weighing, ...]:
        """Picks and tallies in order."""
        tallied = [
            Weighing(
                self.scope(t.which, so_far=True),
                t.amount,
                t.source,
                (t.day.first, t.day.last, t.entry),
                "tally",
            )
            for t in self.tallies
        ]
        return in_order([*(self.weighing(pick) for pick in self.picks), *tallied])

    @property
    def rows(self) -> tuple[Source, ...]:
        """Where all of it is written."""
        return tuple(item.source for item in self.everything)
