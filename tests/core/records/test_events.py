"""The records of events."""

from __future__ import annotations

from typing import get_args

from sitegen.core.records.rows import Event

COMMON = ("deed", "day", "entry", "source", "which", "tub", "what")


def test_every_event_begins_with_the_same_fields() -> None:
    """Stages that read events of any type rely on them."""
    types = get_args(Event)

    assert len(types) > 1
    assert {kind.__name__: kind._fields[: len(COMMON)] for kind in types} == {
        kind.__name__: COMMON for kind in types
    }
