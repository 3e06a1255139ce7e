"""Words of the format and names in other spellings: `First flower` is `first_flower`, `p1` is `P1`.

In: a word and the known words. Out: the known words that it can be. Case is ignored, and a space, a hyphen and an
underscore are the same; a word that fits exactly is never anything else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

_BETWEEN = re.compile(r"[\s_-]+")


def folded(word: str) -> str:
    """A word without what its spellings differ in."""
    return _BETWEEN.sub("_", word.strip().casefold())


def fitting(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """The known words that a word can be."""
    names = tuple(dict.fromkeys(known))
    if word in names:
        return (word,)
    own = folded(word)
    return tuple(name for name in names if folded(name) == own)


def meant(word: str, known: Iterable[str]) -> str:
    """The one known word that a word can be; empty where there is none, or more than one."""
    found = fitting(word, known)
    return found[0] if len(found) == 1 else ""


def plural_of(word: str) -> str:
    """The plural of a part of a plant: `leaves`, `side shoots`."""
    return f"{word[:-1]}ves" if word.endswith("f") else f"{word}s"


def chosen(word: str, choices: Iterable[str]) -> str:
    """The choice that a word spells, in the singular or in the plural; empty where it is none."""
    words = tuple(choices)
    plurals = {plural_of(choice): choice for choice in words}
    return meant(word, words) or plurals.get(meant(word, plurals), "")
