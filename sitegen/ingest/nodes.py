"""What a YAML file is made of, for the readers: texts, lists and mappings with their places.

In: nothing. Out: `Node` (`Scalar`, `Items` or `Mapping`) and `Pair`. A scalar is the text that was written, never a
number, a date or a truth value.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from sitegen.core.finding import Source

__all__ = ["ABSENT", "Items", "Mapping", "Node", "Pair", "Scalar"]

ABSENT = ("", "~", "null")  # without quotes


class Scalar(NamedTuple):
    """A text; `plain` where it was written without quotes."""

    text: str
    source: Source
    plain: bool = True

    @property
    def absent(self) -> bool:
        """Whether nothing stands there: an empty value or a bare tilde."""
        return self.plain and self.text in ABSENT

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
    source: Source


class Pair(NamedTuple):
    """A key and what stands under it."""

    key: Scalar
    value: Node


@dataclass(slots=True)
class Mapping:
    """Keys with values, in file order; keys are unique."""

    pairs: tuple[Pair, ...]
    source: Source

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
