"""The columns of one field of a row in a table of text, written and read back.

In: nothing. Out: `Column` (name, type, unit, term) and `FieldColumns`: the columns of one field, with a function from
the field to cells and one back. An empty cell means "not recorded". Never opens files.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Which
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL, Dimension

MINUTES_A_DAY = 24 * 60

Cells = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `kind` is a Table Schema type; `term` the matching field of MIAPPE 1.1, if any."""

    name: str
    kind: str
    about: str
    unit: str = ""
    term: str = ""
    required: bool = False
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FieldColumns:
    """The columns of one field. `read` raises ValueError where cells do not fit; `write` needs the start for dates."""

    field: str
    columns: tuple[Column, ...]
    write: Callable[[Any, Start], Cells]
    read: Callable[[Cells], Any]


def _single(column: Column, write: Callable[[Any], str], read: Callable[[str], Any]) -> FieldColumns:
    """A field in one column of its own name."""
    return FieldColumns(
        column.name, (column,), lambda value, _: (write(value),), lambda cells: read(cells[0])
    )


def text(
    field: str, about: str, *, term: str = "", required: bool = False, words: tuple[str, ...] = ()
) -> FieldColumns:
    """A text, limited to `words` where these are given; an empty cell is an empty text."""

    def read(cell: str) -> str:
        return _one_of(cell, words) if words and cell else cell

    return _single(Column(field, "string", about, term=term, required=required, choices=words), str, read)


def choice(field: str, about: str, kind: type[StrEnum], *, term: str = "") -> FieldColumns:
    """A member of an enumeration."""
    choices = tuple(each.value for each in kind)
    column = Column(field, "string", about, term=term, required=True, choices=choices)
    return _single(column, lambda value: str(value.value), lambda cell: kind(_one_of(cell, choices)))


def whole(field: str, about: str, *, term: str = "", required: bool = False) -> FieldColumns:
    """A whole number, or None."""

    def read(cell: str) -> int | None:
        return required_whole_of(cell, field) if required else whole_of(cell)

    return _single(Column(field, "integer", about, term=term, required=required), whole_cell, read)


def flag(field: str, about: str, *, default: bool | None = None) -> FieldColumns:
    """Yes or no; an empty cell is read as the default."""

    def read(cell: str) -> bool | None:
        found = flag_of(cell)
        return default if found is None else found

    return _single(Column(field, "boolean", about), flag_cell, read)


def names(field: str, about: str, *, term: str = "") -> FieldColumns:
    """Ids with spaces between them: no id has one."""
    column = Column(field, "string", f"{about}; several with spaces between", term=term)
    return _single(column, " ".join, lambda cell: tuple(cell.split()))


def day(field: str, about: str, *, term: str = "", required: bool = True) -> FieldColumns:
    """A day or a span of days, with its calendar date beside it where the start is dated."""
    columns = (
        Column(
            f"{field}_first", "integer", f"{about}: first day it can have been", "days", required=required
        ),
        Column(f"{field}_last", "integer", f"{about}: last day it can have been", "days", required=required),
        Column(f"{field}_about", "boolean", f"{about}: written with `about`"),
        Column(f"{field}_before", "boolean", f"{about}: written with `before`"),
        Column(f"{field}_date", "date", f"{about}: calendar date of the first day", term=term),
    )

    def write(value: Day | None, start: Start) -> Cells:
        if value is None:
            return ("",) * 5
        date = None if value.before else start.date_of(value.first)
        flags = flag_cell(value.about), flag_cell(value.before)
        return (str(value.first), str(value.last), *flags, date.isoformat() if date else "")

    def read(cells: Cells) -> Day | None:
        if not any(cells[:4]) and not required:
            return None
        first, last = (required_whole_of(cell, field) for cell in cells[:2])
        if last < first:
            raise ValueError(f"`{field}` ends before it begins")
        return Day(first, last, *(flag_of(cell) or False for cell in cells[2:4]))

    return FieldColumns(field, columns, write, read)


