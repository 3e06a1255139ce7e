"""The texts of one line as far as they can be told without the parser, and what YAML makes of them.

In: a text or a line of it. Out: its lines, and `LineText`s, each with its trouble and the mend that keeps it text. The
rules: a text with `: ` or ` #`, a leading `*` `-` `%` `"` `>` and their like.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.format import TABLES

__all__ = ["CUT", "TEXT_KEYS", "LineText", "block_mend", "lines_of", "mend_of", "quoted", "texts_of"]

# Keys whose value is a sentence: only there can a cut-off remainder be told from a comment.
_SENTENCES = """note private taste why what title question before disclosure summary tagline text alt name
prune train pollinate clean trouble clip end grade source"""
TEXT_KEYS = frozenset(_SENTENCES.split())
_KEYS = "|".join(sorted({field.key for table in TABLES.values() for field in table.fields}))
# Keys that may hold a mapping or a list: there a bracket begins one.
_HOLDERS = {field.key for table in TABLES.values() for field in table.fields if field.table}
_VALUE = re.compile(r"^\s*(?:- )?\s*(?P<key>[A-Za-z_][\w-]*):\s+(?P<value>\S.*)$")
_INSIDE = re.compile(rf"(?<=[{{,\s])(?P<key>{'|'.join(sorted(TEXT_KEYS))}):\s+(?=\S)")
_NEXT_KEY = re.compile(rf",\s*(?:{_KEYS}):(?:\s|$)")
# A comment stands two spaces off and begins with a space; `#2` and a single space are text.
CUT = re.compile(r" #(?=.)|\s+#(?=\S)")
_SIGNS = "*&!%@`>|\"'[]{},#"
_SPACED_SIGNS = ("- ", "? ", ": ")
_SOUND = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'|[|>][+-]?\d?")
_QUOTE_LEFT_OPEN = re.compile(r"\"[^\"]*|'[^']*")


@dataclass(frozen=True, slots=True)
class LineText:
    """What stands after a key on one line, as far as can be told without the parser."""

    key: str
    value: str
    column: int
    inside: bool  # braces or brackets

    @property
    def trouble(self) -> tuple[str, int]:
        """What YAML makes of it, and how far in; empty where it is sound."""
        if _SOUND.fullmatch(self.value) or _QUOTE_LEFT_OPEN.fullmatch(self.value):
            return "", 0
        begins = self.value[0] in (_SIGNS + "?" if self.inside else _SIGNS)
        if begins or self.value.startswith(_SPACED_SIGNS):
            sign = self.value[0] if self.value[0] != "`" else "the backtick"
            return f"{_in_code(sign)} at the beginning of a text is a sign of YAML", 0
        if ": " in self.value or self.value.endswith(":"):
            offset = self.value.index(": ") if ": " in self.value else len(self.value) - 1
            return "`: ` begins a mapping", offset
        if self.inside and (cut := CUT.search(self.value)):
            return "what follows ` #` is a comment and would be lost", cut.end() - 1
        if self.inside and (sign_at := re.search(r"[\[\]{}]", self.value)):
            return f"`{sign_at.group()}` is a sign of YAML inside braces", sign_at.start()
        return "", 0


def _in_code(sign: str) -> str:
    return sign if len(sign) > 1 else f"`{sign}`"


def lines_of(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    return re.split("[\n\x85\u2028\u2029]", text)


def texts_of(line: str) -> Iterator[LineText]:
    """The texts of one line: after its key, or after each key inside braces."""
    match = _VALUE.match(line)
    if match and not _begins_brackets(match["key"], match["value"]):
        yield LineText(match["key"], match["value"].rstrip(), match.start("value"), inside=False)
        return
    for found in _INSIDE.finditer(line):
        depth = sum(line.count(s, 0, found.start()) for s in "[{") - sum(
            line.count(s, 0, found.start()) for s in "]}"
        )
        value = _up_to_next(line[found.end() :], depth)
        if depth > 0 and value and not (value[0] in "[{" and found["key"] in _HOLDERS):
            yield LineText(found["key"], value, found.end(), inside=True)


def _begins_brackets(key: str, value: str) -> bool:
    """Whether a value is a list or mapping, and not a sentence that begins with a bracket."""
    sentence = key in TEXT_KEYS - _HOLDERS and value.rstrip()[-1] not in "]}"
    return value[0] in "[{" and not sentence


def _up_to_next(rest: str, depth: int) -> str:
    """A text inside braces: up to the next key of the format, else up to the brackets that close it."""
    following = _NEXT_KEY.search(rest)
    if following:
        return rest[: following.start()].strip()
    text = rest.rstrip()
    for _ in range(depth):
        text = text[:-1].rstrip() if text.endswith(("]", "}")) else text
    return text.strip()


def mend_of(text: LineText) -> str:
    """What to write, so that YAML keeps a text as it is."""
    if len(text.value) < 60 or text.inside:
        return f"write `{text.key}: {quoted(text.value)}`"
    return block_mend(text.key)


def quoted(text: str) -> str:
    """A text in single quotes, as YAML wants it."""
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def block_mend(key: str) -> str:
    """The mend that always works for text."""
    return f"write `{key}: |` and the text on the next line, indented"
