"""A digest of the records of a run: alike for a copy of its log.

In: the rows of a run. Out: a text; empty where nothing is recorded.
"""

from __future__ import annotations

import hashlib
from dataclasses import fields, is_dataclass, replace

from sitegen.core.findings.finding import Source
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
    if isinstance(value, Source):
        return None
    if isinstance(value, tuple):
        return [_content(each) for each in value]
    if is_dataclass(value):
        return [_content(getattr(value, each.name)) for each in fields(value) if each.init]
    return value
