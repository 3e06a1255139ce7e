"""One more entry of a log: at its end, or before the entries of later days.

In: the content of an experiment.yaml, the day, keys with their values. Out: the new content. Every byte that was there
stays, but for the `[]` of a log without entries; the entry is laid out as those before it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, NamedTuple

import yaml

from sitegen.core.files.encodings import encoding_of
from sitegen.filing.entries.entry_text import Layout, entry_text

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
# Line ends as YAML counts them, so that its marks and these offsets agree.
_LINE_END = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")
_COMMENT = re.compile(r"(?P<indent>[ ]*)#")
_BARE_KEY = re.compile(r"log[ \t]*:")


class CannotAppendError(Exception):
    """The log cannot be added to as it is written; `line` is where, `mend` what to do."""

    def __init__(self, message: str, mend: str, line: int = 1) -> None:
        super().__init__(message)
        self.message = message
        self.mend = mend
        self.line = line


class Change(NamedTuple):
    """One place of a file where bytes are put in: `removed` stood there before, `inserted` stand there then."""

    offset: int
    removed: bytes
    inserted: bytes

    def made(self, content: bytes) -> bytes:
        """The content with the change."""
        return content[: self.offset] + self.inserted + content[self.offset + len(self.removed) :]


def with_entry(content: bytes, when: str, fields: Sequence[tuple[str, str]]) -> bytes:
    """The file with one entry more: `when` is `day: 26` or `date: 2025-10-19`, values are YAML text.

    Raises
    ------
    CannotAppendError
        Where the log stands in brackets, or the file is no mapping.

    """
    return appending(content, when, fields).made(content)


def appending(
    content: bytes, when: str, fields: Sequence[tuple[str, str]], before: int | None = None
) -> Change:
    """The change that puts the entry in: before the entry that begins on a line, else at the end."""
    file = _File.of(content)
    place = _place(file, before)
    text = place.opening + entry_text(when, fields, place.layout)
    above = file.text[: place.start]
    if place.start == place.stop and above and not _ends_a_line(above):
        text = place.layout.line_end + text
    start = len(_encoded(above)) + file.skipped
    return Change(start, _encoded(file.text[place.start : place.stop]), _encoded(text))


def _encoded(text: str) -> bytes:
    return text.encode("utf-8")


def _ends_a_line(text: str) -> bool:
    return text.endswith(("\n", "\r", "\x85", "\u2028", "\u2029"))


class _Place(NamedTuple):
    """Where an entry goes: between two offsets of the text, after `opening`."""

    start: int
    stop: int
    layout: Layout
    opening: str = ""


class _File(NamedTuple):
    """The text of a file with the offsets at which its lines begin; `skipped` are the bytes of its mark."""

    text: str
    starts: tuple[int, ...]
    skipped: int

    @classmethod
    def of(cls, content: bytes) -> _File:
        encoding = encoding_of(content)
        if encoding.name != "utf-8":
            message = f"the file is {encoding.said} text, which is read, but not added to"
            mend = f"save the file as UTF-8, in an editor or by `iconv -f {encoding.said} -t UTF-8`"
            raise CannotAppendError(message, mend)
        body = content.removeprefix(encoding.mark)
        try:
            text = body.decode("utf-8")
        except UnicodeDecodeError as error:
            line = body.count(b"\n", 0, error.start) + 1
            raise CannotAppendError("the file is not UTF-8 text", "save the file as UTF-8", line) from error
        starts = (0, *(found.end() for found in _LINE_END.finditer(text)))
        return cls(text, starts, len(content) - len(body))

    def offset(self, mark: yaml.Mark) -> int:
        """The offset of a place."""
        return min(self._start(mark.line) + mark.column, len(self.text))

    def _start(self, line: int) -> int:
        return self.starts[line] if line < len(self.starts) else len(self.text)

    def line(self, number: int) -> str:
        """One line, without its line end."""
        return _LINE_END.sub("", self.text[self._start(number) : self._start(number + 1)])

    def after(self, number: int) -> int:
        """The offset behind a line and its line end."""
        return self._start(number + 1)

    @property
    def lines(self) -> int:
        """The number of lines; the last may be empty."""
        return len(self.starts)

    @property
    def line_end(self) -> str:
        """The line end that most lines have."""
        windows = self.text.count("\r\n")
        plain = self.text.count("\n") - windows
        old = self.text.count("\r") - windows
        most = max(windows, plain, old)
        if most in (0, plain):
            return "\n"
        return "\r\n" if windows == most else "\r"


def _place(file: _File, before: int | None) -> _Place:
    """Where the entry goes, by what is there under `log`."""
    root = _root(file.text)
    log = next((pair for pair in root.value if pair[0].value == "log"), None)
    if log is None:
        return _without_log(file, root)
    key, value = log
    if isinstance(value, yaml.SequenceNode):
        if value.value and not value.flow_style:
            return _among(file, key, value, before)
        if not value.value:
            return _empty_list(file, root, key, value)
        message = "the log stands in brackets, where nothing can be added without rewriting it"
        raise _refused(message, "write its entries below `log:`, each beginning with `- `", value)
    if isinstance(value, yaml.ScalarNode) and not value.style and value.value in ("", "~", "null"):
        return _empty_value(file, root, key, value)
    raise _refused(
        "`log` holds no entries", "write its entries below `log:`, each beginning with `- `", value
    )


def _refused(message: str, mend: str, node: yaml.Node) -> CannotAppendError:
    return CannotAppendError(message, mend, node.start_mark.line + 1)


def _root(text: str) -> yaml.MappingNode:
    try:
        root = yaml.compose(text, Loader=_LOADER)
    except (yaml.YAMLError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        line = mark.line + 1 if mark is not None else 1
        message = "the file cannot be read as YAML"
        raise CannotAppendError(message, "run `sitegen validate`, which says why", line) from error
    if not isinstance(root, yaml.MappingNode):
        raise CannotAppendError("the file is not a list of keys", "write its keys, each with a value", 1)
    if root.flow_style:
        raise _refused("the file stands in braces", "write each key on a line of its own", root)
    return root


def _among(file: _File, key: yaml.Node, log: yaml.SequenceNode, before: int | None) -> _Place:
    """After an entry, and the comments that are indented as a part of it; before the first, right below the key."""
    hyphen = log.start_mark.column
    last = log.value[-1]
    column = (
        last.start_mark.column if last.start_mark.line and last.start_mark.column > hyphen + 1 else hyphen + 2
    )
    layout = Layout(hyphen, column, file.line_end)
    above = [each for each in log.value if before is None or each.start_mark.line + 1 < before]
    if not above:
        at = file.after(int(key.end_mark.line))
        return _Place(at, at, layout)
    line = _last_line(file, above[-1])
    while line + 1 < file.lines:
        comment = _COMMENT.match(file.line(line + 1))
        if comment is None or len(comment["indent"]) <= hyphen:
            break
        line += 1
    at = file.after(line)
    return _Place(at, at, layout)


def _last_line(file: _File, node: yaml.Node) -> int:
    """The number of the last line that a node takes."""
    last: Any = node
    while not isinstance(last, yaml.ScalarNode) and last.value and not last.flow_style:
        inner = last.value[-1]
        last = inner[1] if isinstance(inner, tuple) else inner
    end = last.end_mark
    if not (isinstance(last, yaml.ScalarNode) and last.style in ("|", ">")):
        return int(end.line)
    line = int(end.line) if end.column else int(end.line) - 1
    head = file.line(last.start_mark.line)[last.start_mark.column :]
    keeps = "+" in head.partition("#")[0]
    # Empty lines behind a block of text are a part of it only where it says so.
    while not keeps and line > last.start_mark.line and not file.line(line).strip():
        line -= 1
    return min(line, file.lines - 1)


def _empty_list(file: _File, root: yaml.MappingNode, key: yaml.Node, value: yaml.Node) -> _Place:
    """In place of `[]`; what stands behind it on its line is a comment."""
    start, stop = file.offset(key.end_mark), file.offset(value.end_mark)
    colon = file.text.index(":", start) + 1
    return _in_place(file, root, colon, stop, int(value.end_mark.line))


def _empty_value(file: _File, root: yaml.MappingNode, key: yaml.Node, value: yaml.ScalarNode) -> _Place:
    """Below `log:`, in place of a `null`."""
    colon = file.text.index(":", file.offset(key.end_mark)) + 1
    if not value.value:
        return _in_place(file, root, colon, colon, int(key.end_mark.line))
    return _in_place(file, root, colon, file.offset(value.end_mark), int(value.end_mark.line))


def _in_place(file: _File, root: yaml.MappingNode, start: int, stop: int, line: int) -> _Place:
    """The first entry of a log, in place of what says that there is none; a comment behind that stays above it."""
    column = int(root.start_mark.column)
    layout = Layout(column + 2, column + 4, file.line_end)
    at = file.after(line)
    if stop == start:
        return _Place(at, at, layout)
    rest = file.text[stop:at]
    opening = rest if rest.strip() else file.line_end
    if not _ends_a_line(opening):
        opening += file.line_end
    return _Place(start, at, layout, opening)


def _without_log(file: _File, root: yaml.MappingNode) -> _Place:
    """At the end of the file, under a `log:` of its own."""
    column = int(root.start_mark.column)
    layout = Layout(column + 2, column + 4, file.line_end)
    end = next((n for n in range(file.lines) if file.line(n).rstrip() == "..."), None)
    at = len(file.text) if end is None else file.after(end - 1)
    opening = " " * column + "log:" + file.line_end
    return _Place(at, at, layout, opening)
