"""How often memory is searched for cycles.

In: nothing. Out: `search_seldom`.
"""

from __future__ import annotations

import gc

__all__ = ["search_seldom"]

OBJECTS = 100_000  # more than before, until the next search


def search_seldom() -> None:
    """Search for cycles seldom: much is read and hardly any of it in cycles; looking took a tenth of the time.

    Not where experiments are drawn and rendered: there it saved nothing, and held 20 MB a process.
    """
    gc.set_threshold(OBJECTS, 20, 20)
