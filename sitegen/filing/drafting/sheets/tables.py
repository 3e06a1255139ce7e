"""The tables of a sheet: where the headings stand, whether they are of two rows, what lies above and between.

In: a `Grid`. Out: `SheetTable`s: each with its columns and the numbers of its rows, and the cells that belong to none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sitegen.filing.drafting.dates import day_number, written_date
from sitegen.filing.drafting.sheets.cells import is_empty
from sitegen.filing.drafting.sheets.grid import Grid
from sitegen.filing.drafting.sheets.headings import Heading, Role, heading_of, unit_of

_TOP = 60  # rows within which the headings stand
_WHEN = (Role.DATE, Role.DAY, Role.WEEK, Role.TIME, Role.CLOCK)
_SAMPLE = 30  # rows below the headings, by which a column without a heading is told


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its place, its heading in one line, what that says."""

    index: int
    text: str
    heading: Heading


@dataclass(frozen=True, slots=True)
class SheetTable:
    """A table: rows from `first` to `last`, the column of its days, lines above it, `top` its first row of headings."""

    grid: Grid
    top: int
    first: int
    last: int
    columns: tuple[Column, ...]
    when: Column
    above: tuple[tuple[str, str], ...]  # place and text
    two_rows: bool

    def of(self, *roles: Role) -> list[Column]:
        """The columns of some roles."""
        return [column for column in self.columns if column.heading.role in roles]


def tables_of(grid: Grid) -> tuple[SheetTable, ...]:
    """The tables of a sheet, as it stands, else on its side."""
    found = tuple(_tables(grid))
    if not found and grid.width > 2 and len(grid.rows) < 2000:
        found = tuple(_tables(grid.on_its_side()))
    return found


def _tables(grid: Grid) -> Iterator[SheetTable]:
    rows = range(min(_TOP, len(grid.rows)))
    tops = [(row, when) for row in rows if (when := _named_days(grid, row)) is not None]
    if not tops:
        tops = [(row, when) for row in rows if (when := _unnamed_days(grid, row)) is not None][:1]
    if not tops:
        return
    tops += _later(grid, *tops[-1])
    end = -1
    for number, (row, when) in enumerate(tops):
        following = tops[number + 1][0] if number + 1 < len(tops) else len(grid.rows)
        table = _table(grid, row, when, end, following)
        end = table.last
        yield table


def _filled(grid: Grid, row: int) -> list[str]:
    return [text for column in range(grid.width) if (text := grid.cell(row, column))]


def _named_days(grid: Grid, row: int) -> int | None:
    """The column of days, where a row holds headings and one of them says so."""
    if len(_filled(grid, row)) < 2:
        return None
    roles = {column: heading_of(grid.own(row, column)).role for column in range(grid.width)}
    columns = [column for role in _WHEN[:4] for column, each in roles.items() if each is role]
    return next((column for column in columns if _dated(grid, row, column, roles[column])), None)


def _unnamed_days(grid: Grid, row: int) -> int | None:
    """The column of days, where no heading says it and dates stand below."""
    if len([text for text in _filled(grid, row) if not _is_number(text)]) < 2 and row + 1 < len(grid.rows):
        return None
    for column in range(min(4, grid.width)):
        text = grid.own(row, column)
        is_heading = not _is_when(text) and heading_of(text).role in (
            Role.OTHER,
            Role.CLOCK,
            Role.PLANT,
            Role.NOTE,
        )
        if is_heading and _dated(grid, row, column, Role.OTHER):
            return column
    return None


def _later(grid: Grid, row: int, column: int) -> list[tuple[int, int]]:
    """Tables further down, under the same heading of days."""
    text = grid.cell(row, column).lower()
    return [
        (below, column)
        for below in range(max(_TOP, row + 1), len(grid.rows))
        if text and grid.own(below, column).lower() == text
    ]


def _dated(grid: Grid, row: int, column: int, role: Role) -> bool:
    """Whether days or dates stand below a cell, in one of the first three filled ones; in most, if no heading says so."""
    below = [
        text
        for each in range(row + 1, min(row + _SAMPLE, len(grid.rows)))
        if (text := grid.own(each, column))
    ]
    fits = [
        _is_when(text) or (role in (Role.DAY, Role.WEEK) and day_number(text) is not None) for text in below
    ]
    return any(fits[:3]) and (role is not Role.OTHER or sum(fits) * 2 >= len(fits))


def _is_when(text: str) -> bool:
    """Whether a text is a date or says that it is a day."""
    return written_date(text) is not None or day_number(text, named=True) is not None


