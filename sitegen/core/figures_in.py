"""Every figure of the facts, found by their types.

In: facts, or a part of them. Out: `figures`, in the order of the fields, and `inner_fields` for who needs the way to
them too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from sitegen.core.day import Day, DayAxis
from sitegen.core.figure import Figure
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Run

__all__ = ["figures", "inner_fields"]


def figures(node: object) -> Iterator[Figure]:
    """Every figure below a part of the facts, in the order of the fields."""
    if isinstance(node, Figure):
        if node.name:
            yield node
    elif isinstance(node, tuple):
        for item in node:
            yield from figures(item)
    else:
        for name in inner_fields(node):
            yield from figures(getattr(node, name))


def inner_fields(node: object) -> tuple[str, ...]:
    """The fields of a part of the facts that figures may stand in; none of a value, a run or an axis."""
    kind: Any = type(node)
    return _inner_fields(kind)


@cache
def _inner_fields(kind: type[Any]) -> tuple[str, ...]:
    if not is_dataclass(kind) or issubclass(kind, (Quantity, Day, Run, DayAxis)):
        return ()
    return tuple(each.name for each in fields(kind))
