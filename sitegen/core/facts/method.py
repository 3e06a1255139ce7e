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
