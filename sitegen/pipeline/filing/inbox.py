"""`log --from`: the lines of an inbox into the logs of their experiments, as one change of all files.

In: the journal's folder, an inbox. Out: `Filing`: what was filed, and a finding for each line that stays. A filing that
was not finished is finished first.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from sitegen.cache_folder import cache_folder, lock_folder
from sitegen.core.files.encodings import as_utf8
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.findings.source import Source
from sitegen.core.findings.undecodable import undecodable
from sitegen.core.language.text import listed, plural
from sitegen.filing.entries.append import CannotAppendError
from sitegen.filing.entries.undo import keep
from sitegen.filing.inbox.lines import Inbox, Visit, first_loose, read_inbox, texts_of
from sitegen.filing.inbox.placing import NOT_UTF8, Unplaced, placed
from sitegen.filing.inbox.run_names import KnownRun
from sitegen.filing.inbox.transaction import (
    Doubt,
    FileChange,
    Finished,
    Intent,
    Piece,
    file_all,
    finish,
    pending,
)
from sitegen.filing.journal_lock import journal_lock
from sitegen.ingest import JournalFiles, read_shared
from sitegen.memo import Memo
from sitegen.pipeline.filing.known_runs import known_runs
from sitegen.pipeline.filing.planning import OpenRun, Planned, opened_run

LARGEST = 1_000_000  # bytes; as other texts of a journal


@dataclass(frozen=True, slots=True)
class FiledVisit:
    """One visit that went to a log: the line it stood on, and what was understood."""

    line: int
    run: str
    when: str
    said: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Filing:
    """What became of an inbox.

    `findings` are about its lines, numbered as they stand in it now, and `warnings` about the logs. `finished` are the
    logs of an earlier filing that was not finished until now; `journal_errors` keep everything back.
    """

    filed: tuple[FiledVisit, ...] = ()
    findings: tuple[Finding, ...] = ()
    warnings: tuple[Finding, ...] = ()
    finished: tuple[str, ...] = ()
    journal_errors: tuple[Finding, ...] = ()
    left: int = 0
    kept: bool = True  # so that it can be taken back


class OtherJournalError(Exception):
    """A filing into another journal that was not finished; `root` is that journal's folder."""

    @property
    def root(self) -> str:
        """The folder."""
        return str(self.args[0])


def file_inbox(root: Path, inbox: Path, today: date) -> Filing:
    """File what can be filed; the rest stays in the inbox, byte for byte.

    Raises
    ------
    BusyError
        Where another command holds the journal or the inbox.
    OtherJournalError
        Where a filing of this inbox into another journal was not finished.
    UnreadableIntentError
        Where the record of a filing that was not finished is damaged.

    """
    with (
        Memo() as memo,
        lock_folder() as locks,
        journal_lock(locks, root),
        journal_lock(locks, inbox),
    ):
        content = inbox.read_bytes() if inbox.exists() else b""
        try:
            as_utf8(content)
        except UnicodeDecodeError as error:
            return Filing(findings=(undecodable(content, error, inbox.name),))
        finished = _finish(root, inbox)
        if finished.doubts:
            doubts = tuple(_doubted(doubt, inbox) for doubt in finished.doubts)
            return Filing(findings=doubts, finished=finished.filed)
        content = as_utf8(inbox.read_bytes()) if inbox.exists() else b""
        if len(content) > LARGEST:
            return Filing(findings=(_too_large(inbox, len(content)),), finished=finished.filed)
        journal_files, errors = read_shared(root)
        if journal_files is None:
            return Filing(journal_errors=errors, finished=finished.filed)
        plan = _planned(
            journal_files, read_inbox(content, runs := known_runs(journal_files, memo), today), runs, today
        )
        return _carried_out(plan, inbox, root, finished)


def _finish(root: Path, inbox: Path) -> Finished:
    """Finish an earlier filing, where one was not."""
    intent = pending(inbox)
    if intent is None:
        return Finished()
    if intent.root != str(root) and Path(intent.root).is_dir():  # else the journal was moved here
        raise OtherJournalError(intent.root)
    return finish(intent, inbox, root)


@dataclass(slots=True)
class _Plan:
    """The visits of an inbox with the logs that they go to, and what stands against the others."""

    inbox: Inbox
    runs: dict[int, KnownRun]
    plans: dict[int, Planned]
    faults: dict[int, Unplaced]

    @property
    def changes(self) -> tuple[FileChange, ...]:
        """Each log before the first and after the last of its visits."""
        found: dict[str, FileChange] = {}
        for number, plan in self.plans.items():
            place = self.place(number)
            first = found.get(place)
            found[place] = FileChange(place, plan.before if first is None else first.before, plan.after)
        return tuple(found.values())

    def place(self, number: int) -> str:
        """The log of a visit, relative to the journal's folder."""
        return f"{self.runs[number].place}/experiment.yaml"


def _planned(journal_files: JournalFiles, inbox: Inbox, runs: Sequence[KnownRun], today: date) -> _Plan:
    plan = _Plan(inbox, {}, {}, {})
    for number, visit in enumerate(inbox.visits):
        found = placed(visit, runs, today)
        if isinstance(found, Unplaced):
            plan.faults[number] = found
        else:
            plan.runs[number] = found
    opened: dict[str, OpenRun] = {}
    for number in sorted(plan.runs, key=lambda n: _turn(inbox.visits[n], plan.runs[n])):
        run, visit = plan.runs[number], inbox.visits[number]
        if run.id not in opened:
            opened[run.id] = opened_run(journal_files.root, run.id, today)
        try:
            entry = opened[run.id].planned(visit.day.when, texts_of(visit.text))
        except CannotAppendError as error:
            line = f", line {error.line}" if error.line > 1 else ""
            message = f"`{run.id}`{line}: {error.message}"
            plan.faults[number] = Unplaced("unplaced-line", message, error.mend)
            continue
        if entry.errors or not entry.readable:
            plan.faults[number] = _refused(run, entry)
            continue
        opened[run.id] = _with(opened[run.id], entry)
        plan.plans[number] = entry
    return plan


