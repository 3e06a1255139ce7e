"""Text that is not YAML, said in plain words with the mend.

In: a file's text and the parser's error. Out: one finding: at the line whose text YAML twists into the error, else
where the parser stopped.
"""

from __future__ import annotations

import re

import yaml

from sitegen.core.findings.finding import Findings, Source
from sitegen.ingest.yaml.line_checks import (
    LineFault,
    colon_fault,
    continued_text,
    indent_fault,
    item_fault,
    lines_of,
    mend_of,
    texts_of,
)

# What the parser opened and did not see closed.
_OPENED = {
    "flow": "the bracket that opens here is not closed",
    "quoted": "the quotes that open here are not closed",
}
_SHORTENED = re.compile(r"'(?:tis|twas|til|em|cause|bout|round|n)\b")  # an apostrophe, and no opening quote
_PAIRS = {"{": "}", "[": "]"}
# Problems that a missing colon or the wrong column brings about.
_ABOUT_LINES = (
    "mapping values are not allowed",
    "did not find expected key",
    "did not find expected '-'",
    "did not find expected alphabetic",
    "could not find expected ':'",
)
_ABOUT_ITEMS = ("did not find expected '-'", "did not find expected alphabetic")
_INDENT = "give this line the indentation of the lines it belongs to"
# The parser's problems in plain words, each with its mend.
_PROBLEMS = {
    "mapping values are not allowed": ("no `key: value` can begin here", _INDENT),
    "found character '\\t'": ("a tab stands here; YAML takes only spaces", "write spaces instead"),
    "did not find expected key": ("a key should stand here", _INDENT),
    "did not find expected '-'": ("an item that begins with `- ` should stand here", _INDENT),
    "could not find expected ':'": ("this line is no `key: value`", "write it as `key: value`, or remove it"),
    "cannot start any token": ("no text can begin with this sign", "put the text in quotes"),
    "undefined alias": ("no text can begin with `*`", "put the text in quotes"),
}


def report_syntax(
    error: yaml.MarkedYAMLError | yaml.reader.ReaderError, text: str, file: str, findings: Findings
) -> None:
    """One finding for a text that is not YAML."""
    if isinstance(error, yaml.reader.ReaderError):
        _report_character(error, text, file, findings)
        return
    lines = lines_of(text)
    mark = error.problem_mark or error.context_mark
    if "could not find expected ':'" in (error.problem or "") and error.context_mark:
        mark = error.context_mark  # the parser stops lines behind the text that has no colon
    at = Source(file, mark.line + 1, mark.column + 1) if mark else Source(file)
    if "but found another document" in (error.problem or "") or "single document" in (error.context or ""):
        findings.add(
            "yaml-documents",
            at,
            "a second document begins here; a file of a journal is one document",
            mend="remove the `---`",
        )
        return
    around = _lines_around(error, len(lines))
    if any(_report_line(lines[line], line, file, findings) for line in around):
        return
    if _report_fault(error, lines, around, file, findings):
        return
    _report_unclosed(error, at, lines, file, findings)


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
    for text in texts_of(line):
        what, offset = text.trouble
        if what:
            source = Source(file, number + 1, text.column + offset + 1)
            findings.add(
                "yaml-twist", source, f"in `{text.key}`, {what}", mend=mend_of(text), found=text.value[:60]
            )
            return True
    return False


def _report_fault(
    error: yaml.MarkedYAMLError, lines: list[str], around: list[int], file: str, findings: Findings
) -> bool:
    """Whether a line is no `key: value`, or begins in the wrong column; if so, the finding."""
    found = ((line, fault) for line in around if (fault := _fault(error.problem or "", lines, line)))
    line, fault = next(found, (0, None))
    if fault is None:
        return False
    source = Source(file, line + 1, fault.column + 1, fault.width)
    findings.add("yaml-syntax", source, fault.message, mend=fault.mend, found=fault.found)
    return True


def _fault(problem: str, lines: list[str], line: int) -> LineFault | None:
    if not problem.startswith(_ABOUT_LINES):
        return None
    if problem.startswith(_ABOUT_ITEMS) and (fault := item_fault(lines[line])):
        return fault
    if fault := colon_fault(lines[line]):
        return fault
    return continued_text(lines, line) or indent_fault(lines, line)


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


def _report_unclosed(
    error: yaml.MarkedYAMLError, at: Source, lines: list[str], file: str, findings: Findings
) -> None:
    """Brackets and quotes are shown where they open, the rest where the parser stopped."""
    problem, context = error.problem or "", error.context or ""
    kind = next((word for word in _OPENED if word in context), None)
    if kind and error.context_mark:
        start = _opening(error.context_mark, lines, file)
        line = lines[start.line - 1]
        findings.add("yaml-syntax", start, _OPENED[kind], mend=_closed(line, start.column - 1, at))
        return
    message, mend = next(
        (said for words, said in _PROBLEMS.items() if words in problem),
        (f"this is not YAML: {problem or context}", "check the indentation, and quote text that holds signs"),
    )
    findings.add("yaml-syntax", at, message, mend=mend)


def _opening(mark: yaml.Mark, lines: list[str], file: str) -> Source:
    """Where the bracket or quote stands; the parser's mark is behind it where the text ends too soon."""
    if mark.line < len(lines) and lines[mark.line][mark.column : mark.column + 1].strip():
        return Source(file, mark.line + 1, mark.column + 1)
    for number in range(min(mark.line, len(lines) - 1), -1, -1):
        if still := _still_open(lines[number]):
            return Source(file, number + 1, lines[number].rfind(still[-1]) + 1)
    return Source(file, min(mark.line + 1, len(lines)), mark.column + 1)


def _closed(line: str, opens: int, at: Source) -> str:
    """How to close what a line opens: at its end, where it does not plainly go on."""
    sign, rest = line[opens : opens + 1], line[opens:].rstrip()
    if _SHORTENED.match(rest):
        return f'write `"{rest}"`'
    if sign in "'\"":
        return f"write `{rest}{sign}`" if len(rest) > 1 else f"write the text and `{sign}` after it"
    missing = "".join(_PAIRS[s] for s in reversed(_still_open(line)))
    if not missing or rest[-1] in ",[{":
        return f"write `{_PAIRS.get(sign, '}')}` before line {at.line}, column {at.column}"
    return f"write `{missing}` at the end of the line"


def _still_open(text: str) -> str:
    """The brackets of a text that nothing in it closes."""
    opened = ""
    for sign in text:
        if sign in _PAIRS:
            opened += sign
        elif opened and sign == _PAIRS[opened[-1]]:
            opened = opened[:-1]
    return opened
