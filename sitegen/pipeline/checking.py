"""Every finding of a journal: only experiments that have changed are read, many of them in several processes.

In: a journal. Out: `Checked`, and the days on which the same would be found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from itertools import chain, islice

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.gc_threshold import raise_gc_threshold
from sitegen.core.store import Store
from sitegen.core.values.date_range import DateRange
from sitegen.ingest import JournalFiles, read_journal
from sitegen.memo import Memo
from sitegen.pipeline.crew import Trade, cores, shared
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.known import Asked, remember_check
from sitegen.pipeline.results import Checked
from sitegen.pipeline.tasks import Task, tasks_of
from sitegen.pipeline.verdicts import Verdict, kept_verdict, read_and_judged, verdict_data

FEW = 50  # experiments that are judged before another process has started
AT_ONCE = 8  # experiments handed to a process together: each takes only some milliseconds


def checked(asked: Asked) -> Checked:
    """Check a journal that has changed."""
    journal_files, findings = read_journal(asked.root)
    found, held = checked_now(asked, journal_files, findings)
    if inventory(asked.root).digest == asked.found.digest:
        remember_check(asked, found, held)
    return found


def checked_now(
    asked: Asked, journal_files: JournalFiles | None, findings: Sequence[Finding]
) -> tuple[Checked, DateRange]:
    """All findings, those of the journal itself included."""
    if journal_files is None:
        return Checked(sorted_findings(findings)), DateRange()
    digests = Digests(asked.root, asked.found, asked.store)
    tasks = tasks_of(journal_files, digests, asked.store)
    found, held, entries, count = list(findings), DateRange(), 0, 0
    for verdict in _verdicts(tasks, _Tools(journal_files, asked.today), asked.store):
        found.extend(verdict.findings)
        held = held.intersection(verdict.held)
        entries += verdict.entries
        count += 1
    digests.keep()
    return Checked(sorted_findings(found), count, entries), held


@dataclass(frozen=True, slots=True)
class _Tools:
    """What a process needs to judge."""

    journal_files: JournalFiles
    today: date


def _verdicts(tasks: Iterator[Task], tools: _Tools, store: Store) -> Iterator[Verdict]:
    """The verdict about each experiment, in no order: the others start as soon as there is enough to do."""
    known: list[Verdict] = []
    missing = _missing(tasks, tools.today, store, known)
    first = list(islice(missing, FEW))
    work = partial(_judged, tools, store)
    if len(first) < FEW or cores() < 2:
        yield from work(chain(first, missing))
    else:
        for some in shared(cores(), _bundles(chain(first, missing)), Trade(_ready, tools), work):
            yield from some
    yield from known


def _missing(tasks: Iterator[Task], today: date, store: Store, known: list[Verdict]) -> Iterator[Task]:
    """The experiments that must be judged; what is known of the others is added to `known`."""
    for some in _bundles(tasks):
        kept = store.get_all([task.key for task in some])
        for task in some:
            verdict = kept_verdict(kept.get(task.key), today)
            if verdict is None:
                yield task
            else:
                known.append(verdict)


def _bundles(tasks: Iterator[Task]) -> Iterator[list[Task]]:
    """So many tasks at once."""
    return iter(lambda: list(islice(tasks, AT_ONCE)), [])


def _ready(tools: _Tools, _halted: Callable[[], bool]) -> Callable[[Iterable[Task]], list[Verdict]]:
    """What another process does with some experiments."""
    raise_gc_threshold()
    return partial(_judged, tools, Memo.open())


def _judged(tools: _Tools, store: Store, tasks: Iterable[Task]) -> list[Verdict]:
    """The verdict about each experiment, kept in the store."""
    verdicts: list[Verdict] = []
    for task in tasks:
        _, verdict = read_and_judged(task.folder, tools.journal_files, tools.today, store)
        if task.untouched():
            store.put(task.key, verdict_data(verdict))
        verdicts.append(verdict)
    return verdicts
