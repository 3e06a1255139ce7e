"""The line with its format that a file of an earlier format lacks.

In: the bytes of a file, the place of its first key. Out: an edit.
"""

from __future__ import annotations

from sitegen.core.findings.mend import Edit
from sitegen.core.findings.source import Source
from sitegen.filing.mending import lines_and_ends


def format_line(content: bytes, first_key: Source, number: int) -> Edit:
    """The number of the format before the first key: on a line of its own, or inside of braces."""
    pieces = lines_and_ends(content)
    indent = pieces[2 * (first_key.line - 1)][: first_key.column - 1]
    if indent.strip():
        text = f"format: {number}, "
    else:
        end = pieces[1] if len(pieces) > 1 else "\n"
        text = f"format: {number}{end}{indent}"
    return Edit(first_key.file, first_key.line, first_key.column, 0, text, "")
