"""Edits of findings carried out on the content of a file: every byte outside of their spans stays as it was.

In: the bytes of a file, edits. Out: the new bytes, and edits that do not overlap. Line ends, a byte order mark and the
end of the file are kept; lines are counted as YAML counts them.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.files.encodings import encoding_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.mend import Edit

_LINE_END = re.compile(r"(\r\n|[\n\r\x85\u2028\u2029])")


class StaleError(Exception):
    """A file does not hold what an edit is to replace."""


def edited(content: bytes, edits: Iterable[Edit]) -> bytes:
    """The content after edits of one file, which do not overlap.

    Raises
    ------
    StaleError
        Where the file is no text in its encoding, or holds something else at the span of an edit.

    """
    try:
        pieces = lines_and_ends(content)
    except UnicodeDecodeError as error:
        raise StaleError(str(error)) from error
    for edit in sorted(edits, key=lambda each: (each.line, each.column), reverse=True):
        place = 2 * (edit.line - 1)
        if not 0 <= place < len(pieces) or not edit.stands_in(pieces[place]):
            raise StaleError(f"{edit.file}:{edit.line}")
        pieces[place] = edit.in_place(pieces[place])
    return encoding_of(content).content("".join(pieces))


def lines_and_ends(content: bytes) -> list[str]:
    """The lines of a file at even places with their ends at odd ones, without its byte order mark."""
    return _LINE_END.split(encoding_of(content).text(content))


def apart(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """As many of the findings, in their order, as have edits that neither overlap nor touch."""
    taken: list[Edit] = []
    chosen: list[Finding] = []
    for finding in findings:
        if any(_meet(edit, other) for edit in finding.edits for other in taken):
            continue
        chosen.append(finding)
        taken += finding.edits
    return tuple(chosen)


def _meet(one: Edit, other: Edit) -> bool:
    if (one.file, one.line) != (other.file, other.line):
        return False
    return one.column <= other.column + other.width and other.column <= one.column + one.width


def unified_diff(file: str, before: bytes, after: bytes) -> str:
    """The difference of two contents of a file, in the unified format."""
    old, new = (encoding_of(content).text(content).splitlines(keepends=True) for content in (before, after))
    return "".join(_ended(difflib.unified_diff(_bare(old), _bare(new), f"a/{file}", f"b/{file}")))


def _bare(lines: Sequence[str]) -> list[str]:
    """Lines without the carriage return of their end, which a terminal would obey."""
    return [f"{line[:-2]}\n" if line.endswith("\r\n") else line for line in lines]


def _ended(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        yield line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n"
