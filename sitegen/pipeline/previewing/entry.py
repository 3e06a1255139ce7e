"""What is known of one experiment while its journal is being written.

In: its task, what the store has of it. Out: `Entry`. Nothing is read here but the head of what is not known.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Run
from sitegen.core.store import Store, StoredResult
from sitegen.ingest import JournalFiles
from sitegen.pipeline.making import Record, kept_record, record_key
from sitegen.pipeline.peeking import Head, head_at, head_of
from sitegen.pipeline.shared import Bench
from sitegen.pipeline.tasks import Task
from sitegen.pipeline.verdicts import Verdict, kept_verdict


@dataclass(frozen=True, slots=True)
class Entry:
    """One experiment: what it is by its files as they are now, as far as that is known.

    `head` is what links and ribbons need, `record` what lists need; `settled` says whether they are of these files, or
    yet of earlier ones. `run` is there until lists know it. `good` is the last that was sound, where this one is not.
    """

    task: Task
    head: Head | None
    verdict: Verdict | None = None
    record: Record | None = None
    settled: bool = False
    run: Run | None = None
    good: Entry | None = None

    @property
    def face(self) -> Entry | None:
        """The one that is shown: itself, unless it is known to have errors."""
        return self if self.verdict is None or self.verdict.sound else self.good

    @property
    def stand_in(self) -> Entry | None:
        """The one to be shown should the next have errors."""
        face = self.face
        return replace(face, good=None) if face is not None else None

    @property
    def errors(self) -> tuple[Finding, ...]:
        """What keeps it from being published."""
        return tuple(f for f in self.verdict.findings if f.is_error) if self.verdict is not None else ()

    @property
    def known(self) -> bool:
        """Whether there is nothing left to be read of it."""
        return self.verdict is not None and (self.settled or not self.verdict.sound)

    @property
    def listed(self) -> bool:
        """Whether lists show it, if perhaps as it was before the last edit, or never will."""
        return self.verdict is not None and (self.record is not None or not self.verdict.sound)

    def with_record(self, record: Record) -> Entry:
        """The same once lists know it."""
        return replace(self, record=record, settled=True, run=None)


def live_record_key(task: Task, bench: Bench) -> str:
    """The key of a summary that was made here: photos that are yet to be encoded have other addresses in it."""
    return bench.store.key("pages", "summary while writing", task.key, bench.terms)


def entry_read(task: Task, run: Run | None, verdict: Verdict, before: Entry | None) -> Entry:
    """An experiment that was read just now."""
    good = before.stand_in if before is not None else None
    if run is None or not verdict.sound:
        return Entry(task, None, verdict, good=good)
    return Entry(task, head_of(run.setup), verdict, good.record if good is not None else None, run=run)


def entries_of(
    tasks: Sequence[Task], before: Mapping[str, Entry], bench: Bench, *, same_terms: bool
) -> dict[str, Entry]:
    """Every experiment; what has not changed is taken over, what has is looked up."""
    changed = [task for task in tasks if not _same(task, before, same_terms=same_terms)]
    kept = _Kept.of(changed, bench)
    names = {task.folder.id for task in changed}
    return {
        task.folder.id: kept.entry(task, before.get(task.folder.id), bench.journal_files)
        if task.folder.id in names
        else replace(before[task.folder.id], task=task)
        for task in tasks
    }


def _same(task: Task, before: Mapping[str, Entry], *, same_terms: bool) -> bool:
    entry = before.get(task.folder.id)
    return same_terms and entry is not None and entry.task.key == task.key


@dataclass(frozen=True, slots=True)
class _Kept:
    """What the store has of some experiments."""

    verdicts: Mapping[str, StoredResult]
    records: Mapping[str, StoredResult]
    keys: Mapping[str, tuple[str, str]]
    today: date

    @classmethod
    def of(cls, tasks: Sequence[Task], bench: Bench) -> _Kept:
        """All of it, asked for at once."""
        store: Store = bench.store
        keys = {task.key: (record_key(task, bench), live_record_key(task, bench)) for task in tasks}
        records = store.get_all([key for pair in keys.values() for key in pair])
        return cls(store.get_all([task.key for task in tasks]), records, keys, bench.today)

    def entry(self, task: Task, before: Entry | None, journal_files: JournalFiles) -> Entry:
        """One of them, as far as it is known."""
        verdict = kept_verdict(self.verdicts.get(task.key), self.today)
        good = before.stand_in if before is not None else None
        if verdict is not None and not verdict.sound:
            return Entry(task, None, verdict, good=good)
        written, live = self.keys[task.key]
        record = kept_record(self.records.get(written)) or kept_record(self.records.get(live))
        if verdict is not None and record is not None:
            head = Head(record.run_link, verdict.draft, verdict.publish)
            return Entry(task, head, verdict, record, settled=True)
        return Entry(
            task, head_at(task.folder, journal_files), verdict, good.record if good else None, good=good
        )
