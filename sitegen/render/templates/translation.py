"""How templates say the site's own words: Jinja's i18n extension over `core.language.catalogue`.

In: an environment. Out: the same with `_`, `_n`, `_c`, `_cn` and `{% trans %}`. A message has named places as in code
(`{amount}`), so that code and templates share one catalogue. What a call says is escaped; what a block says may hold
markup, and its values are escaped.
"""

from __future__ import annotations

import re
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
    """An environment whose templates speak."""
    environment.add_extension(TransBlock)
    environment.newstyle_gettext = True  # type: ignore[attr-defined] # values go to the function, which fills them in
    environment.policies["ext.i18n.trimmed"] = True
    ways = (_say, _say_n, _say_c, _say_cn, _tell, _tell_n, _tell_c, _tell_cn)
    environment.globals.update(zip(FUNCTIONS, ways, strict=True))
    return environment


def _found(message: str, context: str = "") -> str:
    return active_catalogue().find(message_key(message, context), message)


def _found_n(one: str, many: str, n: int, context: str = "") -> str:
    return active_catalogue().find_n(message_key(one, context), one, many, n)


def _filled(text: Markup, values: dict[str, object]) -> Markup:
    return text.format(**values) if values else text


def _say(message: str, /, **values: object) -> Markup:
    return _filled(escape(_found(message)), values)


def _say_n(one: str, many: str, n: int, /, **values: object) -> Markup:
    return _filled(escape(_found_n(one, many, n)), {"n": n, **values})


def _say_c(context: str, message: str, /, **values: object) -> Markup:
    return _filled(escape(_found(message, context)), values)


def _say_cn(context: str, one: str, many: str, n: int, /, **values: object) -> Markup:
    return _filled(escape(_found_n(one, many, n, context)), {"n": n, **values})


# A message of a block was written into a template with its markup; no value becomes a part of it unescaped.


def _tell(message: str, /, **values: object) -> Markup:
    return _filled(Markup(_found(message)), values)  # noqa: S704 - as above


def _tell_n(one: str, many: str, n: int, /, **values: object) -> Markup:
    return _filled(Markup(_found_n(one, many, n)), {"n": n, "num": n, **values})  # noqa: S704 - as above


def _tell_c(context: str, message: str, /, **values: object) -> Markup:
    return _filled(Markup(_found(message, context)), values)  # noqa: S704 - as above


def _tell_cn(context: str, one: str, many: str, n: int, /, **values: object) -> Markup:
    return _filled(Markup(_found_n(one, many, n, context)), {"n": n, "num": n, **values})  # noqa: S704 - as above


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
    # For sorting: what stands before an amount in a table, and between a part and its whole.
    said = {name: tr(word) for name, word in _WORDS.items()}
    return said | {
        "before": tr_c(
            "words before a number, parted by |", "about|at least|at most|by|day|days|from|over|under"
        ),
        "of": tr_c("between two numbers: 2 of 6", "of"),
    }
