"""The share of one row in the harvest: bounds that hold together with those of all other rows.

In: parts of the total, and which weights belong to a row for certain or perhaps. Out: `RowWeight`. For each amount
of the total there are amounts within the bounds of the rows and of their remainder that make it up. Never splits a
weight of several rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.core.findings.source import Source
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.totals import HELD, Part, Weighing
from sitegen.measure.methods import WEIGHTS, Column, Conditions, formula

OF_PLANTS: tuple[Column, ...] = (*WEIGHTS, "picks.day", "picks.plants", "tallies.day")
INSIDE: Conditions = {
    **HELD,
    "all plants that it may be of are in the row": ("picks.plants",),
    "no plant of the row was moved on these days": ("picks.day", "tallies.day"),
}
Belongs = Callable[[Weighing], bool]


@dataclass(frozen=True, slots=True)
class RowWeight:
    """The weight of a row, with what it is made of.

    `own` are the amounts that are its own for certain, `shared` the weights of which it may have a share; `bounded`
    counts own weights whose upper bound comes from a later weight.
    """

    amount: Quantity
    own: tuple[Quantity, ...]
    shared: tuple[Weighing, ...]
    rows: tuple[Source, ...]
    bounded: int = 0

    @property
    def untouched(self) -> bool:
        """Whether no weight can belong to it."""
        return not self.own and not self.shared

    @property
    def value(self) -> Quantity | None:
        """Its weight; None where it may have a share of a weight without limit, and nothing of its own."""
        return None if not self.own and self.amount.high is None else self.amount


@dataclass(frozen=True, slots=True)
class _Bounds:
    """A share of a part: the least and the most of it, and the least that is not of it."""

    low: float
    high: float | None
    outside: float


def _is_rounding(amount: Quantity) -> bool:
    """Whether the rest of a weight is no more than its rounding."""
    return amount.high is not None and amount.high <= amount.step / 2


def _all_of(part: Part, belongs: Belongs) -> bool:
    return belongs(part.item) and all(_all_of(inner, belongs) for inner in part.inner)


def _any_of(part: Part, belongs: Belongs) -> bool:
    return belongs(part.item) or any(_any_of(inner, belongs) for inner in part.inner)


def _added(numbers: Sequence[float | None]) -> float | None:
    known = [number for number in numbers if number is not None]
    return sum(known) if len(known) == len(numbers) else None


def _share(part: Part, certain: Belongs, possible: Belongs) -> _Bounds:
    amount, beyond, item = part.amount, part.beyond, part.item
    if _all_of(part, certain):
        return _Bounds(amount.low, amount.high, 0.0)
    if not _any_of(part, possible):
        return _Bounds(0.0, 0.0, amount.low)
    if part.mutual:
        return _Bounds(0.0, amount.high, 0.0)
    inside = [_share(inner, certain, possible) for inner in part.inner]
    # Weights that are more than the later weight that holds them contradict it: each may be the wrong one.
    over = max(0.0, sum(inner.amount.low for inner in part.inner) - amount.low)
    low = sum(each.low for each in inside) + (beyond.low if certain(item) else 0.0)
    outside = sum(each.outside for each in inside) + (0.0 if possible(item) else beyond.low)
    high = _added([*(each.high for each in inside), beyond.high if possible(item) else 0.0])
    low, outside = max(0.0, low - over), max(0.0, outside - over)
    if amount.high is not None and sum(inner.amount.low for inner in part.inner) <= amount.high:
        room = max(low, amount.high - outside)
        high = room if high is None else min(high, room)
    return _Bounds(low, high, outside)


def weights_in(part: Part) -> Iterator[tuple[Weighing, Quantity]]:
    """Each weight of a part with its amount beyond the weights that it holds, unless that is mere rounding."""
    for inner in part.inner:
        yield from weights_in(inner)
    if not part.inner or not _is_rounding(part.beyond):
        yield part.item, part.beyond


def _of_part(part: Part, certain: Belongs, possible: Belongs) -> RowWeight:
    """The share of a row in one part."""
    if _all_of(part, certain):
        return RowWeight(part.amount, (part.amount,), (), part.rows)
    weights = [(item, amount) for item, amount in weights_in(part) if possible(item)]
    own = [amount for item, amount in weights if certain(item)]
    share = _share(part, certain, possible)
    narrowed = [amount for amount in own if amount.high is None] if share.high is not None else []
    if narrowed:
        own = [replace(q, high=q.low, open=0, unweighed=0) if q.high is None else q for q in own]
    # An upper bound that a later weight sets rests on all weights that it holds.
    marked = [amount for _, amount in weights_in(part)] if narrowed else [amount for _, amount in weights]
    marks = total((*marked, part.amount) if narrowed else marked, Dimension.MASS)
    if share.high is not None:
        marks = replace(marks, open=0, unweighed=0)
    return RowWeight(
        replace(marks, low=share.low, high=share.high),
        tuple(own),
        tuple(item for item, _ in weights if not certain(item)),
        tuple(item.source for item, _ in weights),
        len(narrowed),
    )


@formula(reads=OF_PLANTS, exact_if=INSIDE)
def weight_of_row(parts: Sequence[Part], certain: Belongs, possible: Belongs) -> RowWeight:
    """Harvest of a plant, group, variety, tub, part, grade or flush.

    The weights that are its own for certain, up to these and all of each weight that it shares. A weight without an
    upper limit leaves it without one.

    Parameters
    ----------
    parts
        Weights that do not overlap, each with the earlier ones that it holds [g].
    certain, possible
        Whether a weight is the row's own, and whether some of it may be.

    Returns
    -------
    RowWeight
        The weight of the row [g].

    Notes
    -----
    With o its own weights, s the weights that it shares, and n the weights of others inside a later weight W that
    includes them all::

        Σ o  to  min(Σ o + Σ s, W - Σ n)

    A plant that changed its tub counts for its groups and its tub until that day. What is in no part alone is a
    remainder, listed by itself.

    """
    return _together([_of_part(part, certain, possible) for part in parts if _any_of(part, possible)])


def running_weights(
    steps: Iterable[Sequence[Part]], certain: Belongs, possible: Belongs
) -> Iterator[Quantity]:
    """The weight of a row after each weight of its run."""
    # The share in a part is kept, with the part, so that its id stays its own: a part stands in every later step.
    shares: dict[int, tuple[Part, RowWeight | None]] = {}
    for parts in steps:
        for part in parts:
            if id(part) not in shares:
                share = _of_part(part, certain, possible) if _any_of(part, possible) else None
                shares[id(part)] = (part, share)
        found = (shares[id(part)][1] for part in parts)
        yield _added_up([share for share in found if share is not None])


def _added_up(found: Sequence[RowWeight]) -> Quantity:
    """The amount of a row from its shares in the parts."""
    amount = total((each.amount for each in found), Dimension.MASS)
    own = [amount for each in found for amount in each.own]
    # The scale of its own weights: a weight shared on a coarser one would round them away.
    step = total(own, Dimension.MASS).step or amount.step
    return amount if amount.step == step else replace(amount, step=step)


def _together(found: Sequence[RowWeight]) -> RowWeight:
    """The weight of a row from its shares in the parts."""
    return RowWeight(
        _added_up(found),
        tuple(amount for each in found for amount in each.own),
        tuple(item for each in found for item in each.shared),
        tuple(row for each in found for row in each.rows),
        sum(each.bounded for each in found),
    )
