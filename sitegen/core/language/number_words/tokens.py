"""Words, numbers and signs of a sentence with their places.

In: text. Out: `Token`s.
"""

from __future__ import annotations

import re
from typing import NamedTuple

# Numbers keep their decimal and thousands signs; a word keeps no hyphen ("sixty-watt" is three
# tokens) and may end in digits ("P3").
_TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[^\W\d_][^\W_]*(?:['’][^\W\d_]+)*|\S")


class Token(NamedTuple):
    """A word in lower case, a number or a sign, from `begin` to before `end`."""

    word: str
    begin: int
    end: int

    @property
    def number(self) -> bool:
        """Whether it is written in digits."""
        return self.word[0].isdecimal()


def tokens_of(text: str) -> tuple[Token, ...]:
    """All tokens of a text, in order."""
    return tuple(Token(found[0].lower(), found.start(), found.end()) for found in _TOKEN.finditer(text))
