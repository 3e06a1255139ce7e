"""Checks of the values on a line, without the parser: those that YAML would misread.

In: a line. Out: `LineValue` (the value of a key, with the mend by which YAML reads it as meant) and `LineFault` (an error
with its columns). A value is misread where it holds `: ` or ` #`, or begins with a sign of YAML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from sitegen.core.findings.mend import Mend, in_line
from sitegen.core.format import TABLES
from sitegen.ingest.yaml.keys import FIELDS, KNOWN_KEYS, ONLY_TEXT, TEXT_KEYS

_KEYS = "|".join(sorted(KNOWN_KEYS))
_TABLES_OF = {
    key: tuple({field.table for field in FIELDS if field.key == key and field.table}) for key in KNOWN_KEYS
}
# Keys that may hold a mapping or a list, which a bracket then begins.
_HOLDERS = {field.key for field in FIELDS if field.table}
_VALUE = re.compile(r"^\s*(?:- )?\s*(?P<key>[A-Za-z_][\w-]*):\s+(?P<value>\S.*)$")
_INSIDE = re.compile(rf"(?<=[{{,\s])(?P<key>{'|'.join(sorted(TEXT_KEYS))}):\s+(?=\S)")
_NEXT_KEY = re.compile(rf",\s*(?:{_KEYS}):(?:\s|$)")
# A comment has two spaces before its sign and one after it; `#2` and a sign after one space are text.
CUT = re.compile(r" #(?=.)|(?<!\s)\s++#(?=\S)")
MAX_EXAMINED = 2_000  # characters of a line that is searched for what its author meant
_NUMBER_SIGN = re.compile(r" #\d")
_SIGNS = "*&!%@`>|\"'[]{},#"
_SPACED_SIGNS = ("- ", "? ", ": ")
_SOUND = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'|[|>][+-]?\d?")
_QUOTE_LEFT_OPEN = re.compile(r"\"[^\"]*|'[^']*")
_NEXT_IN_LINE = re.compile(rf"(?P<first>.*?\S)[,;]?\s+(?P<key>{_KEYS}):\s+(?P<rest>\S.*)")
_PAIR = re.compile(r"(?P<key>[A-Za-z_][\w-]*): +(?:[^:,{}\[\]]+|\{[^{}]*\}|\[[^\[\]]*\])")
# Behind a digit the sign may be that of inches.
_LAST_QUOTE = re.compile(r"[^\"']*[^\"'\s\d]\"")
_TYPOGRAPHIC = {"“": "”", "„": "“”", "”": "”", "«": "»", "»": "«"}
_ONE_PAIR = re.compile(r"[\w-]+: [^:,{}\[\]]+")
COMMENT = re.compile(r"(?<!\s)\s{2,}+#\s.*")
_APOSTROPHE = re.compile(r"(?P<key>[\w-]+): +(?P<value>'[^']*[A-Za-z]'[A-Za-z].*?')\s*(?=[,}\]])")
# Quotes that close before the text does.
_QUOTED_START = re.compile(r"(?:\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*')(?=.)")


@dataclass(frozen=True, slots=True)
class LineValue:
    """The value after a key on one line, as found without the parser."""

    key: str
    value: str
    column: int
    inside: bool  # of braces or brackets
    indent: int = 0  # of the key

    @property
    def problem(self) -> tuple[str, int] | None:
        """The reason that YAML misreads the value, and its offset; None where it does not."""
        if _SOUND.fullmatch(self.value) or _QUOTE_LEFT_OPEN.fullmatch(self.value):
            return None
        return _broken_quotes(self.value) or self._sign()

    def becoming(self, text: str, *, safe: bool = True) -> Mend:
        """The mend that writes another text in its place."""
        return replace(in_line(self.column, self.value, text, before=f"{self.key}: "), safe=safe)

    def _sign(self) -> tuple[str, int] | None:
        """A sign of YAML, and its offset."""
        begins = self.value[0] in (_SIGNS + "?" if self.inside else _SIGNS)
        if begins or self.value.startswith(_SPACED_SIGNS):
            sign = "the backtick" if self.value[0] == "`" else f"`{self.value[0]}`"
            return f"{sign} at the beginning of a text is a sign of YAML", 0
        if ": " in self.value or self.value.endswith(":"):
            offset = self.value.index(": ") if ": " in self.value else len(self.value) - 1
            return "`: ` begins a mapping", offset
        if self.inside and (cut := CUT.search(self.value)):
            return "what follows ` #` is a comment and would be lost", cut.end() - 1
        if self.inside and (sign_at := re.search(r"[\[\]{}]", self.value)):
            return f"`{sign_at.group()}` is a sign of YAML inside braces", sign_at.start()
        return None


def _broken_quotes(value: str) -> tuple[str, int] | None:
    """Quotes that close before the text ends, mostly at an apostrophe, and their offset."""
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


def values_on(line: str) -> Iterator[LineValue]:
    """The values of one line: after its key, or after each key inside braces."""
    if len(line) > MAX_EXAMINED:
        return
    match = _VALUE.match(line)
    if match and not _begins_brackets(match["key"], match["value"]):
        value = match["value"] if match["value"][0] in "'\"" else COMMENT.sub("", match["value"])
        yield LineValue(match["key"], value.rstrip(), match.start("value"), False, match.start("key"))
        return
    if found := _APOSTROPHE.search(line):
        yield LineValue(found["key"], found["value"], found.start("value"), inside=True)
    for found in _INSIDE.finditer(line):
        depth = sum(line.count(s, 0, found.start()) for s in "[{") - sum(
            line.count(s, 0, found.start()) for s in "]}"
        )
        value = _up_to_next(line[found.end() :], depth)
        if depth > 0 and value and not (value[0] in "[{" and found["key"] in _HOLDERS):
            yield LineValue(found["key"], value, found.end(), inside=True)


def _begins_brackets(key: str, value: str) -> bool:
    """Whether a value is a list or mapping, and not a sentence that begins with a bracket."""
    sentence = key in TEXT_KEYS - _HOLDERS and value.rstrip()[-1] not in "]}"
    return value[0] in "[{" and not sentence


def _up_to_next(rest: str, depth: int) -> str:
    """A value inside braces: up to the next key of the format, else up to the brackets that close it."""
    following = _NEXT_KEY.search(rest)
    if following:
        return rest[: following.start()].strip()
    text = rest.rstrip()
    for _ in range(depth):
        text = text[:-1].rstrip() if text.endswith(("]", "}")) else text
    return text.strip()


def mend_of(text: LineValue) -> str | Mend:
    """The mend with which YAML reads a value as it is written."""
    if braced := _braced(text):
        return text.becoming(braced)
    if not text.inside and text.key not in TEXT_KEYS and (shaped := _shaped(text)):
        return shaped
    value = _bare(text.value)
    if text.inside and (following := _NEXT_IN_LINE.fullmatch(value)):
        return f"write `{text.key}: {quoted(value)}`, or a comma before `{following['key']}:`"
    if not text.inside and (part := _part_of_own(text)):
        return f"write `{text.key}: {quoted(value)}` for one text, or braces around it for `{part}` as a key"
    if whole := _enclosed(value):
        return text.becoming(whole, safe=value[0] not in _TYPOGRAPHIC)
    mend = text.becoming(quoted(value))
    # Quotes would make a text of what may be a comment, or of what is none.
    is_sure = text.key in TEXT_KEYS and (not CUT.search(text.value) or is_number_sign(text.value))
    return mend if is_sure else str(mend)


def is_number_sign(text: str) -> bool:
    """Whether every ` #` of a text is that of a number, which is no comment: `lot #4`."""
    return all(_NUMBER_SIGN.match(text, cut.start()) for cut in CUT.finditer(text))


def _enclosed(value: str) -> str:
    """A text that has lost its first quote, or stands in typographic quotes, in quotes of YAML; empty for others."""
    if "\\" in value:
        return ""
    if _LAST_QUOTE.fullmatch(value):
        return f'"{value}'
    inner = value[1:-1]
    whole = len(value) > 2 and value[-1] in _TYPOGRAPHIC.get(value[0], "")
    return quoted(inner) if whole and not set(inner) & {value[0], value[-1]} else ""


def _own_keys(key: str) -> set[str]:
    """The keys that a mapping under a key can hold."""
    return {own for name in _TABLES_OF.get(key, ()) for own in TABLES[name].by_key}


def _part_of_own(text: LineValue) -> str:
    """A key of its own mapping that a text of several parts holds: `mould: white, plants: P1`."""
    named = re.findall(r", ([\w-]+): ", text.value) if text.key not in ONLY_TEXT else []
    return next((key for key in named if key in _own_keys(text.key)), "")


def _braced(text: LineValue) -> str:
    """A mapping that lacks its braces, or has round ones; empty for anything else."""
    if text.inside or text.key in ONLY_TEXT:
        return ""
    inner = text.value
    if inner[0] == "(" and inner[-1] == ")":
        inner = inner[1:-1]
    elif inner[0] not in "[{" and inner.endswith("}") and inner.count("}") == inner.count("{") + 1:
        inner = inner[:-1]
    pairs = [_PAIR.fullmatch(piece) for piece in re.split(r", +(?![^\[{]*[\]}])", inner)]
    keys = [pair["key"] for pair in pairs if pair]
    if len(keys) < len(pairs) or (len(keys) == 1 and inner is text.value):
        return ""
    own = _own_keys(text.key)
    fit = [key in own or (key not in KNOWN_KEYS and text.key not in TEXT_KEYS) for key in keys]
    return f"{{{inner}}}" if all(fit) else ""


def _shaped(text: LineValue) -> str | Mend:
    """The mend for a list, a second key or a mapping; empty for a sentence."""
    if text.value.startswith("- "):
        return text.becoming(f"[{text.value[2:].strip()}]")
    if re.fullmatch(r"[^:]+:", text.value):
        return text.becoming(text.value[:-1])
    if two := _NEXT_IN_LINE.fullmatch(text.value):
        return _in_two_lines(text, two)
    return text.becoming(f"{{{text.value}}}") if _ONE_PAIR.fullmatch(text.value) else ""


def _in_two_lines(text: LineValue, two: re.Match[str]) -> str | Mend:
    """The mend that gives a second key a line of its own; words where a third follows, or the first is none by itself."""
    first, second = two["first"], f"{two['key']}: {two['rest']}"
    words = f"write `{text.key}: {first}`, and `{second}` in a line of its own"
    rest = two["rest"]
    whole = ": " not in rest or (rest[0] in "{[" and rest[-1] in "]}")
    if ": " in first or not whole or text.key == two["key"]:
        return words
    mend = text.becoming(f"{first}\n{' ' * text.indent}{second}")
    return replace(mend, words=words)


def _bare(value: str) -> str:
    """A value without quotes around it that do not enclose it."""
    around = len(value) > 1 and value[0] in "'\"" and value[-1] == value[0]
    if not around or not _QUOTED_START.match(value):
        return value
    return value[1:-1].replace("''", "'") if value[0] == "'" else value[1:-1]


def stays_text(new: str, old: str) -> bool:
    """Whether YAML takes a new text without quotes as it is, where it takes the old one so: in braces too."""
    begins = new[:1] in _SIGNS + "?" or new.startswith(_SPACED_SIGNS)
    if (begins and new[:1] != old[:1]) or not new.strip() or new != new.strip():
        return False
    if (": " in new or new.endswith(":")) or CUT.search(new):
        return False
    return not any(sign in new and sign not in old for sign in ",[]{}")


def quoted(text: str) -> str:
    """A text in YAML quotes, of a kind that it does not contain where possible."""
    if "'" in text and '"' not in text and "\\" not in text:
        return f'"{text}"'
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def block_mend(key: str) -> str:
    """The mend that works for any text."""
    return f"write `{key}: |` and the text on the next line, indented"


class LineFault(NamedTuple):
    """An error in one line: columns count from 0."""

    column: int
    width: int
    message: str
    mend: str | Mend
    found: str
    code: str = "yaml-syntax"


def text_fault(line: str) -> LineFault | None:
    """A value that YAML misreads."""
    for text in values_on(line):
        if problem := text.problem:
            message, mend = f"in `{text.key}`, {problem[0]}", mend_of(text)
            return LineFault(text.column + problem[1], 1, message, mend, text.value[:60], "yaml-twist")
    return None
