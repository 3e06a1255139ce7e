"""How often memory is searched for cycles.

In: nothing. Out: `search_seldom`.
"""

from __future__ import annotations

import gc

OBJECTS = 100_000  # more than before, until the next search


def search_seldom() -> None:
    """Search for cycles seldom: much is read and hardly any of it in cycles; looking took a tenth of the time.

    Other processes that draw and render do without: there it saved nothing, and each held 20 MB more.
    """
    gc.set_threshold(OBJECTS, 20, 20)
