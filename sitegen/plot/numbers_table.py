"""The numbers behind a chart, as a table for a spreadsheet: one row a reading, one number a cell, units in the heads.

In: rows with their days. Out: a `Table`. Units are those of `core.values.units` that a dimension is kept in, whatever
units a page shows first; names are English, as in the other files of a run's data. An empty cell means "not recorded",
or, of an upper bound, that nothing bounds it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sitegen.core.records.columns import number_cell
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL, Dimension

Cells = tuple[str, ...]
Row = tuple[Day, Cells]

_DAYS = ("day_first", "day_last", "day_flag", "date")
_DIGITS = 6  # decimals; beyond them a conversion of units leaves only noise
# For heads that need no quotes.
_PLAIN = {"/": "_per_", "²": "2", "°": "deg", "µ": "u", "%": "percent", " ": "_"}


def numbers_table(columns: Sequence[str], rows: Iterable[Row], start: Start) -> Table:
    """The rows, in the order of their days, each with its first and last day and the date of the first."""
    body = ((*_day_cells(day, start), *cells) for day, cells in sorted(rows, key=lambda row: row[0].key))
    return Table((*_DAYS, *columns), tuple(body))


def _day_cells(day: Day, start: Start) -> Cells:
    flag = "before" if day.before else "about" if day.about else ""
    date = None if day.before else start.date_of(day.first)
    return str(day.first), str(day.last), flag, date.isoformat() if date else ""


def unit_head(name: str, dimension: Dimension, after: str = "") -> str:
    """The head of a column of numbers: `height_cm_low`."""
    unit = CANONICAL[dimension].symbol
    for sign, plain in _PLAIN.items():
        unit = unit.replace(sign, plain)
    return "_".join(filter(None, (name, unit, after)))


def quantity_heads(name: str, dimension: Dimension) -> Cells:
    """The heads of a quantity: its bounds, and what is said of them."""
    return unit_head(name, dimension, "low"), unit_head(name, dimension, "high"), f"{name}_flag"


def quantity_cells(value: Quantity) -> Cells:
    """The bounds of a quantity, and its flags in words: about, by eye, at least, not measured."""
    if not value.known:
        return "", "", "not measured"
    flags = [
        *(["at least"] if value.high is None else []),
        *(["about"] if value.about else []),
        *(["by eye"] if value.by_eye else []),
    ]
    return number_of(value.low), number_of(value.high), ", ".join(flags)


def number_of(value: float | None) -> str:
    """A number; empty where it is not known."""
    return number_cell(None if value is None else round(value, _DIGITS))
