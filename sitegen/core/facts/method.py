"""The description of one formula on the methods page.

In: nothing. Out: `Method`. It is filled from a formula's own docstring, so that page and code cannot drift.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Method:
    """One formula in English, each text a message with the context `method`.

    `name` is that of `Figure.formula`, `references` are its sources.
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
