"""The threshold of Python's garbage collector.

In: nothing. Out: `raise_gc_threshold`.
"""

from __future__ import annotations

import gc

ALLOCATIONS = 100_000  # more than deallocations, until the next collection


def raise_gc_threshold() -> None:
    """Collect cycles seldom: reading allocates much and makes hardly any cycles, and collecting took a tenth of the time.

    Worker processes that draw and render keep the default: there it saved no time and cost 20 MB each.
    """
    gc.set_threshold(ALLOCATIONS, 20, 20)
