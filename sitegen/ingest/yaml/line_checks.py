"""Checks of single lines, without the parser: values that YAML would misread, and errors of structure.

In: a line, or the lines of a text. Out: `LineValue` (the value of a key, with the mend that keeps it text) and
`LineFault` (an error with its columns). A value is misread where it holds `: ` or ` #`, or begins with a sign of
YAML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from sitegen.core.findings.mend import Mend, in_line
from sitegen.core.format import TABLES
from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.format.fields import Form
from sitegen.core.language.text import plural

# Keys whose value is a sentence: only there a cut-off remainder is distinguished from a comment.
_SENTENCES = (
    "why what title question before disclosure summary tagline text alt name grade source asked answer"
)
_IN_WORDS = (Form.TEXT, Form.CLIPS, Form.DEED, Form.SCORE, Form.END)
TEXT_KEYS = frozenset(_SENTENCES.split()) | {
    key for key, row in LOG_KEYS.items() if row.form in _IN_WORDS and row.dimension is None
}
# Those of them that never hold a list or a mapping.
_FIELDS = [field for table in TABLES.values() for field in table.fields]
ONLY_TEXT = TEXT_KEYS - {field.key for field in _FIELDS if field.form is not Form.TEXT}
_KNOWN_KEYS = frozenset(field.key for field in _FIELDS)
_KEYS = "|".join(sorted(_KNOWN_KEYS))
# Keys that may hold a mapping or a list, which a bracket then begins.
_HOLDERS = {field.key for field in _FIELDS if field.table}
_VALUE = re.compile(r"^\s*(?:- )?\s*(?P<key>[A-Za-z_][\w-]*):\s+(?P<value>\S.*)$")
_INSIDE = re.compile(rf"(?<=[{{,\s])(?P<key>{'|'.join(sorted(TEXT_KEYS))}):\s+(?=\S)")
_NEXT_KEY = re.compile(rf",\s*(?:{_KEYS}):(?:\s|$)")
# A comment has two spaces before its sign and one after it; `#2` and a sign after one space are text.
CUT = re.compile(r" #(?=.)|\s+#(?=\S)")
_SIGNS = "*&!%@`>|\"'[]{},#"
_SPACED_SIGNS = ("- ", "? ", ": ")
_SOUND = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'|[|>][+-]?\d?")
_QUOTE_LEFT_OPEN = re.compile(r"\"[^\"]*|'[^']*")
_NEXT_IN_LINE = re.compile(rf"(?P<first>.*?\S)[,;]?\s+(?P<key>{_KEYS}):\s+(?P<rest>\S.*)")
_ONE_PAIR = re.compile(r"[\w-]+: [^:,{}\[\]]+")
_COMMENT = re.compile(r"\s{2,}#\s.*")
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

    @property
    def problem(self) -> tuple[str, int] | None:
        """The reason that YAML misreads the value, and its offset; None where it does not."""
        if _SOUND.fullmatch(self.value) or _QUOTE_LEFT_OPEN.fullmatch(self.value):
            return None
        return _broken_quotes(self.value) or self._sign()

    def becoming(self, text: str) -> Mend:
        """The mend that writes another text in its place."""
        return in_line(self.column, self.value, text, before=f"{self.key}: ")

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


def lines_of(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    for rare in "\x85\u2028\u2029":
        text = text.replace(rare, "\n")
    return text.split("\n")


def values_on(line: str) -> Iterator[LineValue]:
    """The values of one line: after its key, or after each key inside braces."""
    match = _VALUE.match(line)
    if match and not _begins_brackets(match["key"], match["value"]):
        value = match["value"] if match["value"][0] in "'\"" else _COMMENT.sub("", match["value"])
        yield LineValue(match["key"], value.rstrip(), match.start("value"), inside=False)
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
    if not text.inside and text.key not in TEXT_KEYS and (shaped := _shaped(text)):
        return shaped
    mend = text.becoming(quoted(_bare(text.value)))
    # Quotes would make a text of what may be a comment, or of what is none.
    return str(mend) if CUT.search(text.value) or text.key not in TEXT_KEYS else mend


def _shaped(text: LineValue) -> str | Mend:
    """The mend for a list, a second key or a mapping; empty for a sentence."""
    if text.value.startswith("- "):
        return text.becoming(f"[{text.value[2:].strip()}]")
    if re.fullmatch(r"[^:]+:", text.value):
        return text.becoming(text.value[:-1])
    if two := _NEXT_IN_LINE.fullmatch(text.value):
        return f"write `{text.key}: {two['first']}`, and `{two['key']}: {two['rest']}` in a line of its own"
    return text.becoming(f"{{{text.value}}}") if _ONE_PAIR.fullmatch(text.value) else ""


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


_TIGHT = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w-]*):(?P<value>[^\s:/].*)")
_NO_COLON = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[a-z_]+)(?:\s*[=;]\s*|\s+-?\s*)(?P<value>[^\s:].*)")
_KEY_LINE = re.compile(r"(?P<lead> *)(?P<dash>- +)?(?P<key>[\w-]+):(?=\s|$)\s*(?P<value>.*)")
# An item of the log without its `- `, or with another sign.
_ITEM = re.compile(r"(?P<lead> *)(?P<sign>[-–—*•+]?)(?P<space> *)(?P<key>day|date): *(?P<value>\S.*)")
_LOOK_BACK = 40  # lines; an entry is shorter


class LineFault(NamedTuple):
    """An error in one line: columns count from 0."""

    column: int
    width: int
    message: str
    mend: str | Mend
    found: str
    code: str = "yaml-syntax"


def text_fault(line: str) -> LineFault | None:
    """A tab in the indentation, or a value that YAML misreads."""
    if "\t" in line[: _indent(line)]:
        message = "a tab indents this line; YAML takes only spaces"
        return LineFault(line.index("\t"), 1, message, "indent with spaces", "tab")
    for text in values_on(line):
        if problem := text.problem:
            message, mend = f"in `{text.key}`, {problem[0]}", mend_of(text)
            return LineFault(text.column + problem[1], 1, message, mend, text.value[:60], "yaml-twist")
    return None


def colon_fault(line: str) -> LineFault | None:
    """`harvest:2 oz` and `harvest 2 oz`."""
    if tight := _TIGHT.fullmatch(line):
        key, value = tight["key"], tight["value"].strip()
        message = f"there is no space after the colon of `{key}`"
        mend = in_line(tight.start("key"), f"{key}:{value}", f"{key}: {value}")
        return LineFault(tight.end("key"), 1, message, mend, f"{key}:{value}"[:60])
    loose = _NO_COLON.fullmatch(line)
    if loose is None or loose["key"] not in _KNOWN_KEYS or ": " in line:
        return None
    key, value = loose["key"], loose["value"].strip()
    message = f"there is no colon after `{key}`"
    old = line[loose.start("key") :].rstrip()
    mend = in_line(loose.start("key"), old, f"{key}: {value}")
    return LineFault(loose.start("key"), len(key), message, mend, line.strip()[:60])


def item_fault(line: str) -> LineFault | None:
    """`day: 20`, `-day: 20` and `* day: 20` where an entry begins."""
    item = _ITEM.fullmatch(line)
    if item is None or (item["sign"] == "-" and item["space"]):
        return None
    key = item["key"]
    message = {
        "": f"an entry begins with `- `, and this `{key}` has none",
        "-": f"there is no space between `-` and `{key}`",
    }.get(item["sign"], f"an entry begins with `- `, not with `{item['sign']}`")
    start = item.start("sign") if item["sign"] else item.start("key")
    mend = in_line(start, line[start:].rstrip(), f"- {key}: {item['value'].strip()}")
    return LineFault(start, len(item["sign"]) or len(key), message, mend, line.strip()[:60])


def continued_text(lines: Sequence[str], number: int) -> LineFault | None:
    """A text whose second line holds `: `."""
    above = _KEY_LINE.fullmatch(lines[number - 1]) if number else None
    line = lines[number]
    at = line.find(": ")
    if above is None or not above["value"] or at < 0 or _KEY_LINE.fullmatch(line):
        return None
    if _indent(line) < above.start("key"):
        return None
    message = f"the text of `{above['key']}` goes on here, and its `: ` begins a mapping"
    return LineFault(at, 1, message, block_mend(above["key"]), line.strip()[:60])


def indent_fault(lines: Sequence[str], number: int) -> LineFault | None:
    """A key, or an item of a list, that is not aligned with those above."""
    line = _KEY_LINE.fullmatch(lines[number])
    if line is None:
        return None
    part = "dash" if line["dash"] else "key"
    above = list(_columns_above(lines, number, part))
    own = line.start(part)
    if not above or above[0][0] == own:
        return None
    column, key = min(above, key=lambda each: abs(each[0] - own))
    if column == own:
        return None
    name, below = (f"`{line['key']}`", f"`{key}`") if part == "key" else ("`- `", "the `- ` above")
    spaces = plural(column, "space") if column else "no spaces"
    return LineFault(
        own,
        len(line[part].rstrip()),
        f"{name} does not line up with {below}",
        f"write {spaces} before {name}, so that it stands under {below}",
        line["key"],
    )


def _columns_above(lines: Sequence[str], number: int, part: str) -> Iterator[tuple[int, str]]:
    """The columns and keys of the lines above, the nearest line first."""
    for line in reversed(lines[max(0, number - _LOOK_BACK) : number]):
        match = _KEY_LINE.fullmatch(line)
        if match and match[part]:
            yield match.start(part), match["key"]


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
