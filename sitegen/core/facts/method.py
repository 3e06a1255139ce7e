"""The description of one formula on the methods page.

In: nothing. Out: `Method`. It is filled from a formula's own docstring, so that page and code cannot drift.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_NOTE = re.compile(r" \(([a-z][^()]*)\)\.$")  # behind a publication: `… Wiley, chapter 7 (from memory).`


@dataclass(frozen=True, slots=True)
class Method:
    """One formula in English, each text a message with the context `method`.

    `name` is that of `Figure.formula`, `references` are its sources: of a publication only the note behind
    it is a message.
    """

    name: str
    title: str
    text: str
    equation: str = ""
    references: tuple[str, ...] = ()

    @property
    def paragraphs(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The text before the equation and after it: a paragraph that ends with a colon leads to it."""
        said = tuple(self.text.split("\n\n"))
        last = max((i for i, each in enumerate(said, 1) if each.endswith(":")), default=len(said))
        return said[:last], said[last:]


def parted(reference: str) -> tuple[str, str]:
    """A source, and the note in brackets behind it; without one the whole source."""
    note = _NOTE.search(reference)
    return (reference[: note.start()], note[1]) if note else (reference, "")
