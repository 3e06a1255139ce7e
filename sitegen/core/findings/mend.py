"""What mends a finding, as edits of the file: the words of its help come from them, so that both say the same.

In: spans of a file, with the text that stands there. Out: `Edit` (one replacement) and `Mend` (the edits that mend one
finding). What only a person can decide is advice: words without an edit. An edit keeps every value: it changes how
something is written, and never what is said.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from sitegen.core.findings.source import Source


class Edit(NamedTuple):
    """The replacement of a span of one line, which can become two lines; a width of 0 inserts.

    `line` and `column` count from 1, `width` is in characters, as in `Source`. `old` is the text that stands there,
    without quotes around it: what the file holds is held against it before anything is written.
    """

    file: str
    line: int
    column: int
    width: int
    text: str
    old: str

    def stands_in(self, line: str) -> bool:
        """Whether a line of the file holds what is to be replaced."""
        start = self.column - 1
        found = line[start : start + self.width]
        if len(found) != self.width or start > len(line):
            return False
        quoted = len(found) > 1 and found[0] in "'\"" and found[0] == found[-1]
        return found == self.old or (quoted and found[1:-1] == self.old)

    def in_place(self, line: str) -> str:
        """A line after it."""
        start = self.column - 1
        return f"{line[:start]}{self.text}{line[start + self.width :]}"


@dataclass(frozen=True, slots=True)
class Mend:
    """The edits that mend a finding.

    `safe` where no other reading is possible. `before` and `after` are the text of the file around the first edit that
    its words repeat, such as the key of a value. `words` say it where the edits cannot: how many spaces, a line more.
    """

    edits: tuple[Edit, ...]
    safe: bool = True
    before: str = ""
    after: str = ""
    words: str = ""

    def __str__(self) -> str:
        if self.words:
            return self.words
        first, *more = self.edits
        words = f"write `{self.before}{first.text}{self.after}`"
        if not first.text and not self.before and not self.after:
            words = f"remove `{first.old}`" if first.old.isprintable() else "remove it"
        return " and ".join([words, *(f"`{edit.text}`" for edit in more)])

    def at(self, place: Source) -> Mend:
        """The same where its columns count from the beginning of a place."""
        moved = (
            edit._replace(
                file=place.file, line=place.line + edit.line - 1, column=place.column + edit.column - 1
            )
            for edit in self.edits
        )
        return replace(self, edits=tuple(moved))


def replacement(
    source: Source, old: str, text: str, *, before: str = "", after: str = "", safe: bool = True
) -> Mend:
    """The mend that writes `text` over a span, which holds `old`."""
    edit = Edit(source.file, source.line, source.column, source.width, text, old)
    return Mend((edit,), safe, before, after)


def in_line(start: int, old: str, text: str, *, before: str = "", after: str = "") -> Mend:
    """The mend of a piece of a line that is not placed yet; `start` counts from 0."""
    return Mend((Edit("", 1, start + 1, len(old), text, old),), before=before, after=after)
