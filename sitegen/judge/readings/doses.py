"""Doses of feed far from the label of the product.

In: the context of a run. Out: warnings at the feed. The dose is the amount by the water added at the same visit.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import fsum

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Addition, Deed, Watering
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.judge.context import Context
from sitegen.judge.wording import amount, number, on_day

# Half and double doses are chosen; outside these shares of the label a unit or a decimal point may be wrong. Common
# practice, no source.
_LEAST, _MOST = 0.2, 2.5
_DOSES = {Dimension.VOLUME_DOSE: Dimension.VOLUME, Dimension.MASS_DOSE: Dimension.MASS}


def dose_unlike_label(context: Context) -> Iterator[Finding]:
    """A feed is near its label's dose for the water that was added with it."""
    labels = {product.id: product.dose for product in context.run.setup.products}
    water = _water_added(context)
    for feed in context.run.rows.of(Addition):
        label = labels.get(feed.product)
        if feed.deed is not Deed.FEED or label is None or feed.amount is None:
            continue
        share = _share_of_label(feed.amount, label, water.get((feed.entry, feed.tub), ()))
        if share is None or _LEAST <= share <= _MOST:
            continue
        message = (
            f"`{feed.product}` {on_day(feed.day)} is {number(share)} times the {amount(label)} of its label"
        )
        mend = "check the amount, its unit and the water added"
        yield Finding("dose-unlike-label", feed.source, message, mend, amount(feed.amount), amount(label))


def _share_of_label(given: Quantity, label: Quantity, water: Sequence[Quantity | None]) -> float | None:
    """A dose as a share of the label's; None where it is not known."""
    if not given.single or label.high is None or label.middle <= 0:
        return None
    if given.dimension is label.dimension:
        return given.middle / label.middle
    litres = _litres(water)
    if _DOSES.get(label.dimension) is not given.dimension or not litres:
        return None
    return given.middle / (litres * label.middle)


def _water_added(context: Context) -> Mapping[tuple[int, str], Sequence[Quantity | None]]:
    """The water added at each visit to each tub; None where it was not measured.

    A tub filled for the first time, or after a change, takes the whole reservoir of its system.
    """
    reservoirs = {tub.id: tub.system.reservoir for tub in context.run.setup.tubs}
    added: dict[tuple[int, str], list[Quantity | None]] = defaultdict(list)
    filled: set[str] = set()
    for event in context.run.rows.of(Watering):
        empty = event.filled and (event.tub not in filled or event.deed is Deed.CHANGE)
        whole = event.amount is None and empty
        added[event.entry, event.tub].append(reservoirs.get(event.tub) if whole else event.amount)
        filled.add(event.tub)
    return added


def _litres(amounts: Sequence[Quantity | None]) -> float:
    """The sum of some amounts of water [L]; 0 where any of them was not measured."""
    measured = [part.low for part in amounts if part is not None and part.single]
    return fsum(measured) / 1000 if len(measured) == len(amounts) else 0.0
