"""The texts of one line as far as they can be told without the parser, and what YAML makes of them.

In: a text or a line of it. Out: its lines, and `LineText`s, each with its trouble and the mend that keeps it text. The
rules: a text with `: ` or ` #`, a leading `*` `-` `%` `"` `>` and their like.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.fields import Form
from sitegen.core.format import TABLES

__all__ = [
    "CUT",
    "ONLY_TEXT",
    "TEXT_KEYS",
    "LineText",
    "block_mend",
    "lines_of",
    "mend_of",
    "quoted",
    "texts_of",
]

# Keys whose value is a sentence: only there can a cut-off remainder be told from a comment.
_SENTENCES = """note private taste why what title question before disclosure summary tagline text alt name
prune train pollinate clean trouble clip end grade source"""
TEXT_KEYS = frozenset(_SENTENCES.split())
# Of these, those that never hold a list or a mapping.
ONLY_TEXT = TEXT_KEYS - {f.key for table in TABLES.values() for f in table.fields if f.form is not Form.TEXT}
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
_NEXT_IN_LINE = re.compile(rf"(?P<first>.*?\S)[,;]?\s+(?P<key>{_KEYS}):\s+(?P<rest>\S.*)")
_ONE_PAIR = re.compile(r"[\w-]+: [^:]+")
_APOSTROPHE = re.compile(r"(?P<key>[\w-]+): +(?P<value>'[^']*[A-Za-z]'[A-Za-z].*?')\s*(?=[,}\]])")
# Quotes that close before the text does.
_QUOTED_START = re.compile(r"(?:\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*')(?=.)")


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
        return _broken_quotes(self.value) or self._sign() or ("", 0)

    def _sign(self) -> tuple[str, int] | None:
        """A sign of YAML, and how far in."""
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
        return None


def _broken_quotes(value: str) -> tuple[str, int] | None:
    """Quotes that close before the text does, and where: mostly at an apostrophe."""
    closes = _QUOTED_START.match(value)
    if closes is None:
        return None
    at = closes.end() - 1
    if value[0] == "'" and value[at - 1].isalpha() and value[at + 1].isalpha():
        return f"the apostrophe in {_in_quotes(value, at)} closes the quotes", at
    return "the quotes close here, and the text goes on", at


def _in_quotes(value: str, at: int) -> str:
    """The word around an apostrophe."""
    before = re.search(r"[^\s']*$", value[:at])
    after = re.match(r"[^\s']*", value[at + 1 :])
    return f"`{before.group() if before else ''}'{after.group() if after else ''}`"


def _in_code(sign: str) -> str:
    return sign if len(sign) > 1 else f"`{sign}`"


def lines_of(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    for rare in "\x85\u2028\u2029":
        text = text.replace(rare, "\n")
    return text.split("\n")


def texts_of(line: str) -> Iterator[LineText]:
    """The texts of one line: after its key, or after each key inside braces."""
    match = _VALUE.match(line)
    if match and not _begins_brackets(match["key"], match["value"]):
        yield LineText(match["key"], match["value"].rstrip(), match.start("value"), inside=False)
        return
    if found := _APOSTROPHE.search(line):
        yield LineText(found["key"], found["value"], found.start("value"), inside=True)
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
    if not text.inside and text.key not in TEXT_KEYS and (shaped := _shaped(text)):
        return shaped
    if len(text.value) < 60 or text.inside:
        return f"write `{text.key}: {quoted(_bare(text.value))}`"
    return block_mend(text.key)


def _shaped(text: LineText) -> str:
    """What to write where a value is no sentence: a list, a second key, a mapping; empty where it is none of these."""
    if text.value.startswith("- "):
        return f"write `{text.key}: [{text.value[2:].strip()}]`"
    if re.fullmatch(r"[^:]+:", text.value):
        return f"write `{text.key}: {text.value[:-1]}`"
    if two := _NEXT_IN_LINE.fullmatch(text.value):
        return f"write `{text.key}: {two['first']}`, and `{two['key']}: {two['rest']}` in a line of its own"
    return f"write `{text.key}: {{{text.value}}}`" if _ONE_PAIR.fullmatch(text.value) else ""


def _bare(value: str) -> str:
    """A text without the quotes that were put around it and do not hold it."""
    around = len(value) > 1 and value[0] in "'\"" and value[-1] == value[0]
    if not around or not _QUOTED_START.match(value):
        return value
    return value[1:-1].replace("''", "'") if value[0] == "'" else value[1:-1]


def quoted(text: str) -> str:
    """A text in the quotes that it does not hold itself, as YAML wants it."""
    if "'" in text and '"' not in text and "\\" not in text:
        return f'"{text}"'
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def block_mend(key: str) -> str:
    """The mend that always works for text."""
    return f"write `{key}: |` and the text on the next line, indented"
