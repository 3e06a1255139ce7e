"""How often memory is searched for cycles.

In: nothing. Out: `search_seldom`.
"""

from __future__ import annotations

import gc

__all__ = ["search_seldom"]

OBJECTS = 100_000  # more than before, until the next search


def search_seldom() -> None:
    """Search for cycles seldom: much is made here and hardly any of it in cycles; looking took a tenth of the time."""
    gc.set_threshold(OBJECTS, 20, 20)
