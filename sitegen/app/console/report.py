"""Findings as text for people, as lines, and as JSON for other programs.

In: findings, the journal's folder for excerpts. Out: text; in colour only where it is asked for. Causes come first, and
findings of one kind are told once (`core.findings.told`). Fields are only ever added to the JSON.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from sitegen.core.files.encodings import encoding_of
from sitegen.core.findings.codes import Severity
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.findings.told import Told, told
from sitegen.core.language.text import listed, plural

JSON_FORMAT = 1  # the number of its format

# ANSI Select Graphic Rendition (ECMA-48): bold is 1, colours are 30 and up.
_COLOURS = {
    "error": "1;31",
    "warning": "1;33",
    "advice": "1;36",
    "place": "34",
    "help": "36",
    "headline": "1",
}


def _painted(text: str, colour: str, on: bool) -> str:
    return f"\x1b[{_COLOURS[colour]}m{text}\x1b[0m" if on and text else text


def finding_text(finding: Finding, lines: Lines, *, colour: bool = False) -> str:
    """One finding over several lines, without a line end."""
    source = finding.source
    head = _painted(f"{finding.severity}[{finding.code}]", finding.severity, colour)
    parts = [f"{head}: {_painted(printable(finding.message), 'headline', colour)}"]
    place = f"{printable(source.file)}:{source.line}:{source.column}"
    parts.append(f" {_painted('-->', 'place', colour)} {place}")
    excerpt = lines.excerpt(source)
    if excerpt is not None:
        parts += _excerpt(excerpt, finding, colour)
    if finding.mend:
        parts.append(f"{_painted('help', 'help', colour)}: {printable(finding.mend)}")
    return "\n".join(parts)


def _excerpt(excerpt: Excerpt, finding: Finding, colour: bool) -> list[str]:
    """The marked line beside its gutter, below the line that opens its block."""
    number = str(finding.source.line)
    blank = " " * len(number)
    bar = _painted("|", "place", colour)
    carets = _painted("^" * excerpt.width, finding.severity, colour)
    above = f"{int(number) - 1:>{len(number)}}"
    context = [f"{_painted(above, 'place', colour)} {bar} {excerpt.above}"] if excerpt.above else []
    return [
        f"{blank} {bar}",
        *context,
        f"{_painted(number, 'place', colour)} {bar} {excerpt.text}",
        f"{blank} {bar} {' ' * excerpt.before}{carets}",
    ]


def findings_text(
    findings: Iterable[Finding],
    root: Path,
    *,
    colour: bool = False,
    most: int = 0,
    unsaved: Mapping[str, bytes] | None = None,
) -> str:
    """All findings as they are told, a blank line after each, and the closing line; empty without findings.

    `most`: no more than so many of those that are shown; 0: all of them. `unsaved` are files as they would be, by their
    names in findings.
    """
    lines = Lines(root)
    for name, content in (unsaved or {}).items():
        lines.know(name, content)
    items = told(findings)
    if not items:
        return ""
    blocks = [told_text(each, lines, colour=colour) for each in items[: most or None]]
    return "\n\n".join([*blocks, _closing_line(items)]) + "\n"


def told_text(item: Told, lines: Lines, *, colour: bool = False) -> str:
    """One finding, the others of its kind, and those it holds back, over several lines, without a line end."""
    parts = [finding_text(item.first, lines, colour=colour)]
    if item.more:
        parts.append(f"{_painted('more', 'help', colour)}: {printable(_more(item))}")
        parts += [printable(f"      {line}") for line in _other_mends(item)]
    if item.held:
        parts.append(f"{_painted('held back', 'help', colour)}: {printable(_held(item))}")
    return "\n".join(parts)


def closing_line(findings: Iterable[Finding]) -> str:
    """`3 errors and 1 warning in 2 files`; with `; 5 held back` where findings are."""
    return _closing_line(told(findings))


def _closing_line(items: Collection[Told]) -> str:
    kinds = [finding for item in items for finding in item.kind]
    count = Counter(finding.severity for finding in kinds)
    counts = [plural(count[each], one, many) for each, one, many in _COUNTED if count[each]]
    held = sum(len(item.held) for item in items)
    files = len({finding.source.file for item in items for finding in (*item.kind, *item.held)})
    return f"{listed(counts)} in {plural(files, 'file')}" + (f"; {held} held back" if held else "")


_COUNTED = (
    (Severity.ERROR, "error", "errors"),
    (Severity.WARNING, "warning", "warnings"),
    (Severity.ADVICE, "piece of advice", "pieces of advice"),
)
MOST_MENDS = 8  # lines of other mends below a finding; the JSON has them all


def _more(item: Told) -> str:
    """`27 more like it, lines 31-58`."""
    return f"{len(item.more)} more like it, {_places(item.more, item.first.source.file)}"


def _other_mends(item: Told) -> Iterator[str]:
    """A line for each finding of the kind that is mended in other words."""
    others = [each for each in item.more if each.mend != item.first.mend]
    for each in others[:MOST_MENDS]:
        yield f"{_places([each], item.first.source.file)}: {each.mend}"
    if len(others) > MOST_MENDS:
        yield f"and {plural(len(others) - MOST_MENDS, 'other')}: `sitegen validate --json` has them all"


def _held(item: Told) -> str:
    """`9 findings that may follow from it: before-start (lines 31-58), never-sown (line 60)`."""
    by_code: dict[str, list[Finding]] = {}
    for finding in item.held:
        by_code.setdefault(finding.code, []).append(finding)
    codes = [f"{code} ({_places(each, item.first.source.file)})" for code, each in by_code.items()]
    return f"{plural(len(item.held), 'finding')} that may follow from it: {', '.join(codes)}"


def _places(findings: Sequence[Finding], file: str) -> str:
    """`line 7`, `lines 7, 9 and 12`, `lines 31-58`; of other files `a.csv:7`, or how many they are."""
    files = list(dict.fromkeys(finding.source.file for finding in findings))
    if files == [file]:
        return _lines([finding.source.line for finding in findings])
    if len(findings) <= FEW:
        return listed([str(finding.source) for finding in findings])
    return f"in {listed([*files[:2], plural(len(files) - 2, 'more file')]) if len(files) > FEW else listed(files)}"


FEW = 3  # places that are named one by one


def _lines(lines: Sequence[int]) -> str:
    unique = sorted(set(lines))
    if len(unique) == 1:
        return f"line {unique[0]}"
    if len(unique) <= FEW:
        return f"lines {listed([str(line) for line in unique])}"
    return f"lines {unique[0]}-{unique[-1]}"


TAB = 4
LARGEST = 4_000_000  # bytes; a larger file is no text of a journal, and is not opened for an excerpt

# Line ends as YAML counts them, so that excerpts and positions agree.
_LINE_END = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")

_JOINERS = "\u200c\u200d"  # format characters that spelling and emoji need, and that do not change directions


class Excerpt(NamedTuple):
    """One line, cut to fit, with the line `above` that opens its block; `before` and `width` in terminal cells."""

    text: str
    before: int
    width: int
    above: str = ""


@dataclass(slots=True)
class Lines:
    """The lines of files of one journal; each file is read once."""

    root: Path
    most: int = 100
    _files: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def know(self, file: str, content: bytes) -> None:
        """Take a file as having a content that is not written yet."""
        self._files[file] = _lines_of(content)

    def excerpt(self, source: Source) -> Excerpt | None:
        """The excerpt of a place; None where its file or line does not exist."""
        if source.file not in self._files:
            self._files[source.file] = _read(self.root, source.file)
        lines = self._files[source.file]
        if not 1 <= source.line <= len(lines):
            return None
        line = lines[source.line - 1]
        if not line.strip():
            return None
        above = lines[source.line - 2] if source.line > 1 else ""
        start = min(source.column - 1, len(line))
        stop = max(start + 1, min(start + source.width, len(line.rstrip())))
        shown = printable(above.rstrip()) if _opens(above, line) else ""
        return _cut(line, start, stop, self.most, _shorten(shown, self.most))


def _read(root: Path, file: str) -> tuple[str, ...]:
    path = root / file
    try:
        if not path.resolve().is_relative_to(root.resolve()) or path.stat().st_size > LARGEST:
            return ()
        data = path.read_bytes()
    except (OSError, ValueError, RuntimeError):  # the last of a link that leads to itself
        return ()
    return _lines_of(data)


def _lines_of(data: bytes) -> tuple[str, ...]:
    encoding = encoding_of(data)
    if encoding.name == "utf-8" and b"\0" in data:
        return ()
    return tuple(_LINE_END.split(data.removeprefix(encoding.mark).decode(encoding.name, errors="replace")))


def _opens(above: str, line: str) -> bool:
    """Whether the line above opens the block of a line: `feed:` above an indented product."""
    bare = above.partition(" #")[0].rstrip()
    return bare.endswith(":") and _indent(above) < _indent(line)


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _shorten(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _cut(line: str, start: int, stop: int, most: int, above: str) -> Excerpt:
    """A line cut around a span, with an ellipsis at each end that was cut off."""
    line = line.rstrip()
    stop = min(stop, max(start + 1, start + most // 2))
    left = 0 if len(line) <= most else max(0, min(start - most // 3, len(line) - most))
    right = min(len(line), left + most)
    head, tail = "…" if left else "", "…" if right < len(line) else ""
    before, marked = printable(line[left:start]), printable(line[start:stop])
    rest = printable(line[stop:right])
    return Excerpt(
        f"{head}{before}{marked}{rest}{tail}",
        display_width(head + before),
        max(1, display_width(marked)),
        above,
    )


def printable(text: str) -> str:
    """A text without control and direction characters: a terminal would obey them. Tabs become spaces."""
    return "".join(_printable(character) for character in text)


def _printable(character: str) -> str:
    if character == "\t":
        return " " * TAB
    control = unicodedata.category(character) in {"Cc", "Cf", "Cs", "Zl", "Zp"} and character not in _JOINERS
    return "�" if control else character


def display_width(text: str) -> int:
    """Terminal cells of a text: wide East Asian characters take two, combining ones none (UAX #11)."""
    return sum(_cells(character) for character in text)


def _cells(character: str) -> int:
    if character in _JOINERS or unicodedata.category(character) in {"Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _as_data(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "message": _sendable(finding.message),
        "mend": _sendable(finding.mend),
        "found": _sendable(finding.found),
        "expected": _sendable(finding.expected),
        "source": {**finding.source._asdict(), "file": _sendable(finding.source.file)},
        "edits": [
            {key: value for key, value in edit._asdict().items() if key != "old"} for edit in finding.edits
        ],
        "safe": finding.safe,
    }


def _sendable(text: str) -> str:
    """A text as UTF-8 can hold it: a name of a file may not be."""
    return text.encode("utf-8", "replace").decode()


def _told_as_data(item: Told) -> dict[str, Any]:
    return {
        **_as_data(item.first),
        "more": [_as_data(finding) for finding in item.more],
        "held_back": [_as_data(finding) for finding in item.held],
    }


def findings_json(findings: Iterable[Finding]) -> str:
    """All findings as they are told, with every field, and a line end."""
    data = {"format": JSON_FORMAT, "findings": [_told_as_data(item) for item in told(findings)]}
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def finding_line(finding: Finding, rest: str = "") -> str:
    """One finding on one line, without a line end."""
    source = finding.source
    mend = f" ({finding.mend})" if finding.mend else ""
    text = f"{finding.severity}[{finding.code}]: {finding.message}{mend}{rest}"
    return printable(f"{source.file}:{source.line}:{source.column}: {text}")


def findings_lines(findings: Iterable[Finding]) -> str:
    """All findings as they are told, a line each; those of a kind that are mended otherwise have lines of their own."""
    return "".join(f"{line}\n" for item in told(findings) for line in _told_lines(item))


def _told_lines(item: Told) -> Iterator[str]:
    held = f" … held back: {_held(item)}" if item.held else ""
    if item.one_mend:
        more = f" … and {_more(item)}" if item.more else ""
        yield finding_line(item.first, more + held)
        return
    yield finding_line(item.first, held)
    yield from (finding_line(finding) for finding in item.more)
