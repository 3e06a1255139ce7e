"""Remarks in words: each code has a message, each message a code."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import sitegen.core.facts.claimant
import sitegen.core.facts.figure
import sitegen.measure
from sitegen.core.language.remark_messages import MESSAGES
from sitegen.core.language.text import day_words
from sitegen.core.values.day import Day

FILES = [
    Path(sitegen.core.facts.figure.__file__),
    Path(sitegen.core.facts.claimant.__file__),
    *sorted(Path(sitegen.measure.__file__).parent.rglob("*.py")),
]
TREES = [ast.parse(path.read_text("utf-8")) for path in FILES]


def _texts(node: ast.AST) -> Iterator[str]:
    """The texts in a part of a program, except the conditions that choose among them."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body), *_texts(node.orelse))
    else:
        for inner in ast.iter_child_nodes(node):
            yield from _texts(inner)


def test_each_code_has_a_message() -> None:
    """A code that a remark is made with is in the table of messages."""
    calls = [node for tree in TREES for node in ast.walk(tree) if isinstance(node, ast.Call)]
    made = [call.args[0] for call in calls if ast.unparse(call.func) in ("remark", "counted_remark")]
    codes = {code for node in made for code in _texts(node)}

    assert len(codes) > 100
    assert codes <= set(MESSAGES)


def test_each_message_is_of_a_code() -> None:
    """No message is left of a remark that nothing makes."""
    assert set(MESSAGES) <= {text for tree in TREES for text in _texts(tree)}


def test_days_of_a_sentence() -> None:
    """A day known by its end only is said by the day that it was before."""
    assert [day_words(day) for day in (Day(0, 59, before=True), Day(0, 59), Day.on(36, about=True))] == [
        "before day 60",
        "days 0–59",
        "about day 36",
    ]
