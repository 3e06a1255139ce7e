"""The tables of the format."""

from __future__ import annotations

from typing import get_args

import pytest

from sitegen.core.format import RESERVED, TABLES, field_of
from sitegen.core.format.entry import LOG_KEYS, key_of
from sitegen.core.format.fields import Field, Form, Table
from sitegen.core.records.rows import Deed, Event

CUP = Table(
    "cup",
    "a cup",
    (Field("size", Form.WHOLE, "how large", required=True), Field("note", Form.TEXT, "a word")),
)


def test_table() -> None:
    """A table knows its keys in their order, each by name, and those that must be there."""
    assert CUP.keys == ("size", "note")
    assert [CUP.has(key) for key in ("size", "colour")] == [True, False]
    assert CUP.field("note") == CUP.fields[1]
    assert CUP.required == CUP.fields[:1]


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
def test_tables_that_are_named_are_there(table: Table) -> None:
    """A key that holds a mapping names the table of it, and no key stands twice."""
    named = {field.table for field in table.fields if field.table}

    assert named <= TABLES.keys()
    assert len(table.keys) == len(table.fields)


def test_words_of_the_format_are_no_ids() -> None:
    """Each key of an entry and of what stands inside it is kept from being an id."""
    assert {"harvest", "weight", "together", "until", "all"} <= RESERVED
    assert field_of("pick", "weight").example == "121 g"


def test_every_deed_has_a_key() -> None:
    """Each kind of event is the value of a key, and each key with events has a kind of its own."""
    records = get_args(Event)

    assert {key_of(deed).record for deed in Deed} == set(records)
    assert {key for key, row in LOG_KEYS.items() if row.record in records} == set(Deed) - {Deed.CHANGE}
    assert key_of(Deed.CHANGE) == LOG_KEYS["water"]
