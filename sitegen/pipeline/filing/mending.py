"""`validate --fix`: the safe mends of a journal's findings, tried on a copy, and written when they hold.

In: a journal. Out: `Mended`. Mends are carried out in rounds, since one often uncovers the next. After each round the
copy is checked: a mend that leaves its finding, or brings an error where it wrote, is taken back. The journal's own
files are written once, at the end, each as a whole.
"""

from __future__ import annotations

import os
import shutil
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path, PurePosixPath

from sitegen.cache_folder import lock_folder
from sitegen.core.files.inside import copy_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.mend import Edit
from sitegen.core.findings.told import told
from sitegen.filing.journal_lock import journal_lock
from sitegen.filing.mending import StaleError, apart, edited, unified_diff
from sitegen.filing.safe_file import replace_unchanged
from sitegen.pipeline import validate
from sitegen.pipeline.engine.files import CLOSED, FOLDER, inventory
from sitegen.temporary import temporary_folder

ROUNDS = 20  # each uncovers what the one before hid; a mended file of a thousand slips of one kind takes two
_TEXTS = (".yaml", ".yml", ".md", ".po", ".toml", ".html")
_EXPORTS = (".csv", ".xlsx", ".vtt", ".srt", ".txt")  # opened only where they lie in the folder itself
_UNREADABLE = ("yaml-syntax", "yaml-twist", "yaml-tag", "yaml-anchor", "yaml-documents", "nested-too-deep")

Check = Callable[[], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True)
class Mended:
    """What was mended, edit by edit, and what was not; `contents` are those of changed files before and after.

    `refused` are findings whose mend was taken back; `changed_meanwhile` are files that were not written, since someone
    else had written them.
    """

    edits: tuple[Edit, ...]
    refused: tuple[Finding, ...]
    contents: dict[str, tuple[bytes, bytes]]
    changed_meanwhile: tuple[str, ...] = ()

    @property
    def diff(self) -> str:
        """What changes, in the unified format."""
        return "".join(unified_diff(file, *both) for file, both in sorted(self.contents.items()))


def mend_journal(root: Path, today: date, *, write: bool) -> Mended:
    """Mend the files of a journal, or with `write` off only tell how."""
    if not write:
        return _mended(root, today)
    with lock_folder() as locks, journal_lock(locks, root):
        mended = _mended(root, today)
        skipped = tuple(
            file
            for file, (before, after) in sorted(mended.contents.items())
            if not replace_unchanged(root / file, before, after)
        )
    edits = tuple(edit for edit in mended.edits if edit.file not in skipped)
    return Mended(edits, mended.refused, mended.contents, skipped)


def _mended(root: Path, today: date) -> Mended:
    with _copy_of(root) as copy:
        tried = _Tried(copy, lambda: validate(copy, today).findings)
        tried.run()
        contents = {
            file: (before, after)
            for file, before in tried.originals.items()
            if (after := (copy / file).read_bytes()) != before
        }
    return Mended(tuple(tried.edits), tuple(tried.refused), contents)


@contextmanager
def _copy_of(root: Path) -> Iterator[Path]:
    """A copy of a journal, for as long as the block lasts; pictures are linked to."""
    with temporary_folder() as home:
        copy = home / root.name
        copy.mkdir()
        for place, stamp in inventory(root).stamps.items():
            target = copy / place
            if stamp == FOLDER:
                target.mkdir(parents=True, exist_ok=True)
                continue
            target.parent.mkdir(parents=True, exist_ok=True)
            _put(root / place, target, closed=stamp[0] == CLOSED[0])
        with copy_of(copy, root):
            yield copy


def _put(file: Path, target: Path, *, closed: bool) -> None:
    if (
        closed
    ):  # what is found in a link is found in its copy; anything else that cannot be opened is left out
        if file.is_symlink():
            os.symlink(_target(file), target)  # noqa: PTH211 - as below
        return
    if PurePosixPath(file.name).suffix.lower() in (*_TEXTS, *_EXPORTS):
        shutil.copyfile(file, target)
        return
    try:
        os.symlink(file.resolve(), target)  # noqa: PTH211 - as many as there are pictures
    except OSError:  # a system without links
        shutil.copyfile(file, target)


def _target(link: Path) -> str:
    """Where a link leads: the next step of one that leads to itself, the whole way of any other."""
    return os.path.realpath(link) if link.exists() else str(link.readlink())


