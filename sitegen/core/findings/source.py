"""A place in a file of the journal.

In: nothing. Out: `Source`, the span of a line that a value was read from or a finding is about.
"""

from __future__ import annotations

from typing import NamedTuple


class Source(NamedTuple):
    """A span of one line in a file of the journal.

    `file` is relative to the journal's folder, with forward slashes; `line` and `column` count from
    1; `width` is in characters. A span over several lines is cut at the end of its first line.
    """

    file: str
    line: int = 1
    column: int = 1
    width: int = 1

    def part(self, offset: int, width: int) -> Source:
        """The narrower span `width` characters wide that begins `offset` characters in."""
        return Source(self.file, self.line, self.column + offset, max(1, width))

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"
