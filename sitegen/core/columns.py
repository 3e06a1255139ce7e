"""How one field of a row stands in a table of text: its columns, written and read back.

In: nothing. Out: `Column` (name, type, unit, term) and `Part`, the columns of one field with the two functions that turn
the field into cells and cells into the field. An empty cell means "not recorded". Never opens files.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sitegen.core.cells import flag_cell, flag_of, given, whole_of
from sitegen.core.day import Day, Start
from sitegen.core.finding import Source
from sitegen.core.rows import Which

__all__ = [
    "Cells",
    "Column",
    "Part",
    "choice",
    "day",
    "flag",
    "names",
    "source",
    "text",
    "which",
    "whole",
]

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
class Part:
    """The columns of one field. `read` raises ValueError where cells do not fit; calendar dates need `start`."""

    field: str
    columns: tuple[Column, ...]
    write: Callable[[Any, Start], Cells]
    read: Callable[[Cells], Any]


def text(
    field: str, about: str, *, term: str = "", required: bool = False, words: tuple[str, ...] = ()
) -> Part:
    """A text, where `words` are given one of them; an empty one was not given."""

    def read(cells: Cells) -> str:
        if words and cells[0] and cells[0] not in words:
            raise ValueError(f"`{cells[0]}` is none of {', '.join(words)}")
        return cells[0]

    column = Column(field, "string", about, term=term, required=required, choices=words)
    return Part(field, (column,), lambda value, _: (value,), read)


def choice(field: str, about: str, kind: type[StrEnum], *, term: str = "") -> Part:
    """A word of a list."""
    choices = tuple(each.value for each in kind)
    column = Column(field, "string", about, term=term, required=True, choices=choices)

    def read(cells: Cells) -> StrEnum:
        if cells[0] not in choices:
            raise ValueError(f"`{cells[0]}` is none of {', '.join(choices)}")
        return kind(cells[0])

    return Part(field, (column,), lambda value, _: (str(value.value),), read)


def whole(field: str, about: str, *, term: str = "", required: bool = False) -> Part:
    """A whole number, or None."""

    def read(cells: Cells) -> int | None:
        return given(cells[0], field) if required else whole_of(cells[0])

    column = Column(field, "integer", about, term=term, required=required)
    return Part(field, (column,), lambda value, _: ("" if value is None else str(value),), read)


def flag(field: str, about: str, *, unsaid: bool | None = None) -> Part:
    """Yes or no; an empty cell is read as `unsaid`."""

    def read(cells: Cells) -> bool | None:
        found = flag_of(cells[0])
        return unsaid if found is None else found

    return Part(field, (Column(field, "boolean", about),), lambda value, _: (flag_cell(value),), read)


def names(field: str, about: str, *, term: str = "") -> Part:
    """Ids with spaces between them: no id has one."""
    column = Column(field, "string", f"{about}; several with spaces between", term=term)
    return Part(field, (column,), lambda value, _: (" ".join(value),), lambda cells: tuple(cells[0].split()))


def day(field: str, about: str, *, term: str = "", required: bool = True) -> Part:
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

    return Part(field, columns, write, read)


def which(field: str, about: str, *, optional: bool = True) -> Part:
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

    return Part("which", columns, write, read)


def source() -> Part:
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

    return Part("source", columns, write, read)
