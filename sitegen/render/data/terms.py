"""Which columns of the data answer to a field of MIAPPE 1.1, for the methods page.

In: the declared tables. Out: lines of a table. Reads no experiment.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.language.catalogue import tr
from sitegen.core.records.tables import PLANTS, TABLES


@dataclass(frozen=True, slots=True)
class Term:
    """A file, or one of its columns (`column` is not empty), and the field that it answers to."""

    file: str
    column: str
    about: str
    term: str


def terms() -> tuple[Term, ...]:
    """Every file and column with a term, in the order of the tables."""
    found: list[Term] = []
    for table in (PLANTS, *TABLES):
        file = f"{table.name}.csv"
        if table.term:
            found.append(Term(file, "", tr(table.about).rstrip("."), table.term))
        found += [
            Term(file, column.name, tr(column.about), column.term) for column in table.columns if column.term
        ]
    return tuple(found)
