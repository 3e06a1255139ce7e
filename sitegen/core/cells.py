"""Single cells of a table of text: yes or no, whole numbers, numbers.

In: a value, or a cell. Out: the other. A cell that does not fit raises ValueError with the reason; an empty cell is None.
"""

from __future__ import annotations

import math
import re

__all__ = ["flag_cell", "flag_of", "given", "number_cell", "number_of", "whole_of"]

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
