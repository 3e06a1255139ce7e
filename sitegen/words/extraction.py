"""Extraction of all messages: from the sources, the tables of records, the methods, the templates of all themes.

In: the program's own files. Out: `Message`s in the order of the files, and a `Catalog` of them.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from babel.messages.catalog import Catalog
from jinja2.ext import extract_from_ast

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.tables import PLANTS, TABLES
from sitegen.measure.methods import method_messages
from sitegen.render.templates.context import FUNCTIONS, environment_of
from sitegen.render.templates.themes import Theme, find_theme, theme_names

PACKAGE = Path(__file__).parents[1]
_CALLS = ("tr", "tr_n", "tr_c", "tr_cn", "tr_noop", "tr_c_noop", "tr_n_noop", "tr_cn_noop")
_WITH_CONTEXT = ("tr_c", "tr_cn", "tr_c_noop", "tr_cn_noop", "_c", "_cn", "pgettext", "npgettext")
_WITH_PLURAL = ("tr_n", "tr_cn", "tr_n_noop", "tr_cn_noop", "_n", "_cn", "ngettext", "npgettext")


@dataclass(frozen=True, slots=True)
class Message:
    """One message and its file; not its line, which would change with every edit above it."""

    place: str
    one: str
    many: str = ""
    context: str = ""


def all_messages() -> Iterator[Message]:
    """All messages of the site."""
    yield from _in_sources()
    for table in (PLANTS, *TABLES):
        for about in (table.about, *(column.about for column in table.columns if column.term)):
            yield Message("sitegen/core/records/tables.py", about)
    for text in method_messages():
        yield Message("sitegen/measure/methods.py", text, context="method")
    yield from _in_templates()


def _in_sources() -> Iterator[Message]:
    for path in sorted(PACKAGE.rglob("*.py")):
        place = path.relative_to(PACKAGE.parent).as_posix()
        calls = [node for node in ast.walk(ast.parse(path.read_bytes())) if isinstance(node, ast.Call)]
        for call in sorted(calls, key=lambda call: (call.lineno, call.col_offset)):
            name = call.func.id if isinstance(call.func, ast.Name) else ""
            if name in _CALLS and (message := _of_call(name, call, place)) is not None:
                yield message


def _of_call(name: str, call: ast.Call, place: str) -> Message | None:
    """The message of a call; None where it is a variable, whose values are messages elsewhere."""
    given = call.args[: _wanted(name)]
    if any(isinstance(each, (ast.Name, ast.Attribute, ast.Subscript, ast.Call)) for each in given):
        return None
    strings = [each.value if isinstance(each, ast.Constant) else None for each in given]
    return _message(name, strings, place, call.lineno)


def _in_templates() -> Iterator[Message]:
    for name in theme_names():
        theme = find_theme(name, None, Source(""), Findings())
        assert theme is not None
        yield from _of_theme(theme)


def _of_theme(theme: Theme) -> Iterator[Message]:
    environment, home = environment_of(theme), theme.folders[0]
    for path in sorted((home / "templates").glob("*")):
        tree = environment.parse(path.read_text("utf-8"))
        for line, name, strings in extract_from_ast(tree, FUNCTIONS):
            yield _message(name, strings, f"themes/{home.name}/templates/{path.name}", line)


def _wanted(name: str) -> int:
    """The number of texts at the beginning of a call's arguments."""
    return (name in _WITH_CONTEXT) + 1 + (name in _WITH_PLURAL)


def _message(name: str, strings: object, place: str, line: int) -> Message:
    """The message of a call; its texts must be literals, since others would not be found in a catalogue."""
    given = strings if isinstance(strings, (tuple, list)) else (strings,)
    wanted = _wanted(name)
    texts = [text for text in given[:wanted] if isinstance(text, str)]
    if len(texts) < wanted:
        raise ValueError(f"{place}:{line}: `{name}` takes messages that are written out")
    context = texts.pop(0) if name in _WITH_CONTEXT else ""
    return Message(place, texts[0], texts[1] if len(texts) > 1 else "", context)


def catalogue_of(messages: Iterable[Message]) -> Catalog:
    """All messages as one catalogue without translations."""
    catalog = Catalog(project="sitegen", charset="utf-8", fuzzy=False)
    for each in messages:
        message = (each.one, each.many) if each.many else each.one
        catalog.add(message, context=each.context or None, locations=[(each.place, 0)])
    return catalog
