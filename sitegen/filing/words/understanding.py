"""A line as spoken → fields of an entry, and a note of the rest.

In: a line, `Known`. Out: `Understood`.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.filing.words.known import Known


@dataclass(frozen=True, slots=True)
class Understood:
    """What a line says: fields as YAML text, in order, and the words that no rule took.

    `said` is what was understood, a line each, for printing.
    """

    fields: tuple[tuple[str, str], ...]
    note: str = ""
    said: tuple[str, ...] = ()


def understood(text: str, known: Known) -> Understood:  # noqa: ARG001 - the rules to come
    """The fields of a line by the rules."""
    return Understood((), text.strip(), ())
