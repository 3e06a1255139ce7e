"""A file of an earlier format rewritten in the present one: keys are renamed where they stand, all else stays.

In: the bytes of a file, the places of its old keys, its line with the format. Out: the new bytes; comments, line ends, a
byte order mark and the end of the file are kept. Lines are counted as YAML counts them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.findings.finding import Source

_LINE_END = re.compile(r"(\r\n|[\n\r\x85\u2028\u2029])")
_BOM = "\ufeff"


@dataclass(frozen=True, slots=True)
class Replacement:
    """A text in place of a span; a span without width is where it is put in."""

    at: Source
    text: str
    width: int


def replaced(content: bytes, replacements: Iterable[Replacement]) -> bytes:
    """The content with the texts in place of their spans, which do not overlap."""
    text = content.decode("utf-8")
    mark = _BOM if text.startswith(_BOM) else ""
    pieces = _LINE_END.split(text.removeprefix(mark))  # lines at even places, their ends at odd ones
    for each in sorted(replacements, key=lambda one: (one.at.line, one.at.column), reverse=True):
        place, begin = 2 * (each.at.line - 1), each.at.column - 1
        line = pieces[place]
        pieces[place] = f"{line[:begin]}{each.text}{line[begin + each.width :]}"
    return (mark + "".join(pieces)).encode("utf-8")


def format_line(content: bytes, first_key: Source, number: int) -> Replacement:
    """The number of the format before the first key: on a line of its own, or inside of braces."""
    text = content.decode("utf-8").removeprefix(_BOM)
    line = _LINE_END.split(text)[2 * (first_key.line - 1)]
    if line[: first_key.column - 1].strip():
        return Replacement(first_key, f"format: {number}, ", 0)
    end = _LINE_END.search(text)
    indent = line[: first_key.column - 1]
    return Replacement(first_key, f"format: {number}{end[0] if end else chr(10)}{indent}", 0)
