"""What YAML would twist, met with the mend: syntax errors in plain words, and text that silently changes.

In: a file's text and the parser's error. Out: findings. The rules: a note with `: ` or ` #`, a leading `*` `-` `%`
`"` `>` and their like, a tab, a comma inside braces that makes a key of half a sentence (the typed
reader sees that one, since only it knows the keys).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import yaml

from sitegen.core.finding import Findings, Source
from sitegen.core.format import TABLES

__all__ = ["TEXT_KEYS", "lines_of", "quoted_mend", "report_comma", "report_cut", "report_syntax"]

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
_CUT = re.compile(r" #(?=.)|\s+#(?=\S)")
_SIGNS = "*&!%@`>|\"'[]{},#"
_SPACED_SIGNS = ("- ", "? ", ": ")
_SOUND = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'|[|>][+-]?\d?")

_QUOTE_LEFT_OPEN = re.compile(r"\"[^\"]*|'[^']*")


@dataclass(frozen=True, slots=True)
class _Text:
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
        if self.inside and (cut := _CUT.search(self.value)):
            return "what follows ` #` is a comment and would be lost", cut.end() - 1
        if self.inside and (sign_at := re.search(r"[\[\]{}]", self.value)):
            return f"`{sign_at.group()}` is a sign of YAML inside braces", sign_at.start()
        return "", 0


def _in_code(sign: str) -> str:
    return sign if len(sign) > 1 else f"`{sign}`"


def _texts(line: str) -> Iterator[_Text]:
    """The texts of one line: after its key, or after each key inside braces."""
    match = _VALUE.match(line)
    if match and not _begins_brackets(match["key"], match["value"]):
        yield _Text(match["key"], match["value"].rstrip(), match.start("value"), inside=False)
        return
    for found in _INSIDE.finditer(line):
        depth = sum(line.count(s, 0, found.start()) for s in "[{") - sum(
            line.count(s, 0, found.start()) for s in "]}"
        )
        value = _up_to_next(line[found.end() :], depth)
        if depth > 0 and value and not (value[0] in "[{" and found["key"] in _HOLDERS):
            yield _Text(found["key"], value, found.end(), inside=True)


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


def _block_mend(key: str) -> str:
    """The mend that always works for text."""
    return f"write `{key}: |` and the text on the next line, indented"


def lines_of(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    return re.split("[\n\x85\u2028\u2029]", text)


def report_syntax(
    error: yaml.MarkedYAMLError | yaml.reader.ReaderError, text: str, file: str, findings: Findings
) -> None:
    """One finding for a text that is not YAML."""
    if isinstance(error, yaml.reader.ReaderError):
        _report_character(error, text, file, findings)
        return
    lines = lines_of(text)
    mark = error.problem_mark or error.context_mark
    at = Source(file, mark.line + 1, mark.column + 1) if mark else Source(file)
    if "but found another document" in (error.problem or "") or "single document" in (error.context or ""):
        findings.add(
            "yaml-documents",
            at,
            "a second document begins here; a file of a journal is one document",
            mend="remove the `---`",
        )
        return
    for line in _lines_around(error, len(lines)):
        if _report_line(lines[line], line, file, findings):
            return
    _report_unclosed(error, at, file, findings)


def _lines_around(error: yaml.MarkedYAMLError, count: int) -> list[int]:
    """The lines where the cause may stand: where the parser stopped, and the line of its context."""
    marks = [mark.line for mark in (error.problem_mark, error.context_mark) if mark]
    wanted = [line for mark in marks for line in (mark, mark - 1)]
    return [line for line in dict.fromkeys(wanted) if 0 <= line < count]


def _report_line(line: str, number: int, file: str, findings: Findings) -> bool:
    """Whether a line holds text that YAML twists into an error; if so, the finding."""
    if "\t" in line[: len(line) - len(line.lstrip())]:
        findings.add(
            "yaml-syntax",
            Source(file, number + 1, line.index("\t") + 1),
            "a tab indents this line; YAML takes only spaces",
            mend="indent with spaces",
            found="tab",
        )
        return True
    for text in _texts(line):
        what, offset = text.trouble
        if what:
            source = Source(file, number + 1, text.column + offset + 1)
            findings.add(
                "yaml-twist", source, f"in `{text.key}`, {what}", mend=_mend(text), found=text.value[:60]
            )
            return True
    return False


def _mend(text: _Text) -> str:
    if len(text.value) < 60 or text.inside:
        return f"write `{text.key}: {_quoted(text.value)}`"
    return _block_mend(text.key)


def _quoted(text: str) -> str:
    """A text in single quotes, as YAML wants it."""
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def quoted_mend(line: str, column: int) -> str:
    """The mend for a text that begins at a column with a sign of YAML; empty where it is not a key's."""
    text = next((text for text in _texts(line) if text.column == column), None)
    return _mend(text) if text else ""


