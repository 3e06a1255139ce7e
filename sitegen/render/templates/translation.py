"""The translation of messages in templates: Jinja's i18n extension over `core.language.catalogue`.

In: an environment. Out: the same with `_`, `_n`, `_c`, `_cn` and `{% trans %}`. A message has named places as in code
(`{amount}`), so that code and templates share one catalogue. The message of a call is escaped; that of a
block may hold markup, and its values are escaped.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from jinja2.ext import InternationalizationExtension
from markupsafe import Markup, escape

from sitegen.core.language.catalogue import active_catalogue, message_key, tr, tr_c, tr_noop

if TYPE_CHECKING:
    from jinja2 import Environment
    from jinja2.parser import Parser


# What the extraction looks for; the second four are what `{% trans %}` becomes.
FUNCTIONS = ("_", "_n", "_c", "_cn", "gettext", "ngettext", "pgettext", "npgettext")
_PLACE = re.compile(r"%%|%\((\w+)\)s")


class TransBlock(InternationalizationExtension):
    """`{% trans %}` with places as `str.format` has them, and no doubled per cent signs."""

    def _parse_block(self, parser: Parser, allow_pluralize: bool) -> tuple[list[str], str]:
        names, text = super()._parse_block(parser, allow_pluralize)
        return names, _PLACE.sub(lambda match: f"{{{match[1]}}}" if match[1] else "%", text)


def with_translation(environment: Environment) -> Environment:
    """An environment whose templates can translate messages."""
    environment.add_extension(TransBlock)
    environment.newstyle_gettext = True  # type: ignore[attr-defined] # values go to the function, which fills them in
    environment.policies["ext.i18n.trimmed"] = True
    # The message of a block is part of a template, with its markup; no value becomes a part of it unescaped.
    functions = (*_functions(escape), *_functions(Markup))
    environment.globals.update(zip(FUNCTIONS, functions, strict=True))
    return environment


def _functions(markup: Callable[[str], Markup]) -> tuple[Callable[..., Markup], ...]:
    """The four functions whose messages become markup in one way: plain, counted, with a context, both."""

    def one(message: str, /, **values: object) -> Markup:
        return one_in_context("", message, **values)

    def many(one: str, many: str, n: int, /, **values: object) -> Markup:
        return many_in_context("", one, many, n, **values)

    def one_in_context(context: str, message: str, /, **values: object) -> Markup:
        text = markup(active_catalogue().find(message_key(message, context), message))
        return text.format(**values) if values else text

    def many_in_context(context: str, one: str, many: str, n: int, /, **values: object) -> Markup:
        text = active_catalogue().find_n(message_key(one, context), one, many, n)
        return markup(text).format(**{"n": n, "num": n, **values})

    return one, many, one_in_context, many_in_context


_WORDS = {
    "sift": tr_noop("Only rows with"),
    "sifted": tr_noop("{shown} of {all} rows"),
    "place": tr_noop("{number} of {all}"),
    "earlier": tr_noop("Earlier"),
    "later": tr_noop("Later"),
    "close": tr_noop("Close"),
    "pictures": tr_noop("Pictures"),
    "find": tr_noop("Find"),
    "found": tr_noop("{number} found"),
    "nothing": tr_noop("Nothing was found."),
    "no_index": tr_noop("The index of this site is not there."),
    "date": tr_noop("Date"),
}


def script_words() -> dict[str, str]:
    """Every word that a script needs."""
    # For sorting: words before an amount in a table, and between a part and its whole.
    return {name: tr(word) for name, word in _WORDS.items()} | {
        "before": tr_c(
            "words before a number, parted by |", "about|at least|at most|by|day|days|from|over|under"
        ),
        "of": tr_c("between two numbers: 2 of 6", "of"),
    }
