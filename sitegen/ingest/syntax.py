"""Text that is not YAML, said in plain words with the mend.

In: a file's text and the parser's error. Out: one finding: at the line whose text YAML twists into the error, else where
the parser stopped.
"""

from __future__ import annotations

import yaml

from sitegen.core.finding import Findings, Source
from sitegen.ingest.line_texts import lines_of, mend_of, texts_of

__all__ = ["report_syntax"]

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
    for text in texts_of(line):
        what, offset = text.trouble
        if what:
            source = Source(file, number + 1, text.column + offset + 1)
            findings.add(
                "yaml-twist", source, f"in `{text.key}`, {what}", mend=mend_of(text), found=text.value[:60]
            )
            return True
    return False


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
