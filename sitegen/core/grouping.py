"""Items grouped by a key.

In: items and a function that gives their key. Out: the items of each key.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

Key = TypeVar("Key", bound=Hashable)
Item = TypeVar("Item")


def grouped(items: Iterable[Item], key: Callable[[Item], Key]) -> dict[Key, list[Item]]:
    """The items of each key, in the order in which keys and items come."""
    found: dict[Key, list[Item]] = {}
    for item in items:
        found.setdefault(key(item), []).append(item)
    return found