def which(field: str, about: str, *, optional: bool = True) -> FieldColumns:
    """A selection of plants: named, or a count of a whole, and the word that was written."""
    columns = (
        Column(f"{field}", "string", f"{about}: ids with spaces between", term="Observation unit ID"),
        Column(f"{field}_count", "integer", f"{about}: how many, where they were not told apart"),
        Column(f"{field}_of", "integer", f"{about}: out of how many"),
        Column(f"{field}_word", "string", f"{about}: the word written, such as `all`, `some` or a group"),
    )

    def write(value: Which | None, _: Start) -> Cells:
        if value is None:
            return ("",) * 4
        return (" ".join(value.ids), whole_cell(value.count), whole_cell(value.of), value.word)

    def read(cells: Cells) -> Which | None:
        if optional and not any(cells):
            return None
        return Which(tuple(cells[0].split()), whole_of(cells[1]), whole_of(cells[2]), cells[3])

    return FieldColumns("which", columns, write, read)


def source() -> FieldColumns:
    """The place in the journal that a row was read from."""
    columns = (
        Column("source_file", "string", "file of the journal", required=True),
        Column("source_line", "integer", "line in it", required=True),
        Column("source_column", "integer", "column in it", required=True),
        Column("source_width", "integer", "how many characters", required=True),
    )

    def read(cells: Cells) -> Source:
        return Source(cells[0], *(required_whole_of(cell, "source") for cell in cells[1:]))

    return FieldColumns("source", columns, lambda value, _: tuple(map(str, value)), read)


_WHOLE = re.compile(r"-?\d{1,9}", re.ASCII)
_NUMBER = re.compile(r"-?\d{1,20}(\.\d{1,20})?([eE][+-]?\d{1,3})?", re.ASCII)
_FLAGS = {"": None, "true": True, "false": False}


def _one_of(cell: str, words: Collection[str]) -> str:
    if cell not in words:
        raise ValueError(f"`{cell}` is none of {', '.join(words)}")
    return cell


def flag_cell(value: bool | None) -> str:
    """The cell of yes or no."""
    return "" if value is None else str(value).lower()


def flag_of(cell: str) -> bool | None:
    """Yes or no from its cell."""
    if cell not in _FLAGS:
        raise ValueError(f"`{cell}` is neither true nor false")
    return _FLAGS[cell]


def whole_cell(value: int | None) -> str:
    """The cell of a whole number."""
    return "" if value is None else str(value)


def whole_of(cell: str) -> int | None:
    """A whole number from its cell."""
    if cell and not _WHOLE.fullmatch(cell):
        raise ValueError(f"`{cell}` is not a whole number")
    return int(cell) if cell else None


def required_whole_of(cell: str, name: str) -> int:
    """A whole number from a cell that must not be empty."""
    found = whole_of(cell)
    if found is None:
        raise ValueError(f"`{name}` is empty")
    return found


def number_cell(value: float | None) -> str:
    """The shortest text that reads back as the same float; whole numbers have no decimal point."""
    if value is None:
        return ""
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(float(value))


def number_of(cell: str) -> float:
    """A number from its cell; never an infinity."""
    value = float(cell) if _NUMBER.fullmatch(cell) else math.inf
    if not math.isfinite(value):
        raise ValueError(f"`{cell}` is not a number")
    return value


# Field of a `Quantity`, type of its column, words about it.
_QUANTITY_FIELDS = (
    ("low", "number", "lower bound"),
    ("high", "number", "upper bound; empty where nothing bounds it"),
    ("about", "boolean", "written with `about`"),
    ("by_eye", "boolean", "judged by eye"),
    ("open", "integer", "how many records said `at least`"),
    ("unweighed", "integer", "how many records were not measured"),
    ("step", "number", "resolution that was written; 0: exact"),
)
_WRITE: dict[str, Callable[[Any], str]] = {
    "number": number_cell,
    "boolean": flag_cell,
    "integer": whole_cell,
}
_BELOW_ZERO = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


