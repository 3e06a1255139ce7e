"""What a YAML file is made of, for the readers: texts, lists and mappings with their places.

In: nothing. Out: `Node` (`Scalar`, `Items` or `Mapping`) and `Pair`. A scalar is the text that was written, never a
number, a date or a truth value. Most places are never asked for: a `Source` is made when one is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from sitegen.core.finding import Source

__all__ = ["Items", "Mapping", "Node", "Pair", "Place", "Scalar", "source_of"]

Place = tuple[str, int, int, int]  # the fields of a `Source`


def source_of(place: Source | Place) -> Source:
    """The source at a place."""
    return place if isinstance(place, Source) else Source(*place)


class Scalar(NamedTuple):
    """A text; `plain` where it was written without quotes."""

    text: str
    place: Source | Place
    plain: bool = True

    @property
    def source(self) -> Source:
        """Where it stands."""
        return source_of(self.place)

    @property
    def absent(self) -> bool:
        """Whether nothing stands there: an empty value or a bare tilde."""
        return self.plain and self.text in ("", "~", "null")

    def part(self, offset: int, width: int) -> Source:
        """The span of a piece of the text, as far as it can be known."""
        source, quote = self.source, 0 if self.plain else 1
        if source.width != len(self.text) + 2 * quote:
            return source
        return source.part(offset + quote, width)


@dataclass(slots=True)
class Items:
    """A list."""

    items: tuple[Node, ...]
    place: Source | Place

    @property
    def source(self) -> Source:
        """Where it begins."""
        return source_of(self.place)


class Pair(NamedTuple):
    """A key and what stands under it."""

    key: Scalar
    value: Node


@dataclass(slots=True)
class Mapping:
    """Keys with values, in file order; keys are unique."""

    pairs: tuple[Pair, ...]
    place: Source | Place

    @property
    def source(self) -> Source:
        """Where it begins."""
        return source_of(self.place)

    def __iter__(self) -> Iterator[Pair]:
        return iter(self.pairs)

    def get(self, key: str) -> Node | None:
        """What stands under a key; None also where its value is left empty."""
        for pair in self.pairs:
            if pair.key.text == key:
                value = pair.value
                return None if isinstance(value, Scalar) and value.absent else value
        return None


Node = Scalar | Items | Mapping
