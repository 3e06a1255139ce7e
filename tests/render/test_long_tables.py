"""Tables too long for a page."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.chart import Table
from sitegen.render.long_tables import LONG, long_tables
from tests.render.builders import chart


def test_a_long_table_becomes_a_file() -> None:
    """All its rows and cells stand in it."""
    rows = tuple((f"day {day}", '21, "mild"') for day in range(LONG + 1))
    found = long_tables([replace(chart(), table=Table(("Day", "Air"), rows))], "loft")

    page = found["height"]
    lines = page.content.decode().split("\r\n")
    assert page.address == "data/loft/chart-height.csv"
    assert lines[:2] == ["Day,Air", 'day 0,"21, ""mild"""']
    assert len(lines) == LONG + 3


def test_a_short_table_stays_on_its_page() -> None:
    """Nothing is set apart that can be read at once."""
    assert long_tables([chart()], "loft") == {}
