"""What the program makes of a slip: whether its first finding is in the right place, and its remedy right.

In: a `Slip`. Out: `Judged`. A remedy is followed to the letter: its edits, or the text that it says to write in the
place of what is marked; then the journal must hold the facts that were meant, and have no finding.
"""

from __future__ import annotations

import datetime as dt
import re
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, takewhile
from pathlib import Path
from types import NoneType
from typing import Any

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Which
from sitegen.ingest import read_experiment, read_journal
from sitegen.pipeline import validate
from tests.slips.table import Mark, Slip, sound, with_text

__all__ = ["TODAY", "Judged", "judged"]

TODAY = dt.date(2026, 11, 29)
_WRITE = re.compile(r"(?:write|did you mean) `([^`…]+)`\??")
_KEY = re.compile(r"([\w-]+): ")


@dataclass(frozen=True, slots=True)
class Judged:
    """A slip with what came of it; `others` counts the findings besides the first."""

    slip: Slip
    verdict: str
    right: bool
    placed: bool = True
    finding: Finding | None = None
    others: int = 0

    def row(self) -> str:
        """One line of the table, and for what is wrong the finding below it."""
        sign = "ok   " if self.right else "WRONG"
        more = f" (+{self.others})" if self.others else ""
        title = self.slip.title if len(self.slip.title) < 100 else f"{self.slip.title[:99]}…"
        line = f"{sign} {self.verdict + more:<34} {self.slip.name:<16} {title}"
        if self.right or self.finding is None:
            return line
        found = self.finding
        place = (
            f"{Path(found.source.file).name}:{found.source.line}:{found.source.column}+{found.source.width}"
        )
        wanted = f"{self.slip.outcome} {' | '.join(self.slip.names)}".strip()
        return (
            f"{line}\n        slips.txt:{self.slip.line}, wanted: {wanted}\n"
            f"        {place} {found.severity}[{found.code}]: {found.message}\n        help: {found.mend}"
        )


def judged(slip: Slip, folder: Path) -> Judged:
    """What comes of a slip; `folder` is the tests' own, and holds a copy of each journal afterwards."""
    root = folder / slip.journal
    if not root.exists():
        shutil.copytree(sound(slip.journal), root)
    try:
        return _judged(slip, root)
    finally:
        for path in (path for path in sound(slip.journal).rglob("*") if path.is_file()):
            copy = root / path.relative_to(sound(slip.journal))
            if copy.read_bytes() != path.read_bytes():
                shutil.copyfile(path, copy)


def _judged(slip: Slip, root: Path) -> Judged:
    meant = _meant(slip, root)
    (root / slip.file).write_text(with_text(slip, slip.typed), "utf-8")
    findings = validate(root, TODAY).findings
    if not findings:
        same = _facts(root) == meant
        right = same and slip.outcome != "advice"
        return Judged(slip, "accepted" if right else "guessed" if same else "passed in silence", right)
    first = next((one for one in findings if one.is_error), findings[0])
    placed = any(_overlaps(first.source, mark, root) for mark in slip.marks())
    others = len(findings) - 1
    verdict, right = _remedy(slip, first, root, meant)
    if slip.outcome == "accept":
        return Judged(slip, f"asks: {verdict}", False, placed, first, others)
    if not placed:
        return Judged(slip, f"wrong place, {verdict}", False, False, first, others)
    return Judged(slip, verdict, right, True, first, others)


def _remedy(slip: Slip, first: Finding, root: Path, meant: object) -> tuple[str, bool]:
    """What the remedy of a finding comes to, and whether that was wanted."""
    edits = _edits(first, root)
    if edits:
        for edit in sorted(edits, reverse=True):  # from the end, so that places before it stay
            _replace(root / edit[0].file, *edit)
        left = validate(root, TODAY).findings
        if not left and _facts(root) == meant:
            return "mended", True
        mend = "safe mend" if getattr(first, "safe", False) else "mend"
        return f"{mend} {'leaves findings' if left else 'changes the facts'}", False
    said = f"{first.message}\n{first.mend}".replace("°", "")  # °F and F are the same advice
    if slip.outcome == "mend":
        return "advice without a mend", False
    unnamed = [name for name in slip.names if name not in said]
    if unnamed:
        return f"advice names no `{unnamed[0]}`", False
    return "advice", bool(first.mend)


