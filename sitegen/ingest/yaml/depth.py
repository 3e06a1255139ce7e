"""The depth of lists and mappings in a text, bounded before the parser reads it.

In: a text. Out: the place of nesting so deep that the parser's recursion could exhaust the stack, and its finding.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source

MAX_DEPTH = 24
_DEEP_FLOW = re.compile(rf"[\[{{]\s*(?:[\[{{]\s*){{{MAX_DEPTH - 1}}}")
_MANY_OPEN = re.compile(rf"[\[{{]{{{MAX_DEPTH}}}")
_DEEP_ITEMS = re.compile(rf"\n *(?:[-?] +){{{MAX_DEPTH}}}")
_INDENT = " " * 200
_DEEP_INDENT = re.compile(rf"^{_INDENT}", re.MULTILINE)
_NO_BRACKETS = bytes(set(range(256)) - set(b"[]{}"))
_BRACKET = re.compile(r"[\[{\]}]")


def report_too_deep(source: Source, findings: Findings) -> None:
    """A finding for nesting that is not read."""
    message, mend = "lists and mappings are nested too deeply here", "check the brackets and the indentation"
    findings.add("nested-too-deep", source, message, mend=mend, expected=f"at most {MAX_DEPTH} levels")


def deep_at(text: str) -> int | None:
    """The offset of nesting so deep that the parser's recursion could exhaust the stack; None where there is none."""
    brackets = text.encode("utf-8", "replace").translate(None, _NO_BRACKETS).decode()
    # The quick check first: the pattern is slow.
    patterns = [_DEEP_FLOW] if _MANY_OPEN.search(brackets) else []
    patterns += [_DEEP_INDENT] if _INDENT in text else []
    for pattern in patterns:
        if match := pattern.search(text):
            return match.start()
    if match := _DEEP_ITEMS.search(f"\n{text}"):
        return match.start()
    return None if _closed_soon(brackets) else _unclosed_at(text)


def _closed_soon(brackets: str) -> bool:
    """Whether pairs of brackets cancel until so few are left that nesting is at most twice the depth."""
    for _ in range(MAX_DEPTH):
        inner = brackets.replace("{}", "").replace("[]", "")
        if len(inner) == len(brackets):
            break
        brackets = inner
    return brackets.count("{") + brackets.count("[") <= MAX_DEPTH


def _unclosed_at(text: str) -> int | None:
    """The offset at which more brackets are open than in any valid file."""
    depth = 0
    for match in _BRACKET.finditer(text):
        depth = max(0, depth + (1 if match.group() in "[{" else -1))
        if depth > MAX_DEPTH * 4:
            return match.start()
    return None