@dataclass(slots=True)
class _Tried:
    """Mends that are tried on a copy, round by round."""

    copy: Path
    check: Check
    originals: dict[str, bytes] = field(default_factory=dict)
    edits: list[Edit] = field(default_factory=list)
    refused: list[Finding] = field(default_factory=list)

    def run(self) -> None:
        """Mend until nothing is left that can be mended."""
        found = self.check()
        for _ in range(ROUNDS):
            refused = {_name(finding) for finding in self.refused}
            chosen = apart(f for f in _shown(found) if f.safe and f.edits and _name(f) not in refused)
            if not chosen:
                return
            found = self._round(chosen, found)

    def _round(self, chosen: Sequence[Finding], found: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """Carry out mends at once; in files where one did not hold, one by one."""
        before = {finding.source.file: self._content(finding.source.file) for finding in chosen}
        done = self._carry_out(chosen)
        after = self.check()
        bad = {finding.source.file for finding in done if _failed(finding, done, found, after)}
        self._keep(finding for finding in done if finding.source.file not in bad)
        if not bad:
            return after
        for file in bad:
            (self.copy / file).write_bytes(before[file])
        now = self.check()
        for name in [_name(finding) for finding in done if finding.source.file in bad]:
            # An edit of the same line may have moved it.
            if fresh := next((finding for finding in now if _name(finding) == name and finding.safe), None):
                now = self._alone(fresh, now)
        return now

    def _alone(self, finding: Finding, found: tuple[Finding, ...]) -> tuple[Finding, ...]:
        file = finding.source.file
        before = self._content(file)
        done = self._carry_out([finding])
        after = self.check()
        if not done or not _failed(finding, done, found, after):
            self._keep(done)
            return after
        (self.copy / file).write_bytes(before)
        self.refused.append(finding)
        return found

    def _carry_out(self, findings: Sequence[Finding]) -> list[Finding]:
        """Write the edits of findings that still fit; the others are refused."""
        done: list[Finding] = []
        for file in dict.fromkeys(finding.source.file for finding in findings):
            here = [finding for finding in findings if finding.source.file == file]
            fits = [finding for finding in here if self._fits(finding)]
            self.refused += [finding for finding in here if finding not in fits]
            content = edited(self._content(file), (edit for finding in fits for edit in finding.edits))
            (self.copy / file).write_bytes(content)
            done += fits
        return done

    def _fits(self, finding: Finding) -> bool:
        file = finding.source.file
        try:
            edited(self._content(file), finding.edits)
        except (StaleError, OSError):
            return False
        return all(edit.file == file for edit in finding.edits)

    def _content(self, file: str) -> bytes:
        """The content of a file of the copy; its first is remembered."""
        try:
            content = (self.copy / file).read_bytes()
        except OSError:  # a finding about a file that is not there has no edits
            return b""
        self.originals.setdefault(file, content)
        return content

    def _keep(self, findings: Iterable[Finding]) -> None:
        self.edits += [edit for finding in findings for edit in finding.edits]


def _shown(found: Sequence[Finding]) -> list[Finding]:
    """Findings without those that a cause holds back: mending what follows from it would hide it."""
    return [finding for item in told(found) for finding in item.kind]


def _name(finding: Finding) -> tuple[str, str, int, str]:
    """What a finding is known by while edits move the columns of its line; one in a line that moved counts as new."""
    return finding.code, finding.source.file, finding.source.line, finding.message


def _failed(
    finding: Finding, done: Sequence[Finding], before: Iterable[Finding], after: Sequence[Finding]
) -> bool:
    """Whether a mend left its finding as it was, or brought an error where it wrote."""
    name = _name(finding)
    names, mended = Counter(map(_name, before)), sum(_name(other) == name for other in done)
    if sum(_name(other) == name for other in after) > names[name] - mended:
        return True
    return any(
        _brings(finding, error)
        for error in after
        if error.is_error and error.source.file == finding.source.file and _name(error) not in names
    )


def _brings(finding: Finding, error: Finding) -> bool:
    """Whether a new error comes from a mend.

    In a file that could not be read, later errors were only hidden, and so were texts in other lines that YAML twists.
    """
    here = error.source.line in {edit.line for edit in finding.edits}
    if finding.code in _UNREADABLE:
        earlier = error.source[1:3] <= finding.source[1:3]
        return error.code in _UNREADABLE and earlier and (here or error.code != "yaml-twist")
    return error.code in _UNREADABLE or here