def _is_number(text: str) -> bool:
    return bool(re.fullmatch(r"[\d.,\s]+", text))


def _table(grid: Grid, row: int, when: int, after: int, following: int) -> SheetTable:
    """One table: a row of headings, perhaps with one above or below it."""
    above, below = _upper(grid, row, when, after), _lower(grid, row, when)
    rows = [
        number
        for number in (row - 1 if above else None, row, row + 1 if below else None)
        if number is not None
    ]
    columns = tuple(_columns(grid, rows, when))
    title = [
        (grid.place(number, column), text)
        for number in range(after + 1, rows[0])
        for column in range(grid.width)
        if (text := grid.own(number, column))
    ]
    last = following - 1
    if following < len(grid.rows):
        last = _before_titles(grid, rows[-1], when, last)
    when_column = next(column for column in columns if column.index == when)
    return SheetTable(
        grid, rows[0], rows[-1] + 1, last, columns, when_column, tuple(title), two_rows=len(rows) > 1
    )


def _before_titles(grid: Grid, top: int, when: int, last: int) -> int:
    """The last row of a table that another one follows: lines right above its headings, after a gap, are that one's."""
    row = last
    while row > top and _filled(grid, row):
        if _is_when(grid.own(row, when)) or day_number(grid.own(row, when)):
            return last
        row -= 1
    return row if row > top else last


def _upper(grid: Grid, row: int, when: int, after: int) -> bool:
    """Whether the row above holds headings over several columns."""
    if row - 1 <= after:
        return False
    texts = [grid.cell(row - 1, column) for column in range(grid.width)]
    if texts[when] and grid.range_of(row - 1, when)[0] != grid.range_of(row, when)[0]:
        return False
    said = [heading_of(text) for text in texts if text]
    return any(heading.role is Role.VALUE or heading.plant for heading in said)


def _lower(grid: Grid, row: int, when: int) -> bool:
    """Whether the row below goes on with the headings: plants, readings or units, and no day."""
    if grid.own(row + 1, when) and not unit_of(grid.own(row + 1, when)):
        return False
    texts = [
        (column, text)
        for column in range(grid.width)
        if (text := grid.own(row + 1, column)) and column != when
    ]
    if not texts:
        return False
    if all(unit_of(text.strip("()[]")) for _, text in texts):
        return True
    named = [heading_of(text) for _, text in texts]
    if any(heading.plant or heading.role is Role.VALUE for heading in named):
        return True
    # Bare numbers below one wide heading number the plants.
    under = [grid.cell(row, column) for column, _ in texts]
    return all(re.fullmatch(r"\d{1,2}", text) for _, text in texts) and len(set(under)) < len(under)


def _columns(grid: Grid, rows: list[int], when: int) -> Iterator[Column]:
    """The columns by all rows of their headings: what one does not say, another does."""
    carried: dict[int, str] = {}
    for column in range(grid.width):
        parts: list[str] = []
        for number, row in enumerate(rows):
            text = grid.cell(row, column)
            own_below = number + 1 < len(rows) and grid.own(rows[number + 1], column)
            if text:
                carried[number] = text
            elif own_below and column > when and not any(span[0][0] == row for span in grid.merged):
                text = carried.get(number, "")
            if text and text not in parts:
                parts.append(text)
        if parts or any(grid.own(row, column) for row in range(rows[-1] + 1, len(grid.rows))):
            yield Column(column, " / ".join(parts), _joined(parts))


def _joined(parts: list[str]) -> Heading:
    """One heading of several rows."""
    said = [heading_of(part) for part in parts]
    whole = Heading(" / ".join(parts))
    for part, heading in zip(parts, said, strict=True):
        if (unit := unit_of(part.strip("()[]"), whole.dimension)) and whole.role is not Role.OTHER:
            whole = replace(whole, unit=unit)
            continue
        bare = re.fullmatch(r"\d{1,3}", part) and len(parts) > 1
        whole = replace(
            whole,
            role=heading.role if whole.role is Role.OTHER else whole.role,
            key=whole.key or heading.key,
            unit=whole.unit or heading.unit,
            plant=whole.plant or heading.plant or (f"P{int(part)}" if bare else ""),
            meant=whole.meant or heading.meant,
            rest=" ".join(filter(None, (whole.rest, "" if bare else heading.rest))),
        )
    return whole


def said_cells(table: SheetTable, row: int) -> Iterator[tuple[Column, str]]:
    """The filled cells of a row, by column; a merged range once."""
    for column in table.columns:
        text = table.grid.own(row, column.index)
        if text and not is_empty(text):
            yield column, text
