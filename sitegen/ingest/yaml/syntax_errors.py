"""The finding for a text that is not YAML.

In: a file's text and the parser's error. Out: one finding in plain words: at the line that causes the error where
that is known, else where the parser stopped.
"""

from __future__ import annotations

from collections.abc import Callable

import yaml

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend, replacement
from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.brackets import bracket_faults, closed, still_open
from sitegen.ingest.yaml.keys import lines_of
from sitegen.ingest.yaml.line_checks import MAX_EXAMINED, LineFault, text_fault
from sitegen.ingest.yaml.structure_checks import (
    colon_fault,
    continued_text,
    indent_fault,
    item_fault,
    lone_key_fault,
    unseen_indent,
)

# Word of the parser's context → message.
_OPENED = {
    "flow": "the bracket that opens here is not closed",
    "quoted": "the quotes that open here are not closed",
}
# The parser's problems that a missing colon or a wrong column causes.
_ABOUT_LINES = (
    "mapping values are not allowed",
    "did not find expected key",
    "did not find expected '-'",
    "did not find expected alphabetic",
    "could not find expected ':'",
)
_ABOUT_ITEMS = ("did not find expected '-'", "did not find expected alphabetic")
_INDENT = "give this line the indentation of the lines it belongs to"
# The parser's problem → message and mend.
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
        mark = error.context_mark  # the parser stops lines after the text without a colon
    at = Source(file, mark.line + 1, mark.column + 1) if mark else Source(file)
    if "but found another document" in (error.problem or "") or "single document" in (error.context or ""):
        message = "a second document begins here; a file of a journal is one document"
        findings.add("yaml-documents", at, message, mend=_second_document(at, lines))
        return
    fault = _line_fault(error, lines)
    if fault is not None:
        number, found = fault
        source = Source(file, number + 1, found.column + 1, found.width)
        mend = found.mend.at(Source(file, number + 1)) if isinstance(found.mend, Mend) else found.mend
        findings.add(found.code, source, found.message, mend=mend, found=found.found)
        return
    _report_unclosed(error, at, lines, file, findings)


def _line_fault(error: yaml.MarkedYAMLError, lines: list[str]) -> tuple[int, LineFault] | None:
    """The line that causes the error, and its fault: a value that YAML misreads, else an error of structure.

    The cause is looked for where the parser stopped, in the line of its context, and in the line above each.
    """
    marks = [mark.line for mark in (error.problem_mark, error.context_mark) if mark]
    near = dict.fromkeys(number for mark in marks for number in (mark, mark - 1) if 0 <= number < len(lines))
    near = {number: None for number in near if len(lines[number]) <= MAX_EXAMINED}
    problem, context = error.problem or "", error.context or ""
    checks: tuple[Callable[[int], LineFault | None], ...] = (
        lambda number: unseen_indent(lines, number),
        lambda number: lone_key_fault(lines, number) if problem.startswith(_ABOUT_LINES) else None,
        lambda number: text_fault(lines[number]),
        lambda number: bracket_faults(lines[number], flow="flow" in context or "quoted" in context),
        lambda number: _structure_fault(problem, lines, number),
    )
    found = ((number, fault) for check in checks for number in near if (fault := check(number)))
    return next(found, None)


def _structure_fault(problem: str, lines: list[str], number: int) -> LineFault | None:
    """A line that is no `key: value`, or begins in the wrong column."""
    if not problem.startswith(_ABOUT_LINES):
        return None
    item = item_fault(lines[number]) if problem.startswith(_ABOUT_ITEMS) else None
    return item or colon_fault(lines[number]) or continued_text(lines, number) or indent_fault(lines, number)


def _report_character(error: yaml.reader.ReaderError, text: str, file: str, findings: Findings) -> None:
    code = error.character if isinstance(error.character, int) else ord(error.character)
    position = max(0, text.find(chr(code)))  # the parser counts bytes, and stops at the first of its kind
    before = lines_of(text[:position])
    line, column = len(before), len(before[-1]) + 1
    message = f"a character that cannot be seen (U+{code:04X}) stands here"
    source = Source(file, line, column)
    findings.add("yaml-syntax", source, message, mend=replacement(source, text[position : position + 1], ""))


def _report_unclosed(
    error: yaml.MarkedYAMLError, at: Source, lines: list[str], file: str, findings: Findings
) -> None:
    """A finding where brackets or quotes open, any other where the parser stopped."""
    problem, context = error.problem or "", error.context or ""
    kind = next((word for word in _OPENED if word in context), None)
    if kind and error.context_mark:
        start = _opening(error.context_mark, lines, file)
        findings.add("yaml-syntax", start, _OPENED[kind], mend=closed(lines[start.line - 1], start, at))
        return
    message, mend = next(
        (known for words, known in _PROBLEMS.items() if words in problem),
        (f"this is not YAML: {problem or context}", "check the indentation, and quote text that holds signs"),
    )
    findings.add("yaml-syntax", at, message, mend=mend)


def _opening(mark: yaml.Mark, lines: list[str], file: str) -> Source:
    """The place of the bracket or quote; the parser's mark is behind it where the text ends too soon."""
    if mark.line < len(lines) and lines[mark.line][mark.column : mark.column + 1].strip():
        return Source(file, mark.line + 1, mark.column + 1)
    for number in range(min(mark.line, len(lines) - 1), -1, -1):
        if still := still_open(lines[number]):
            return Source(file, number + 1, lines[number].rfind(still[-1]) + 1)
    return Source(file, min(mark.line + 1, len(lines)), mark.column + 1)


def _second_document(at: Source, lines: list[str]) -> Mend | str:
    """The mend for a `---`, which nothing but empty lines may follow."""
    rest = "".join(lines[at.line :]).strip()
    line = lines[at.line - 1] if at.line <= len(lines) else ""
    sure = not rest and line.strip() == "---"
    return replacement(at._replace(width=3), "---", "") if sure else "keep one document, and remove the `---`"
