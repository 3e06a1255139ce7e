"""What YAML would twist, met with the mend: syntax errors in plain words, and text that silently changes.

In: a file's text and the parser's error. Out: findings. The rules: a note with `: ` or ` #`, a leading `*` `-` `%`
`"` `>` and their like, a tab, a comma inside braces that makes a key of half a sentence (the typed
reader sees that one, since only it knows the keys).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from sitegen.core.finding import Findings, Source

__all__ = ["TEXT_KEYS", "block_mend", "quoted_mend", "report_comma", "report_syntax", "report_twists"]

# Keys whose value is a sentence: only there can a cut-off remainder be told from a comment.
_SENTENCES = """note private taste why what title question before disclosure summary tagline text alt name
prune train clean trouble clip end"""
TEXT_KEYS = frozenset(_SENTENCES.split())
_VALUE = re.compile(r"^(?P<lead>\s*(?:- )?\s*(?P<key>[A-Za-z_][\w-]*):\s+)(?P<value>\S.*)$")
# A comment stands two spaces off and begins with a space; `#2` and a single space are text.
_CUT = re.compile(r"(?<=\S) #(?=.)|(?<=\S)\s+#(?=\S)")
_SIGNS = "*&!%@`>|-?\"'[]{},#"


def block_mend(key: str) -> str:
    """The mend that always works for text."""
    return f"write `{key}: |` and the text on the next line, indented"


def report_syntax(
    error: yaml.MarkedYAMLError | yaml.reader.ReaderError, text: str, file: str, findings: Findings
) -> None:
    """One finding for a text that is not YAML."""
    if isinstance(error, yaml.reader.ReaderError):
        _report_character(error, text, file, findings)
        return
    mark = error.problem_mark or error.context_mark
    lines = text.split("\n")
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
    findings.add(
        "yaml-syntax",
        at,
        f"this is not YAML: {error.problem or error.context}",
        mend=_syntax_mend(error),
    )


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
    match = _VALUE.match(line)
    if match is None:
        return False
    value, key, column = match["value"], match["key"], match.start("value") + 1
    if value[0] in "[{":
        return False
    if ": " in value or value.endswith(":"):
        offset = value.index(": ") if ": " in value else len(value) - 1
        _twist(findings, Source(file, number + 1, column + offset), key, value, "`: ` begins a mapping")
        return True
    if value[0] in _SIGNS:
        sign = value[0]
        what = f"`{sign}` at the beginning of a text is a sign of YAML"
        _twist(findings, Source(file, number + 1, column), key, value, what)
        return True
    return False


def _twist(findings: Findings, source: Source, key: str, value: str, what: str) -> None:
    mend = f"write `{key}: {_quoted(value)}`" if len(value) < 60 else block_mend(key)
    findings.add("yaml-twist", source, f"in `{key}`, {what}", mend=mend, found=value[:60])


def _quoted(text: str) -> str:
    """A text in single quotes, as YAML wants it."""
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def quoted_mend(line: str, column: int) -> str:
    """The mend for a text that begins at a column with a sign of YAML; empty where no key stands before it."""
    match = re.search(r"([A-Za-z_][\w-]*):\s+$", line[:column])
    rest = line[column:]
    inside = line[:column].count("{") > line[:column].count("}")
    text = re.split(r", [\w-]+:|\}", rest)[0] if inside else rest
    return f"write `{match[1]}: {_quoted(text.strip())}`" if match else ""


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
        mend=f"write `{key}: {_quoted(whole)}`" if value is not None else f"write a value after `{first}: `",
        found=first,
    )


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


def _syntax_mend(error: yaml.MarkedYAMLError) -> str:
    context = error.context or ""
    if "flow" in context:
        line = error.context_mark.line + 1 if error.context_mark else 1
        return f"close the bracket that opens in line {line}"
    if "quoted" in context:
        line = error.context_mark.line + 1 if error.context_mark else 1
        return f"close the quotes that open in line {line}"
    if "block" in context:
        return "give this line the indentation of the lines it belongs to"
    return "check the indentation, and quote text that holds signs"


def report_twists(text: str, file: str, findings: Findings, *, already: bool) -> None:
    """Text that YAML read without an error, but not as written: what follows ` #` is lost."""
    if already:
        return
    block_indent = -1
    for number, line in enumerate(text.split("\n"), 1):
        indent = len(line) - len(line.lstrip())
        if line.strip() and indent <= block_indent:
            block_indent = -1
        if block_indent >= 0 or "#" not in line:
            if re.search(r":\s+[|>][+-]?\d?\s*$", line):
                block_indent = indent
            continue
        _report_cut(line, number, file, findings)


def _report_cut(line: str, number: int, file: str, findings: Findings) -> None:
    match = _VALUE.match(line)
    if match is None or match["key"] not in TEXT_KEYS or match["value"][0] in "\"'[{|>#":
        return
    cut = _CUT.search(match["value"])
    if cut is None:
        return
    value = match["value"].rstrip()
    offset = match.start("value") + value.index("#", cut.start())
    findings.add(
        "yaml-twist",
        Source(file, number, offset + 1, len(line.rstrip()) - offset),
        f"in `{match['key']}`, what follows ` #` is a comment and would be lost",
        mend=f"write `{match['key']}: {_quoted(value)}`, or two spaces before a comment",
        found=value[cut.start() :].strip(),
    )
