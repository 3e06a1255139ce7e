"""The columns of one field of a row in a table of text, written and read back.

In: nothing. Out: `Column` (name, type, unit, term) and `FieldColumns`: the columns of one field, with a function from the
field to cells and one back. An empty cell means "not recorded". Never opens files.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Which
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL, Dimension

Cells = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `kind` is a type of Table Schema; `term` the field of MIAPPE 1.1 that it answers to, if any."""

    name: str
    kind: str
    about: str
    unit: str = ""
    term: str = ""
    required: bool = False
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FieldColumns:
    """The columns of one field. `read` raises ValueError where cells do not fit; calendar dates need `start`."""

    field: str
    columns: tuple[Column, ...]
    write: Callable[[Any, Start], Cells]
    read: Callable[[Cells], Any]


def text(
    field: str, about: str, *, term: str = "", required: bool = False, words: tuple[str, ...] = ()
) -> FieldColumns:
    """A text, where `words` are given one of them; an empty one was not given."""

    def read(cells: Cells) -> str:
        if words and cells[0] and cells[0] not in words:
            raise ValueError(f"`{cells[0]}` is none of {', '.join(words)}")
        return cells[0]

    column = Column(field, "string", about, term=term, required=required, choices=words)
    return FieldColumns(field, (column,), lambda value, _: (value,), read)


def choice(field: str, about: str, kind: type[StrEnum], *, term: str = "") -> FieldColumns:
    """A word of a list."""
    choices = tuple(each.value for each in kind)
    column = Column(field, "string", about, term=term, required=True, choices=choices)

    def read(cells: Cells) -> StrEnum:
        if cells[0] not in choices:
            raise ValueError(f"`{cells[0]}` is none of {', '.join(choices)}")
        return kind(cells[0])

    return FieldColumns(field, (column,), lambda value, _: (str(value.value),), read)


def whole(field: str, about: str, *, term: str = "", required: bool = False) -> FieldColumns:
    """A whole number, or None."""

    def read(cells: Cells) -> int | None:
        return given(cells[0], field) if required else whole_of(cells[0])

    column = Column(field, "integer", about, term=term, required=required)
    return FieldColumns(field, (column,), lambda value, _: ("" if value is None else str(value),), read)


def flag(field: str, about: str, *, unsaid: bool | None = None) -> FieldColumns:
    """Yes or no; an empty cell is read as `unsaid`."""

    def read(cells: Cells) -> bool | None:
        found = flag_of(cells[0])
        return unsaid if found is None else found

    return FieldColumns(field, (Column(field, "boolean", about),), lambda value, _: (flag_cell(value),), read)


def names(field: str, about: str, *, term: str = "") -> FieldColumns:
    """Ids with spaces between them: no id has one."""
    column = Column(field, "string", f"{about}; several with spaces between", term=term)
    return FieldColumns(
        field, (column,), lambda value, _: (" ".join(value),), lambda cells: tuple(cells[0].split())
    )


def day(field: str, about: str, *, term: str = "", required: bool = True) -> FieldColumns:
    """A day or a span of days; the calendar date stands beside it where the start is dated."""
    columns = (
        Column(
            f"{field}_first", "integer", f"{about}: first day it can have been", "days", required=required
        ),
        Column(f"{field}_last", "integer", f"{about}: last day it can have been", "days", required=required),
        Column(f"{field}_about", "boolean", f"{about}: written with `about`"),
        Column(f"{field}_date", "date", f"{about}: calendar date of the first day", term=term),
    )

    def write(value: Day | None, start: Start) -> Cells:
        if value is None:
            return ("",) * 4
        date = start.date_of(value.first)
        return (
            str(value.first),
            str(value.last),
            flag_cell(value.about),
            date.isoformat() if date else "",
        )

    def read(cells: Cells) -> Day | None:
        if not any(cells[:3]) and not required:
            return None
        first, last = (given(cell, field) for cell in cells[:2])
        found = Day(first, last, flag_of(cells[2]) or False)
        if found.last < found.first:
            raise ValueError(f"`{field}` ends before it begins")
        return found

    return FieldColumns(field, columns, write, read)


def which(field: str, about: str, *, optional: bool = True) -> FieldColumns:
    """Which plants: named, or so many of so many, and the word that was written."""
    columns = (
        Column(f"{field}", "string", f"{about}: ids with spaces between", term="Observation unit ID"),
        Column(f"{field}_count", "integer", f"{about}: how many, where they were not told apart"),
        Column(f"{field}_of", "integer", f"{about}: out of how many"),
        Column(f"{field}_word", "string", f"{about}: the word written, such as `all`, `some` or a group"),
    )

    def write(value: Which | None, _: Start) -> Cells:
        if value is None:
            return ("",) * 4
        counts = tuple("" if each is None else str(each) for each in (value.count, value.of))
        return (" ".join(value.ids), *counts, value.word)

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

    def write(value: Source, _: Start) -> Cells:
        return (value.file, str(value.line), str(value.column), str(value.width))

    def read(cells: Cells) -> Source:
        return Source(cells[0], *(given(cell, "source") for cell in cells[1:]))

    return FieldColumns("source", columns, write, read)


_WHOLE = re.compile(r"-?\d{1,9}", re.ASCII)
_NUMBER = re.compile(r"-?\d{1,20}(\.\d{1,20})?([eE][+-]?\d{1,3})?", re.ASCII)


