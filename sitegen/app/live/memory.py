"""Memory that is free goes back to the system, where the C library has to be asked for it (glibc).

In: nothing. Out: `few_arenas`, `give_back`. Elsewhere they do nothing.
"""

from __future__ import annotations

import ctypes
import sys
from functools import cache

ARENAS = 2  # one for the thread that builds, one for those that make pages
_ARENA_MAX = -8  # M_ARENA_MAX of malloc.h


def few_arenas() -> None:
    """Let threads share what is free: each would otherwise keep what its largest page took."""
    if (library := _c_library()) is not None:
        library.mallopt(_ARENA_MAX, ARENAS)


def give_back() -> None:
    """Return what lies free between what is used."""
    if (library := _c_library()) is not None:
        library.malloc_trim(0)


@cache
def _c_library() -> ctypes.CDLL | None:
    if not sys.platform.startswith("linux"):
        return None
    library = ctypes.CDLL(None)
    return library if hasattr(library, "malloc_trim") and hasattr(library, "mallopt") else None