def report_comma(
    source: Source, pieces: Sequence[str], key: str, value: str | None, findings: Findings
) -> None:
    """One finding for a text that a comma inside braces cut into keys."""
    first = pieces[0]
    if not key:
        findings.add(
            "yaml-twist",
            source,
            f"`{first}` stands in braces without a value",
            mend=f"write a list, `[{', '.join(pieces)}]`, or a value after `{first}: `",
            found=first,
        )
        return
    whole = ", ".join([value or "", *pieces])
    findings.add(
        "yaml-twist",
        source,
        f"the comma before `{first}` begins a new key here",
        mend=_comma_mend(key, value, whole, first),
        found=first,
    )


def _comma_mend(key: str, value: str | None, whole: str, first: str) -> str:
    if value is None:
        return f"write a value after `{first}: `"
    text = f"`{key}: {_quoted(whole)}`"
    one_text = key in TEXT_KEYS or " " in first
    return f"write {text}" if one_text else f"write a value after `{first}: `, or {text} for one text"


def _report_character(error: yaml.reader.ReaderError, text: str, file: str, findings: Findings) -> None:
    position = min(getattr(error, "position", 0), len(text))
    line = text.count("\n", 0, position) + 1
    column = position - (text.rfind("\n", 0, position) + 1) + 1
    findings.add(
        "yaml-syntax",
        Source(file, line, column),
        f"a character that cannot be seen (U+{_code_point(error.character):04X}) stands here",
        mend="remove it",
    )


def _code_point(character: int | str | bytes) -> int:
    return character if isinstance(character, int) else ord(character)


# What the parser opened and did not see closed: what is said of it, and the mend.
_OPENED = {
    "flow": ("the bracket that opens here is not closed", "close it before line {line}, column {column}"),
    "quoted": (
        "the quotes that open here are not closed",
        "close them at the end of the text, or put the other kind of quotes around all of it",
    ),
}
_INDENT = "give this line the indentation of the lines it belongs to"
# The parser's problems in plain words, each with its mend.
_PROBLEMS = {
    "mapping values are not allowed": ("no `key: value` can begin here", _INDENT),
    "did not find expected key": ("a key should stand here", _INDENT),
    "did not find expected '-'": ("an item that begins with `- ` should stand here", _INDENT),
    "could not find expected ':'": ("this line is no `key: value`", "write it as `key: value`, or remove it"),
    "cannot start any token": ("no text can begin with this sign", "put the text in quotes"),
    "undefined alias": ("no text can begin with `*`", "put the text in quotes"),
}


def _report_unclosed(error: yaml.MarkedYAMLError, at: Source, file: str, findings: Findings) -> None:
    """Brackets and quotes are shown where they open, the rest where the parser stopped."""
    problem, context = error.problem or "", error.context or ""
    opened = next((said for word, said in _OPENED.items() if word in context), None)
    if opened and error.context_mark:
        start = Source(file, error.context_mark.line + 1, error.context_mark.column + 1)
        mend = opened[1].format(line=at.line, column=at.column)
        findings.add("yaml-syntax", start, opened[0], mend=mend)
        return
    message, mend = next(
        (said for words, said in _PROBLEMS.items() if words in problem),
        (f"this is not YAML: {problem or context}", "check the indentation, and quote text that holds signs"),
    )
    findings.add("yaml-syntax", at, message, mend=mend)


def report_cut(key: str, value: str, after: str, source: Source, findings: Findings) -> str:
    """Text that YAML read without an error, but not as written: what follows ` #` is lost.

    `after` is the rest of the value's last line, and `source` the place where it begins. Returns the text as it
    was written.
    """
    cut = _CUT.match(after)
    if cut is None:
        return value
    offset = cut.end() - 1
    whole = f"{value}{after.rstrip()}".strip()
    mend = _block_mend(key) if "\n" in value or len(whole) >= 60 else f"write `{key}: {_quoted(whole)}`"
    findings.add(
        "yaml-twist",
        source.part(offset, len(after.rstrip()) - offset),
        f"in `{key}`, what follows ` #` is a comment and would be lost",
        mend=f"{mend}, or two spaces before a comment",
        found=after.strip(),
    )
    return whole
