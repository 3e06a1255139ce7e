"""Every finding of a journal: only experiments that have changed are read, many of them in several processes.

In: a journal. Out: `Checked`, and the days on which the same would be found.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.core.finding import Finding, sorted_findings
from sitegen.core.held import Held
from sitegen.core.store import Store
from sitegen.ingest import Shelf, read_journal
from sitegen.memo import Memo
from sitegen.pipeline.crew import Trade, cores, spread
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.known import Asked, remember_check
from sitegen.pipeline.results import Checked
from sitegen.pipeline.tasks import Task, tasks_of
from sitegen.pipeline.verdicts import Verdict, kept_verdict, read_and_judged, verdict_data

__all__ = ["checked", "checked_now"]

FEW = 50  # experiments that are judged before another process has started
AT_ONCE = 20  # experiments handed to a process together: each takes only some milliseconds


def checked(asked: Asked) -> Checked:
    """Check a journal that has changed."""
    shelf, findings = read_journal(asked.root)
    found, held = checked_now(asked, shelf, findings)
    if inventory(asked.root).digest == asked.found.digest:
        remember_check(asked, found, held)
    return found


def checked_now(asked: Asked, shelf: Shelf | None, findings: Sequence[Finding]) -> tuple[Checked, Held]:
    """All findings, those of the journal itself included."""
    if shelf is None:
        return Checked(sorted_findings(findings)), Held()
    digests = Digests(asked.root, asked.found, asked.store)
    tasks = tasks_of(shelf, digests, asked.store)
    kept = asked.store.get_all([task.key for task in tasks])
    known = [kept_verdict(kept.get(task.key), asked.today) for task in tasks]
    missing = [task for task, verdict in zip(tasks, known, strict=True) if verdict is None]
    judged = _judged(missing, _Tools(shelf, asked.today), asked.store)
    found, held, entries = list(findings), Held(), 0
    for verdict in (verdict or next(judged) for verdict in known):
        found.extend(verdict.findings)
        held = held.within(verdict.held)
        entries += verdict.entries
    digests.keep()
    return Checked(sorted_findings(found), len(tasks), entries), held


@dataclass(frozen=True, slots=True)
class _Tools:
    """What a process needs to judge."""

    shelf: Shelf
    today: date


def _judged(tasks: Sequence[Task], tools: _Tools, store: Store) -> Iterator[Verdict]:
    """The verdict about each experiment, kept in the store."""
    jobs = cores()
    if jobs < 2 or len(tasks) < FEW:
        yield from (_verdict(task, tools, store) for task in tasks)
        return
    some = [tasks[first : first + AT_ONCE] for first in range(0, len(tasks), AT_ONCE)]
    for verdicts in spread(jobs, some, Trade(_ready, tools)):
        yield from verdicts


def _ready(tools: _Tools, _halted: Callable[[], bool]) -> Callable[[Sequence[Task]], list[Verdict]]:
    """What another process does with some experiments."""
    gc.disable()  # what is read holds no cycles, and looking for them takes a tenth of the time
    memo = Memo.open()
    return lambda tasks: [_verdict(task, tools, memo) for task in tasks]


def _verdict(task: Task, tools: _Tools, store: Store) -> Verdict:
    _, verdict = read_and_judged(task.folder, tools.shelf, tools.today, store)
    if task.untouched():
        store.put(task.key, verdict_data(verdict))
    return verdict