def quantity(
    field: str, about: str, dimension: Dimension | None = None, *, term: str = "", required: bool = False
) -> FieldColumns:
    """An interval with its flags. Without a fixed dimension, two more columns hold dimension and unit."""
    unit = CANONICAL[dimension].symbol if dimension else ""
    columns = [
        Column(f"{field}_{name}", kind, f"{about}: {words}", unit if kind == "number" else "")
        for name, kind, words in _QUANTITY_FIELDS
    ]
    columns[0] = replace(columns[0], term=term, required=required)
    if dimension is None:
        kinds = tuple(each.value for each in Dimension)
        columns += [
            Column(f"{field}_measure", "string", f"{about}: what kind of quantity", choices=kinds),
            Column(f"{field}_unit", "string", f"{about}: unit of all its bounds", term="Scale"),
        ]

    def write(value: Quantity | None, _: Start) -> Cells:
        if value is None:
            return ("",) * len(columns)
        cells = tuple(_WRITE[kind](getattr(value, name)) for name, kind, _ in _QUANTITY_FIELDS)
        return cells if dimension else (*cells, value.dimension.value, value.unit)

    def read(cells: Cells) -> Quantity | None:
        if not any(cells) and not required:
            return None
        found = Quantity(
            number_of(cells[0]),
            number_of(cells[1]) if cells[1] else None,
            dimension or Dimension(_one_of(cells[7], [each.value for each in Dimension])),
            about=flag_of(cells[2]) or False,
            by_eye=flag_of(cells[3]) or False,
            open=whole_of(cells[4]) or 0,
            unweighed=whole_of(cells[5]) or 0,
            step=number_of(cells[6]) if cells[6] else 0.0,
        )
        _check(found, field, cells[8] if dimension is None else found.unit)
        return found

    return FieldColumns(field, tuple(columns), write, read)


def _check(found: Quantity, field: str, unit: str) -> None:
    if found.high is not None and found.high < found.low:
        raise ValueError(f"`{field}_high` is below `{field}_low`")
    if found.low < 0 and found.dimension not in _BELOW_ZERO:
        raise ValueError(f"`{field}_low` is below 0")
    if min(found.step, found.open, found.unweighed) < 0:
        raise ValueError(f"`{field}` has a step or a count below 0")
    if unit != found.unit:
        raise ValueError(f"`{field}_unit` is `{unit}`; a {found.dimension.value} stands in `{found.unit}`")


def _minutes_of(cell: str) -> int | None:
    """The minutes after midnight in a cell."""
    found = whole_of(cell)
    if found is not None and not 0 <= found < MINUTES_A_DAY:
        raise ValueError(f"`{cell}` is no time of day: 0 to {MINUTES_A_DAY - 1} minutes after midnight")
    return found


def lamp_use(field: str) -> FieldColumns:
    """The setting of a lamp. Reading gives the lamp's id alone; the lamp itself is in the set-up."""
    hours = quantity("hours", "hours of light a day", Dimension.DURATION)
    distance = quantity("distance", "from lamp to plants", Dimension.LENGTH)
    lamp = Column("lamp", "string", "id of the lamp", term="Environment parameter value")
    off = Column("off", "boolean", "the lamp was turned off for good")
    on = Column(
        "on",
        "integer",
        "when the lamp goes on: minutes after midnight by the clock of the journal's zone",
        "min",
    )
    columns = (lamp, *hours.columns, *distance.columns, off, on)
    split = 1 + len(hours.columns)

    def write(value: LampUse, start: Start) -> Cells:
        return (
            value.lamp.id if value.lamp else "",
            *hours.write(value.hours, start),
            *distance.write(value.distance, start),
            flag_cell(value.off),
            whole_cell(value.on),
        )

    def read(cells: Cells) -> LampUse:
        return LampUse(
            Lamp(cells[0], "") if cells[0] else None,
            hours.read(cells[1:split]),
            distance.read(cells[split:-2]),
            flag_of(cells[-2]) or False,
            _minutes_of(cells[-1]),
        )

    return FieldColumns(field, columns, write, read)
