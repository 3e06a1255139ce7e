"""Things of the library by their ids or their names: `leaf-mix`, `Leaf mix`, `leaf mix`.

In: a word and the things that it can be. Out: those that it names. An id that fits exactly is never anything else; case
and the signs between the parts of a name do not count.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar

from sitegen.core.findings.finding import Findings
from sitegen.core.format.spelling import folded
from sitegen.core.language.text import listed
from sitegen.ingest.yaml.nodes import Scalar


class _Named(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def name(self) -> str: ...


_Thing = TypeVar("_Thing", bound=_Named)


def named(word: str, things: Sequence[_Thing]) -> tuple[_Thing, ...]:
    """The things that a word names, by their ids or by their names."""
    for thing in things:
        if thing.id == word:
            return (thing,)
    own = folded(word)
    return tuple(thing for thing in things if own in (folded(thing.id), folded(thing.name)))


def report_several(word: Scalar, things: Sequence[_Named], findings: Findings) -> None:
    """A finding for a name that several things have."""
    ids = [f"`{thing.id}`" for thing in things]
    message = f"`{word.text}` is the name of {listed(ids)}"
    expected = ", ".join(thing.id for thing in things)
    word.report(findings, "name-of-several", message, f"write its id: {listed(ids, 'or')}", expected)
