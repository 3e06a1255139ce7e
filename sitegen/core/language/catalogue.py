"""The site's own words in the language of the journal: gettext look-ups of English messages.

In: an English message with named places. Out: the same in the tongue now spoken, filled. Reads no file (`ingest.words`
does), and imports nothing that takes time: in English a look-up finds an empty table.

How words are written in code:

- `tr("at least {amount}", amount=…)`: a whole sentence or a whole phrase. Never glue a sentence from pieces: another
  language orders and inflects otherwise. Values go into named places, `{}` never holds a format or an attribute.
- `tr_n("{n} plant", "{n} plants", n)`: whatever is counted; `{n}` is filled by itself. Both forms are whole sentences.
- `tr_c("of a plant", "lost")`: a word that could be two different ones elsewhere; the context is for the translator.
- `noted("leaf")`, `noted_c(context, "leaf")`: the same text, for a table of words: it is found by the extraction here,
  and looked up with `tr(word)`, or `tr_c(context, word)`, where the table is used.
- Messages are written out in the call, never built: `python -m sitegen.words` finds them by reading the source.
- What the author wrote (titles, notes, names of crops) goes in as a value and is never a message. Findings, and what
  commands print, are English and are not wrapped.

Templates say `{{ _("…") }}`, `{{ _n("…", "…", n) }}`, `{{ _c(context, "…") }}` for plain words (escaped, also in
attributes), and `{% trans %}…{% endtrans %}` for a sentence with markup in it.

Who speaks is a context variable: the pipeline sets it for as long as it makes pages, everything else speaks English.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import lru_cache
from gettext import c2py
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

_APART = "\x04"  # as gettext parts a context from its message


@dataclass(frozen=True, slots=True)
class Tongue:
    """A language's words. `messages` holds the forms of each message, by `message_key`; `digest` stands for all of it.

    `plural` is the header's expression in C, as gettext has it: which form a number takes.
    """

    language: str = "en"
    messages: Mapping[str, tuple[str, ...]] = field(default_factory=dict, hash=False)
    plural: str = "n != 1"
    digest: str = ""

    def find(self, key: str, message: str) -> str:
        """The words for a message, or the message."""
        forms = self.messages.get(key)
        return forms[0] if forms else message

    def find_n(self, key: str, one: str, many: str, n: int) -> str:
        """The form of a message for a number; English where the language has none."""
        forms = self.messages.get(key)
        if not forms:
            return one if n == 1 else many
        return forms[min(_form(self.plural)(abs(n)), len(forms) - 1)]


ENGLISH = Tongue()
_SPOKEN: ContextVar[Tongue] = ContextVar("tongue", default=ENGLISH)


@lru_cache(maxsize=8)
def _form(plural: str) -> Callable[[int], int]:
    return c2py(plural)


def message_key(message: str, context: str = "") -> str:
    """Where a message is kept in a table of messages."""
    return f"{context}{_APART}{message}" if context else message


def spoken() -> Tongue:
    """The tongue now spoken."""
    return _SPOKEN.get()


def speak(tongue: Tongue) -> None:
    """Speak a tongue from now on: for a process that makes nothing else."""
    _SPOKEN.set(tongue)


@contextmanager
def speaking(tongue: Tongue) -> Iterator[None]:
    """Speak a tongue for a while."""
    token = _SPOKEN.set(tongue)
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def tr(message: str, /, **values: object) -> str:
    """A message in the tongue now spoken, its named places filled."""
    text = _SPOKEN.get().find(message, message)
    return text.format(**values) if values else text


def tr_c(context: str, message: str, /, **values: object) -> str:
    """A message whose English alone does not say which word is meant."""
    text = _SPOKEN.get().find(message_key(message, context), message)
    return text.format(**values) if values else text


def tr_n(one: str, many: str, n: int, /, **values: object) -> str:
    """The form of a message that a number takes; `{n}` is the number."""
    return _SPOKEN.get().find_n(one, one, many, n).format(**{"n": n, **values})


def tr_cn(context: str, one: str, many: str, n: int, /, **values: object) -> str:
    """As `tr_n`, with a context."""
    return _SPOKEN.get().find_n(message_key(one, context), one, many, n).format(**{"n": n, **values})


def noted(message: str) -> str:
    """A message of a table, looked up where it is used: here it is only found by the extraction."""
    return message


def noted_c(context: str, message: str) -> str:  # noqa: ARG001 - for the extraction
    """A message of a table, with the context that it is looked up with."""
    return message