def flag_cell(value: bool | None) -> str:
    """Yes or no."""
    return "" if value is None else str(value).lower()


def flag_of(cell: str) -> bool | None:
    """Yes or no, back."""
    known = {"": None, "true": True, "false": False}
    if cell not in known:
        raise ValueError(f"`{cell}` is neither true nor false")
    return known[cell]


def whole_of(cell: str) -> int | None:
    """A whole number, back."""
    if cell and not _WHOLE.fullmatch(cell):
        raise ValueError(f"`{cell}` is not a whole number")
    return int(cell) if cell else None


def given(cell: str, name: str) -> int:
    """A whole number that must be there."""
    found = whole_of(cell)
    if found is None:
        raise ValueError(f"`{name}` is empty")
    return found


def number_cell(value: float | None) -> str:
    """The shortest text that reads back as the same float; whole numbers without a decimal point."""
    if value is None:
        return ""
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(float(value))


def number_of(cell: str) -> float:
    """A number, back; never an infinity."""
    value = float(cell) if _NUMBER.fullmatch(cell) else math.inf
    if not math.isfinite(value):
        raise ValueError(f"`{cell}` is not a number")
    return value


_BOUNDS = (
    ("low", "number", "lower bound"),
    ("high", "number", "upper bound; empty where nothing bounds it"),
    ("about", "boolean", "written with `about`"),
    ("by_eye", "boolean", "judged by eye"),
    ("open", "integer", "how many records said `at least`"),
    ("unweighed", "integer", "how many records were not measured"),
    ("step", "number", "resolution that was written; 0: exact"),
)


def quantity(
    field: str, about: str, dimension: Dimension | None = None, *, term: str = "", required: bool = False
) -> FieldColumns:
    """An interval with its flags; without a dimension of its own, two more columns say which, and its unit."""
    unit = CANONICAL[dimension].symbol if dimension else ""
    columns = [
        Column(f"{field}_{name}", kind, f"{about}: {said}", unit if kind == "number" else "")
        for name, kind, said in _BOUNDS
    ]
    columns[0] = Column(columns[0].name, "number", columns[0].about, unit, term, required)
    if dimension is None:
        kinds = tuple(each.value for each in Dimension)
        columns += [
            Column(f"{field}_measure", "string", f"{about}: what kind of quantity", choices=kinds),
            Column(f"{field}_unit", "string", f"{about}: unit of all its bounds", term="Scale"),
        ]

    def write(value: Quantity | None, _: Start) -> Cells:
        if value is None:
            return ("",) * len(columns)
        cells = (
            number_cell(value.low),
            number_cell(value.high),
            flag_cell(value.about),
            flag_cell(value.by_eye),
            str(value.open),
            str(value.unweighed),
            number_cell(value.step),
        )
        return cells if dimension else (*cells, value.dimension.value, value.unit)

    def read(cells: Cells) -> Quantity | None:
        if not any(cells) and not required:
            return None
        found = Quantity(
            number_of(cells[0]),
            number_of(cells[1]) if cells[1] else None,
            dimension or _dimension(cells[7]),
            about=flag_of(cells[2]) or False,
            by_eye=flag_of(cells[3]) or False,
            open=whole_of(cells[4]) or 0,
            unweighed=whole_of(cells[5]) or 0,
            step=number_of(cells[6]) if cells[6] else 0.0,
        )
        _check(found, field, cells[8] if dimension is None else found.unit)
        return found

    return FieldColumns(field, tuple(columns), write, read)


def _dimension(cell: str) -> Dimension:
    known = {each.value: each for each in Dimension}
    if cell not in known:
        raise ValueError(f"`{cell}` is none of {', '.join(known)}")
    return known[cell]


_BELOW_ZERO = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


def _check(found: Quantity, field: str, unit: str) -> None:
    if found.high is not None and found.high < found.low:
        raise ValueError(f"`{field}_high` is below `{field}_low`")
    if found.low < 0 and found.dimension not in _BELOW_ZERO:
        raise ValueError(f"`{field}_low` is below 0")
    if min(found.step, found.open, found.unweighed) < 0:
        raise ValueError(f"`{field}` has a step or a count below 0")
    if unit != found.unit:
        raise ValueError(f"`{field}_unit` is `{unit}`; a {found.dimension.value} stands in `{found.unit}`")


def lamp_use(field: str) -> FieldColumns:
    """How a lamp is set. What is read back knows the lamp's id alone; the set-up has the lamp."""
    hours = quantity("hours", "hours of light a day", Dimension.DURATION)
    distance = quantity("distance", "from lamp to plants", Dimension.LENGTH)
    lamp = Column("lamp", "string", "id of the lamp", term="Environment parameter value")
    off = Column("off", "boolean", "the lamp was turned off for good")
    columns = (lamp, *hours.columns, *distance.columns, off)
    split = 1 + len(hours.columns)

    def write(value: LampUse, start: Start) -> Cells:
        return (
            value.lamp.id if value.lamp else "",
            *hours.write(value.hours, start),
            *distance.write(value.distance, start),
            flag_cell(value.off),
        )

    def read(cells: Cells) -> LampUse:
        return LampUse(
            Lamp(cells[0], "") if cells[0] else None,
            hours.read(cells[1:split]),
            distance.read(cells[split:-1]),
            flag_of(cells[-1]) or False,
        )

    return FieldColumns(field, columns, write, read)
