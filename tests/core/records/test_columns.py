"""Rows as cells and back."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.source import Source
from sitegen.core.format.entry import key_of
from sitegen.core.records.codec import defaults_of
from sitegen.core.records.columns import day, quantity, source, text, which, whole
from sitegen.core.records.rows import Deed, Rows, Which
from sitegen.core.records.tables import PLANTS, TABLES
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension

DATED = Start(dt.date(2025, 9, 14), "day")
FLOATS = st.floats(0, 1e9, allow_nan=False)


def quantities() -> st.SearchStrategy[Quantity]:
    """Quantities of every dimension, bounded or not, with every flag."""
    made = st.builds(
        Quantity,
        FLOATS,
        st.none() | FLOATS,
        st.sampled_from(Dimension),
        st.booleans(),
        st.booleans(),
        st.integers(0, 9),
        st.integers(0, 9),
        FLOATS,
    )
    return made.filter(lambda q: q.high is None or q.high >= q.low)


@given(quantities())
def test_a_quantity_comes_back_as_it_was(value: Quantity) -> None:
    """Bounds, flags and step survive, and no cell says infinity."""
    part = quantity("amount", "how much")
    cells = part.write(value, Start())

    assert part.read(cells) == value
    assert not any(cell in ("inf", "nan") for cell in cells)


def test_cells_of_a_quantity() -> None:
    """A lower bound has an empty cell above it; its unit stands beside it."""
    value = Quantity(205.0, None, Dimension.MASS, about=True, unweighed=1, step=0.5)

    assert quantity("amount", "").write(value, Start()) == (
        *("205", "", "true", "false", "0", "1", "0.5"),
        *("mass", "g"),
    )


PARTS = [
    (day("day", ""), Day(33, 38, about=True), ("33", "38", "true", "false", "2025-10-17")),
    (day("day", ""), Day(0, 39, before=True), ("0", "39", "false", "true", "")),
    (day("until", "", required=False), None, ("",) * 5),
    (which("plants", ""), Which(("P1", "P4"), word="pair"), ("P1 P4", "", "", "pair")),
    (which("plants", ""), Which((), 2, 6), ("", "2", "6", "")),
    (which("plants", ""), None, ("", "", "", "")),
    (source(), Source("a/b.yaml", 3, 5, 9), ("a/b.yaml", "3", "5", "9")),
    (whole("count", ""), None, ("",)),
    (
        quantity("air", "", Dimension.TEMPERATURE),
        Quantity(-2.0, -1.0, Dimension.TEMPERATURE),
        ("-2", "-1", "false", "false", "0", "0", "0"),
    ),
]


@pytest.mark.parametrize(("part", "value", "cells"), PARTS, ids=[p.field + str(c[0]) for p, _, c in PARTS])
def test_cells(part: Any, value: Any, cells: tuple[str, ...]) -> None:
    """Each kind of field has its cells, and reads them back."""
    assert part.write(value, DATED) == cells
    assert part.read(cells) == value


BAD = [
    (quantity("w", "", Dimension.MASS), ("-5", "5", *[""] * 5), "`w_low` is below 0"),
    (text("moment", "", words=("before", "after")), ("now",), "`now` is none of before, after"),
    (quantity("w", "", Dimension.MASS), ("5", "5", *[""] * 4, "-1"), "`w` has a step or a count below 0"),
    (whole("count", ""), ("two",), "`two` is not a whole number"),
    (day("day", ""), ("", "", "", ""), "`day` is empty"),
    (day("day", ""), ("9", "8", "", ""), "`day` ends before it begins"),
    (quantity("w", "", Dimension.MASS), ("inf",) * 7, "`inf` is not a number"),
    (quantity("w", "", Dimension.MASS), ("5", "4", *[""] * 5), "`w_high` is below `w_low`"),
    (
        quantity("w", ""),
        ("5", "5", *[""] * 5, "mass", "oz"),
        "`w_unit` is `oz`; a mass stands in `g`",
    ),
    (quantity("w", "", Dimension.MASS), ("5", "", "yes", *[""] * 4), "`yes` is neither true nor false"),
]


@pytest.mark.parametrize(("part", "cells", "said"), BAD, ids=[said for _, _, said in BAD])
def test_cells_that_do_not_fit(part: Any, cells: tuple[str, ...], said: str) -> None:
    """What does not fit is refused, with the reason."""
    with pytest.raises(ValueError, match=re.escape(said)):
        part.read(cells)


@pytest.mark.parametrize("table", [PLANTS, *TABLES], ids=lambda table: table.name)
def test_tables_are_whole(table: Any) -> None:
    """Every field of a row has columns, none twice; what is private has none."""
    names = [column.name for column in table.columns]
    given = {part.field for part in table.parts}

    assert len(set(names)) == len(names)
    if table.name != "events":
        assert {*defaults_of(table.row)} - given == ({"private"} if table.name == "entries" else set())


# A value of each field that an event may have.
FIELDS: dict[str, Any] = {
    "day": Day(26, 28),
    "entry": 3,
    "source": Source("a/b.yaml", 3, 5, 9),
    "which": Which(("P1", "P4"), word="pair"),
    "tub": "left",
    "what": "words",
    "seeds": counted(3),
    "each": True,
    "seedlings": counted(16),
    "out_of": 18,
    "left": counted(1),
    "amount": exactly(2000, Dimension.VOLUME, 1),
    "filled": True,
    "product": "leaf-mix",
    "as_labelled": True,
    "until": Day.on(51),
    "score": counted(4),
    "kept": False,
    "file": "",  # names of footage have no column
    "at": 0,
    "length": 12,
}


@pytest.mark.parametrize("deed", Deed)
def test_an_event_of_each_deed_comes_back_from_its_columns(deed: Deed) -> None:
    """Every field that a type of event has survives, whichever column holds it."""
    kind = key_of(deed).record
    values = {**FIELDS, "deed": deed}
    event = kind(*(values[name] for name in kind._fields))
    (events,) = (table for table in TABLES if table.name == "events")

    assert events.read(*events.write([event], DATED)) == event


def test_every_table_of_rows_is_declared() -> None:
    """Only photos and sensors' series have no table of rows."""
    named = {field.name for field in fields(Rows) if field.init}

    assert named - {table.name for table in TABLES} == {"photos", "exports"}
