"""An entry of the log as YAML text.

In: the day, keys with their values as YAML text, indents, the file's line end. Out: the lines of the entry; and a text
as the value of a key, quoted where YAML would read it as something else.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from sitegen.core.language.hidden_characters import without_hidden

# Signs that begin something else than a text, and what ends one early.
_BEGINS = tuple("!&*-?:|>@`\"'%#,[]{}=~<")
_ENDS = re.compile(r":(?:\s|$)|\s#")
_MINUS = re.compile(r"-\d")
# What YAML takes in no other way than escaped, of what a file may hold, and every line end.
_UNPRINTABLE = re.compile("[\t\n\x85\u2028\u2029\ufeff]")
_IN_BRACES = re.compile(r"[,\[\]{}?]")
_NOTHING = {"", "null", "~", "Null", "NULL"}
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}


class Layout(NamedTuple):
    """How the entries of a log are written: columns of the hyphen and of the keys, and the line end."""

    hyphen: int = 2
    key: int = 4
    line_end: str = "\n"


def entry_text(when: str, fields: Sequence[tuple[str, str]], layout: Layout) -> str:
    """The lines of one entry: `when` is `day: 26` or `date: 2025-10-19`."""
    lines = [when, *(line for key, value in fields for line in _field(key, value))]
    first = " " * layout.hyphen + "-" + " " * (layout.key - layout.hyphen - 1)
    below = " " * layout.key
    laid = [f"{below if number else first}{line}" if line else "" for number, line in enumerate(lines)]
    return "".join(f"{line}{layout.line_end}" for line in laid)


def _field(key: str, value: str) -> list[str]:
    """The lines of one key; a value of several lines is given as it stands below the key."""
    return f"{key}: {value}".rstrip().splitlines()


def text_value(text: str, *, braced: bool = False) -> str:
    """A text as the value of a key, plain where that is the same text; `braced` inside of braces or brackets.

    Characters that cannot be seen and that no file of a journal may hold are left out.
    """
    text = without_hidden(text)
    if _UNPRINTABLE.search(text):
        return '"' + "".join(map(_escaped, text)) + '"'
    if _plain(text, braced=braced):
        return text
    return "'" + text.replace("'", "''") + "'"


def _escaped(character: str) -> str:
    if character in _ESCAPES:
        return _ESCAPES[character]
    return f"\\U{ord(character):08x}" if _UNPRINTABLE.match(character) else character


def _plain(text: str, *, braced: bool) -> bool:
    """Whether a text is read as itself without quotes."""
    if text in _NOTHING or text != text.strip():
        return False
    if text.startswith(_BEGINS) and not _MINUS.match(text):
        return False
    return not (_ENDS.search(text) or (braced and _IN_BRACES.search(text)))


def braced(pairs: Sequence[tuple[str, str]]) -> str:
    """A mapping on one line; its values are YAML text already."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in pairs) + "}"


def bracketed(items: Sequence[str]) -> str:
    """A list on one line; its items are YAML text already."""
    return f"[{', '.join(items)}]"
