"""The cells of a sheet, with the ranges that were merged.

In: rows of texts. Out: `Grid`: a cell by row and column, its place as a spreadsheet names it (`B7`), the sheet turned
on its side.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

Range = tuple[tuple[int, int], tuple[int, int]]  # first and last cell, as row and column from 0


@dataclass(frozen=True)
class Grid:
    """A sheet: its name, and its name in places where there are several; its rows; `across` where it was turned."""

    title: str
    name: str
    rows: tuple[tuple[str, ...], ...]
    merged: tuple[Range, ...] = ()
    across: bool = False

    @cached_property
    def width(self) -> int:
        """How many columns it has."""
        return max(map(len, self.rows), default=0)

    @cached_property
    def _range_at(self) -> dict[tuple[int, int], Range]:
        return {
            (row, column): span
            for span in self.merged
            for row in range(span[0][0], span[1][0] + 1)
            for column in range(span[0][1], span[1][1] + 1)
        }

    def own(self, row: int, column: int) -> str:
        """The text that stands in a cell itself."""
        cells = self.rows[row] if 0 <= row < len(self.rows) else ()
        return cells[column].strip() if 0 <= column < len(cells) else ""

    def cell(self, row: int, column: int) -> str:
        """The text of a cell; in a merged range, that of the whole range."""
        span = self._range_at.get((row, column)) if self.merged else None
        return self.own(*span[0]) if span else self.own(row, column)

    def range_of(self, row: int, column: int) -> Range:
        """The merged range that a cell is in, else the cell alone."""
        return self._range_at.get((row, column), ((row, column), (row, column)))

    def place(self, row: int, column: int) -> str:
        """The name of a cell: `B7`, with the sheet's in a workbook of several."""
        if self.across:
            row, column = column, row
        letters, number = "", column + 1
        while number:
            number, rest = divmod(number - 1, 26)
            letters = chr(65 + rest) + letters
        return f"{self.name}!{letters}{row + 1}" if self.name else f"{letters}{row + 1}"

    def on_its_side(self) -> Grid:
        """Rows become columns."""
        rows = tuple(
            tuple(self.own(row, column) for row in range(len(self.rows))) for column in range(self.width)
        )
        merged = tuple(((a[1], a[0]), (b[1], b[0])) for a, b in self.merged)
        return Grid(self.title, self.name, rows, merged, not self.across)
