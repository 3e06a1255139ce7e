"""Words of rules found among tokens.

In: rules, tokens. Out: the longest rule that begins at a token.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Generic, NamedTuple, TypeVar

from sitegen.core.language.number_words.tokens import tokens_of

_Value = TypeVar("_Value")


class _Pattern(NamedTuple):
    """The words of a phrase; each may end in `*`."""

    words: tuple[str, ...]
    value: object

    def fits(self, words: Sequence[str], at: int) -> bool:
        """Whether the phrase stands at a place."""
        found = words[at : at + len(self.words)]
        return len(found) == len(self.words) and all(map(_same, self.words, found))


def _same(pattern: str, word: str) -> bool:
    return word.startswith(pattern[:-1]) if pattern.endswith("*") else word == pattern


class Phrases(Generic[_Value]):
    """Phrases with a value each; the longest that fits is found."""

    def __init__(self, phrases: Iterable[tuple[str, _Value]]) -> None:
        self._by_first: dict[str, list[_Pattern]] = {}
        self._endings: list[_Pattern] = []
        for phrase, value in phrases:
            pattern = _Pattern(split(phrase), value)
            if pattern.words[0].endswith("*"):
                self._endings.append(pattern)
            else:
                self._by_first.setdefault(pattern.words[0], []).append(pattern)

    def at(self, words: Sequence[str], at: int) -> tuple[int, _Value] | None:
        """The place after the longest phrase that begins at a place, and its value."""
        best: _Pattern | None = None
        for pattern in (*self._by_first.get(words[at], ()), *self._endings):
            if pattern.fits(words, at) and (best is None or len(pattern.words) > len(best.words)):
                best = pattern
        return None if best is None else (at + len(best.words), best.value)  # type: ignore[return-value]

    def knows(self, word: str) -> bool:
        """Whether a phrase begins with a word."""
        return word in self._by_first or any(_same(each.words[0], word) for each in self._endings)


@cache
def split(phrase: str) -> tuple[str, ...]:
    """The words of a phrase as tokens; a star stays with its word."""
    found: list[str] = []
    for token in tokens_of(phrase):
        if token.word == "*" and found:
            found[-1] += "*"
        else:
            found.append(token.word)
    return tuple(found)
