"""A digest of the records of a run: alike for a copy of its log.

In: the rows of a run. Out: a text; empty where nothing is recorded.
"""

from __future__ import annotations

import hashlib
from dataclasses import fields, is_dataclass, replace
from typing import cast

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Rows


def log_digest(rows: Rows) -> str:
    """Alike for equal records, wherever in a file they stand; empty where nothing is recorded.

    Notes and photos are left out: a copy with other words is one, and a word changes no list of runs.
    """
    told = tuple(event for event in rows.events if event.deed is not Deed.NOTE)
    content = _content(replace(rows, events=told, photos=()))
    return hashlib.sha256(repr(content).encode()).hexdigest()[:16] if content != _content(Rows()) else ""


def _content(value: object) -> object:
    """A record as plain values, without the places in files."""
    kind = type(value)
    if kind is Source:
        return None
    if issubclass(kind, tuple):
        return [_content(each) for each in cast("tuple[object, ...]", value)]
    # Kept by type: a log has thousands of values of some twenty types, and a build reads all of them.
    names = _NAMES.get(kind, _UNKNOWN)
    if names is _UNKNOWN:
        names = _NAMES[kind] = _names(value)
    return value if names is None else [_content(getattr(value, name)) for name in names]


def _names(value: object) -> tuple[str, ...] | None:
    return tuple(each.name for each in fields(value) if each.init) if is_dataclass(value) else None


_UNKNOWN: tuple[str, ...] = ("",)
_NAMES: dict[type, tuple[str, ...] | None] = {}  # the fields of each type of record; None of what is none
