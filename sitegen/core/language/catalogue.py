"""The translation catalogue of the site's own texts: gettext look-ups of English messages.

In: an English message with placeholders. Out: the translation in the active language, filled. Reads no file
(`ingest.catalogues` does) and imports nothing slow: in English a look-up finds an empty table.

How messages are written in code:

- `tr("at least {amount}", amount=…)`: a whole sentence or a whole phrase. Never concatenate a sentence from pieces: word
  order and inflection differ between languages. Placeholders are plain names, without formats or attributes.
- `tr_n("{n} plant", "{n} plants", n)`: a text with a count; `{n}` is filled by itself. Both forms are whole sentences.
- `tr_c("of a plant", "lost")`: an ambiguous word; the context tells translators which one is meant.
- `tr_noop("leaf")`, `tr_c_noop(context, "leaf")`, `tr_n_noop(one, many)`: marks a text of a table for extraction. It is
  translated with `tr(word)`, `tr_c(context, word)` or `tr_n(*forms, n)`, where the table is used.
- Messages are literals in the call, never built: `python -m sitegen.words` extracts them from the source.
- The author's own texts (titles, notes, names of crops) are values, never messages. Findings, and the output of commands,
  are English and not wrapped.

Templates have `{{ _("…") }}`, `{{ _n("…", "…", n) }}`, `{{ _c(context, "…") }}` for plain texts (escaped, also in
attributes), and `{% trans %}…{% endtrans %}` for a sentence with markup.

The active catalogue is a context variable. The pipeline sets it while it makes pages; everything else is English.
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

_APART = "\x04"  # between context and message, as in gettext


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The translations of one language: the forms of each message, by `message_key`. `digest` is that of its files.

    `plural` is the header's plural expression in C syntax, as in gettext.
    """

    language: str = "en"
    messages: Mapping[str, tuple[str, ...]] = field(default_factory=dict, hash=False)
    plural: str = "n != 1"
    digest: str = ""

    def find(self, key: str, message: str) -> str:
        """The translation of a message, or the message itself."""
        forms = self.messages.get(key)
        return forms[0] if forms else message

    def find_n(self, key: str, one: str, many: str, n: int) -> str:
        """The form of a message for a number; English where the language has none."""
        forms = self.messages.get(key)
        if not forms:
            return one if n == 1 else many
        return forms[min(_form(self.plural)(abs(n)), len(forms) - 1)]


ENGLISH = Catalogue()
_ACTIVE: ContextVar[Catalogue] = ContextVar("catalogue", default=ENGLISH)


@lru_cache(maxsize=8)
def _form(plural: str) -> Callable[[int], int]:
    return c2py(plural)


def message_key(message: str, context: str = "") -> str:
    """The key of a message in a catalogue."""
    return f"{context}{_APART}{message}" if context else message


def active_catalogue() -> Catalogue:
    """The catalogue in use."""
    return _ACTIVE.get()


@contextmanager
def using_catalogue(catalogue: Catalogue) -> Iterator[None]:
    """Use a catalogue inside a `with` block."""
    token = _ACTIVE.set(catalogue)
    try:
        yield
    finally:
        _ACTIVE.reset(token)


def tr(message: str, /, **values: object) -> str:
    """A message in the active language, its placeholders filled."""
    text = _ACTIVE.get().find(message, message)
    return text.format(**values) if values else text


def tr_c(context: str, message: str, /, **values: object) -> str:
    """A message that is ambiguous without its context."""
    text = _ACTIVE.get().find(message_key(message, context), message)
    return text.format(**values) if values else text


def tr_n(one: str, many: str, n: int, /, **values: object) -> str:
    """The form of a message that a number takes; `{n}` is the number."""
    return _ACTIVE.get().find_n(one, one, many, n).format(**{"n": n, **values})


def tr_cn(context: str, one: str, many: str, n: int, /, **values: object) -> str:
    """As `tr_n`, with a context."""
    return _ACTIVE.get().find_n(message_key(one, context), one, many, n).format(**{"n": n, **values})


def tr_noop(message: str) -> str:
    """A message of a table: marked for extraction here, translated where it is used."""
    return message


def tr_n_noop(one: str, many: str) -> tuple[str, str]:
    """Both forms of a message of a table, looked up with `tr_n`."""
    return one, many


def tr_cn_noop(context: str, one: str, many: str) -> tuple[str, str]:  # noqa: ARG001 - for the extraction
    """Both forms of a message of a table, with the context that they are looked up with: `tr_cn`."""
    return one, many


def tr_c_noop(context: str, message: str) -> str:  # noqa: ARG001 - for the extraction
    """A message of a table, with the context that it is looked up with."""
    return message
