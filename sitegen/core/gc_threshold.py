"""The threshold of Python's garbage collector.

In: nothing. Out: `raise_gc_threshold`.
"""

from __future__ import annotations

import gc

ALLOCATIONS = 100_000  # more than deallocations, until the next collection


def raise_gc_threshold() -> None:
    """Collect cycles seldom: reading and rendering make few cycles, and collecting took 6-10 % of the time."""
    gc.set_threshold(ALLOCATIONS, 20, 20)
