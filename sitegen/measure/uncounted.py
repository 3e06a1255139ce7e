"""What a routine did that the log did not count.

In: routines of a run. Out: which totals they leave open, and the words for it. A routine "at every logged refill" is
counted elsewhere; any other one happened more often than the log shows, so totals of the same thing are lower bounds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sitegen.core.quantity import Quantity
from sitegen.core.rows import Routine, Run
from sitegen.core.tongue import noted

__all__ = ["FEED_NOTE", "WATER_NOTE", "opened", "uncounted_feed", "uncounted_water"]

FEED_NOTE = noted("doses by routine were not counted")
WATER_NOTE = noted("top-ups by routine were not counted")
_TOPPING_UP = ("refill", "top-up", "top up", "topping", "fill")


def uncounted_feed(run: Run, tub: str, product: str) -> tuple[Routine, ...]:
    """The routines that gave a product to a tub without being counted."""
    return tuple(r for r in _uncounted(run, tub) if r.what == "feed" and r.product == product)


def uncounted_water(run: Run, tub: str) -> tuple[Routine, ...]:
    """The routines that added water to a tub without being counted: of water, or of feed with each top-up."""
    return tuple(r for r in _uncounted(run, tub) if r.what == "water" or (r.what == "feed" and _tops_up(r)))


def opened(value: Quantity) -> Quantity:
    """A total as a lower bound."""
    return replace(value, high=None, open=value.open + 1)


def _uncounted(run: Run, tub: str) -> Iterator[Routine]:
    """Of one tub; of all where `tub` is empty. A routine that names no tub holds for each."""
    for routine in run.rows.routines:
        if not routine.counts_refills and (not tub or routine.tub in ("", tub)):
            yield routine


def _tops_up(routine: Routine) -> bool:
    often = routine.often.lower()
    return any(word in often for word in _TOPPING_UP)