def _with(before: OpenRun, entry: Planned) -> OpenRun:
    """The run as the next entry finds it, without reading it again: what stood against it, and what the entry brings."""
    return replace(before, content=entry.after, findings=(*before.findings, *entry.findings))


def _turn(visit: Visit, run: KnownRun) -> tuple[str, int]:
    """The order in which visits are added: by day within a log, those of one day as they stand in the inbox."""
    if visit.day.number is not None:
        return run.id, visit.day.number
    day = run.start.day_of(visit.day.date) if visit.day.date is not None else None
    return run.id, day.last if day is not None else 0


def _refused(run: KnownRun, entry: Planned) -> Unplaced:
    """Why an entry cannot be added: what it would get wrong, or what is wrong already."""
    first = next(iter(entry.errors), None)
    if first is None:
        mend = "run `sitegen validate`, and mend what it says"
        return Unplaced("unplaced-line", f"`{run.id}` cannot be read", mend)
    if entry.readable:
        return Unplaced(first.code, f"`{run.id}`: {first.message}", first.mend)
    return Unplaced(first.code, f"`{run.id}` cannot be read: {first.message} ({first.source})", first.mend)


def _carried_out(plan: _Plan, inbox: Path, root: Path, before: Finished) -> Filing:
    places = {number: plan.place(number) for number in plan.plans}
    pieces = plan.inbox.pieces(places)
    done = Finished()
    kept = True
    for entry in plan.plans.values():  # as they are added: `--undo` takes the last one first
        assert entry.change is not None
        kept &= keep(cache_folder(), entry.path, entry.before, entry.change)
    if places:
        done = file_all(Intent(str(root), plan.changes, pieces), inbox, root)
    filed = [number for number in sorted(plan.plans) if places[number] in done.filed]
    visits = tuple(_filed(plan.inbox.visits[n], plan.runs[n], plan.plans[n]) for n in filed)
    warnings = sorted_findings(finding for n in filed for finding in plan.plans[n].findings)
    numbers = _numbers(pieces, done.filed)
    findings = [*_findings(plan, inbox, numbers), *(_doubted(doubt, inbox) for doubt in done.doubts)]
    left = sum(bool(plan.inbox.lines[number].strip()) for number in numbers)
    return Filing(visits, tuple(findings), warnings, before.filed, left=left, kept=kept)


def _filed(visit: Visit, run: KnownRun, plan: Planned) -> FiledVisit:
    return FiledVisit(visit.number, run.id, visit.day.when, plan.understood.said, plan.understood.note)


def _numbers(pieces: Sequence[Piece], filed: Collection[str]) -> dict[int, int]:
    """The lines that stay, by their number before (from 0): the number that each has now (from 1)."""
    numbers: dict[int, int] = {}
    at = 0
    for piece in pieces:
        count = len(piece.text.splitlines())
        if not piece.goes(filed):
            numbers |= {at + n: len(numbers) + n + 1 for n in range(count)}
        at += count
    return numbers


def _findings(plan: _Plan, inbox: Path, numbers: Mapping[int, int]) -> list[Finding]:
    """A finding for each visit and each stretch of other lines that stay, in the order of the inbox."""
    found: list[Finding] = []
    for number, fault in plan.faults.items():
        first = plan.inbox.visits[number].lines[0]
        at = _at(inbox, numbers[first], plan.inbox.lines[first])
        found.append(Finding(fault.code, at, fault.message, fault.mend))
    loose = first_loose(plan.inbox)
    found += [
        _loose(plan.inbox.lines[number], _at(inbox, numbers[number], plan.inbox.lines[number]))
        for number in loose
    ]
    return sorted(found, key=lambda each: each.source)


def _loose(line: bytes, source: Source) -> Finding:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return Finding(NOT_UTF8.code, source, NOT_UTF8.message, NOT_UTF8.mend)
    mend = "begin it with `day 31:` or `2026-03-02:`, or indent it below the line that it belongs to"
    return Finding("no-day", source, "the line begins with no day", mend)


def _at(inbox: Path, number: int, line: bytes = b" ") -> Source:
    """The place of a line of the inbox: all of it but its indent."""
    text = line.decode("utf-8", "replace").rstrip()
    bare = text.lstrip()
    return Source(inbox.name, number, len(text) - len(bare) + 1, max(1, len(bare)))


def _too_large(inbox: Path, size: int) -> Finding:
    message = f"`{inbox.name}` has {size / 1e6:.1f} MB; at most {LARGEST / 1e6:.0f} MB are read"
    return Finding("file-too-large", _at(inbox, 1), message, "split it, and file one part after the other")


def _doubted(doubt: Doubt, inbox: Path) -> Finding:
    """The finding about a file that somebody changed while a filing was not finished."""
    source = _at(inbox, doubt.line)
    if doubt.place and doubt.why:
        message = f"`{doubt.place}` cannot be written: {doubt.why}; its lines stay"
        return Finding("filing-unfinished", source, message, "see that it can be written, and file again")
    if doubt.place:
        message = (
            f"`{doubt.place}` was changed while a filing was not finished, and does not hold these lines"
        )
        return Finding("filing-unfinished", source, message, "look at that log, and file again")
    message = (
        f"{plural(len(doubt.filed), 'line')} had been filed when the inbox was changed: {listed(doubt.filed)}"
    )
    mend = "remove what the logs hold already, and file again"
    return Finding("filing-unfinished", source, message, mend)
