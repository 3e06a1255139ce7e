"""How deeply a YAML text nests, told before the parser, which recurses, gets it.

In: the text of a file. Out: whether it is refused, and then a finding at the place.
"""

from __future__ import annotations

import re

from sitegen.core.finding import Findings, Source

__all__ = ["MAX_DEPTH", "say_too_deep", "too_deep"]

MAX_DEPTH = 24
_DEEP_FLOW = re.compile(rf"[\[{{]\s*(?:[\[{{]\s*){{{MAX_DEPTH - 1}}}")
_MANY_OPEN = re.compile(rf"[\[{{]{{{MAX_DEPTH}}}")
_DEEP_ITEMS = re.compile(rf"\n *(?:[-?] +){{{MAX_DEPTH}}}")
_INDENT = " " * 200
_DEEP_INDENT = re.compile(rf"^{_INDENT}", re.MULTILINE)
_NO_BRACKETS = bytes(set(range(256)) - set(b"[]{}"))
_BRACKET = re.compile(r"[\[{\]}]")


def too_deep(text: str, file: str, findings: Findings) -> bool:
    """Whether lists and mappings nest beyond what a journal needs; then with a finding."""
    place = _deep_at(text)
    if place is None:
        return False
    say_too_deep(Source(file, text.count("\n", 0, place) + 1), findings)
    return True


def say_too_deep(source: Source, findings: Findings) -> None:
    """The finding."""
    findings.add(
        "nested-too-deep",
        source,
        "lists and mappings are nested too deeply here",
        mend="check the brackets and the indentation",
        expected=f"at most {MAX_DEPTH} levels",
    )


def _deep_at(text: str) -> int | None:
    brackets = text.encode("utf-8", "replace").translate(None, _NO_BRACKETS).decode()
    patterns = [_DEEP_FLOW] if _MANY_OPEN.search(brackets) else []  # the exact pattern is slow
    patterns += [_DEEP_INDENT] if _INDENT in text else []
    for pattern in patterns:
        if match := pattern.search(text):
            return match.start()
    if match := _DEEP_ITEMS.search(f"\n{text}"):
        return match.start()
    return None if _closed_soon(brackets) else _unclosed_at(text)


def _closed_soon(brackets: str) -> bool:
    """Whether brackets close each other so that no more than twice the depth can ever be open."""
    for _ in range(MAX_DEPTH):
        inner = brackets.replace("{}", "").replace("[]", "")
        if len(inner) == len(brackets):
            break
        brackets = inner
    return brackets.count("{") + brackets.count("[") <= MAX_DEPTH


def _unclosed_at(text: str) -> int | None:
    """Where more brackets are open than any sound file has."""
    depth = 0
    for match in _BRACKET.finditer(text):
        depth = max(0, depth + (1 if match.group() in "[{" else -1))
        if depth > MAX_DEPTH * 4:
            return match.start()
    return None
