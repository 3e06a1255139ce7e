"""Cells of text in published tables, so that no spreadsheet program takes one for a formula.

In: a text. Out: the cell, and the text again. A text that begins as a formula does has an apostrophe before it, and so
has one that begins with apostrophes and then like a formula: reading takes off exactly what writing put on.
"""

from __future__ import annotations

# What spreadsheet programs begin a formula with, in half and in full width, and the white space that they pass over.
_BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_SIGN = "'"
RULE = "a text that begins with =, +, - or @ has an apostrophe before it, which is not a part of it"


def text_cell(text: str) -> str:
    """The cell of a text."""
    return f"{_SIGN}{text}" if text.lstrip(_SIGN).startswith(_BEGINS) else text


def text_of(cell: str) -> str:
    """The text of a cell."""
    return cell[1:] if cell.startswith(_SIGN) and cell.lstrip(_SIGN).startswith(_BEGINS) else cell


def shown_cell(text: str) -> str:
    """The cell of a value in words, which stays a number where it is one."""
    try:
        float(text)
    except ValueError:
        return text_cell(text)
    return text