def _edits(finding: Finding, root: Path) -> list[tuple[Source, str]]:
    edits: Sequence[Any] = getattr(finding, "edits", ()) or getattr(finding.mend, "edits", ())
    if edits:
        return [(Source(edit.file, edit.line, edit.column, edit.width), edit.text) for edit in edits]
    said = _WRITE.fullmatch(str(finding.mend))
    return [(_span_of(said[1], finding.source, root), said[1])] if said else []


def _span_of(text: str, marked: Source, root: Path) -> Source:
    """The span that a text takes the place of: wider than what is marked where it repeats what stands around that."""
    lines = (root / marked.file).read_text("utf-8").splitlines()
    line = lines[marked.line - 1] if marked.line <= len(lines) else ""
    start, end = marked.column - 1, marked.column - 1 + marked.width
    key = _KEY.match(text)
    begins = line.rfind(key[1], 0, start + len(key[1])) if key else -1
    if begins >= 0:
        start, end = begins, _end_of_value(line, begins, end, text)
    pairs = zip(line[start:], text, strict=False)
    common = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
    end = max(end, start + common) if common > 2 else end
    left = max((size for size in range(2, len(text)) if line[:start].endswith(text[:size])), default=0)
    right = max((size for size in range(2, len(text)) if line[end:].startswith(text[-size:])), default=0)
    return Source(marked.file, marked.line, start + 1 - left, end - start + left + right)


def _end_of_value(line: str, begins: int, end: int, text: str) -> int:
    """Where the value ends whose key begins there: with the line; within brackets with the last word of the text."""
    before = line[:begins]
    if all(before.count(opens) <= before.count(closes) for opens, closes in ("{}", "[]")):
        return len(line)
    last = text.rstrip("'\"").split()[-1]
    found = line.find(last, begins)
    return end if found < 0 else max(end, found + len(last))


def _replace(path: Path, span: Source, text: str) -> None:
    lines = path.read_text("utf-8").splitlines(keepends=True)
    lines += [""] * (span.line - len(lines))
    line = lines[span.line - 1]
    lines[span.line - 1] = line[: span.column - 1] + text + line[span.column - 1 + span.width :]
    path.write_text("".join(lines), "utf-8")


def _overlaps(source: Source, mark: Mark, root: Path) -> bool:
    if source.file != mark.file:
        return False
    content = (root / mark.file).read_text("utf-8")
    starts = [0, *accumulate(len(line) for line in content.splitlines(keepends=True))]
    line = max(number for number, start in enumerate(starts) if start <= mark.start)
    width = len(content[mark.start : mark.start + mark.width].partition("\n")[0])
    begin = mark.start - starts[line] + 1
    # What is missing may be marked behind the last sign.
    return (
        source.line == line + 1
        and source.column <= begin + width
        and begin < source.column + max(1, source.width)
    )


def _facts(root: Path) -> object:
    """All that the files of a journal say, without the places where they say it."""
    journal_files, _ = read_journal(root)
    if journal_files is None:
        return None
    shared = (journal_files.journal, journal_files.library, journal_files.seasons)
    return _bare(shared), tuple(
        _bare(read_experiment(one, journal_files)[0]) for one in journal_files.folders
    )


def _meant(slip: Slip, root: Path) -> object:
    if slip.meant == slip.stands:
        return _of_sound(slip.journal)
    (root / slip.file).write_text(with_text(slip, slip.meant), "utf-8")
    return _facts(root)


@cache
def _of_sound(journal: str) -> object:
    return _facts(sound(journal))


def _bare(value: Any) -> object:
    """A value of the records without places, and the plants that a word stands for without the word."""
    kind = type(value)
    if kind in (str, int, float, bool, NoneType):
        return value
    if kind is Source or isinstance(value, Path):
        return None
    if kind is Which and value.ids:
        return frozenset(value.ids)
    if isinstance(value, tuple | list):
        return tuple([_bare(item) for item in value])
    if isinstance(value, Mapping):
        return tuple([(_bare(key), _bare(item)) for key, item in value.items()])
    names = getattr(kind, "__dataclass_fields__", ())
    return (kind.__name__, *[_bare(getattr(value, name)) for name in names]) if names else value
