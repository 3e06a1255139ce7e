"""What the texts of a command mean: keys of an entry as a file has them, or words.

In: texts, `Known`. Out: `Understood`. A text that begins with a key of an entry is tried as it would stand in the file.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.format.fields import Form
from sitegen.filing.entries.append import CannotAppendError
from sitegen.filing.entries.entry_text import text_value
from sitegen.filing.words.known import Known, Understood

_PAIR = re.compile(r"(?P<key>[a-z_]+)\s*:\s+(?P<value>\S.*)", re.DOTALL)
_DATES = ("day", "date")
# Values that YAML reads as something else than the text that they are.
_IN_QUOTES = ('"', "'", "|", ">")


def as_written(text: str) -> tuple[str, str] | None:
    """`height: about 9 in` as key and value; None where a text does not begin with a key of an entry."""
    match = _PAIR.fullmatch(text.strip())
    if match is None or match["key"] not in LOG_KEYS or match["key"] in _DATES:
        return None
    key, value = match["key"], match["value"].strip()
    if LOG_KEYS[key].form is Form.TEXT and not value.startswith(_IN_QUOTES):
        value = text_value(value)
    return key, value


def meant(texts: Sequence[str], known: Known, *, as_words: bool = False) -> Understood:
    """The fields of some texts; what is said in words is read together.

    With `as_words`, `height: nine inches` is too, where the rules take all of it.

    Raises
    ------
    CannotAppendError
        Where a key is said twice.

    """
    written = {text: pair for text in texts if (pair := as_written(text)) is not None}
    if as_words:
        written = {text: pair for text, pair in written.items() if not _sayable(text, pair[0], known)}
    pairs = [written[text] for text in texts if text in written]
    words = [text for text in texts if text not in written]
    said = _understood("; ".join(words), known) if words else Understood(())
    fields = [*pairs, *said.fields]
    keys = [key for key, _ in fields] + (["note"] if said.note else [])
    twice = next((key for key in keys if keys.count(key) > 1), "")
    if twice == "note" and said.note:
        fields = [pair for pair in fields if pair[0] != "note"]
        note = "; ".join([*(_plain(value) for key, value in pairs if key == "note"), said.note])
        return Understood(tuple(fields), note, said.said)
    if twice:
        message = f"`{twice}` is said twice"
        raise CannotAppendError(message, "say it once, or write two entries: a day may have several")
    shown = (*(f"{key}: {value}" for key, value in pairs), *said.said)
    return Understood(tuple(fields), said.note, shown)


def _understood(text: str, known: Known) -> Understood:
    from sitegen.filing.words.understanding import understood  # noqa: PLC0415 - a tenth of a second, for words alone

    return understood(text, known)


def _sayable(text: str, key: str, known: Known) -> bool:
    """Whether the rules take a text whole, as a value of its key."""
    said = _understood(text, known)
    return not said.note and [name for name, _ in said.fields] == [key]


def _plain(value: str) -> str:
    """A text without the quotes around it."""
    return value[1:-1] if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'" else value
