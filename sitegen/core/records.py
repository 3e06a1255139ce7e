"""What all frozen records have, data classes and named tuples alike: fields with names, and what they are by default.

In: a type. Out: whether it is a record, and its fields.
"""

from __future__ import annotations

from dataclasses import MISSING, Field, fields, is_dataclass
from functools import cache
from typing import Any

__all__ = ["defaults_of", "is_record"]


def is_record(kind: Any) -> bool:
    """Whether a type has fields with names."""
    return isinstance(kind, type) and (is_dataclass(kind) or hasattr(kind, "_fields"))


@cache
def defaults_of(kind: Any) -> dict[str, Any]:
    """The fields of a record in their order, each with its default; `MISSING` where it has none."""
    if is_dataclass(kind):
        return {field.name: _default(field) for field in fields(kind)}
    return {name: kind._field_defaults.get(name, MISSING) for name in kind._fields}


def _default(field: Field[Any]) -> Any:
    if field.default is not MISSING:
        return field.default
    return MISSING if field.default_factory is MISSING else field.default_factory()
