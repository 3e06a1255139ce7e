"""Every finding of a journal: only experiments that have changed are read.

In: a journal. Out: `Checked`, and the days on which the same would be found.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.finding import Finding, sorted_findings
from sitegen.core.held import Held
from sitegen.ingest import Shelf, read_journal
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.known import Asked, remember_check
from sitegen.pipeline.results import Checked
from sitegen.pipeline.tasks import Task, tasks_of
from sitegen.pipeline.verdicts import Verdict, kept_verdict, read_and_judged, verdict_data

__all__ = ["checked", "checked_now"]


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
    found, held, entries = list(findings), Held(), 0
    for task in tasks:
        verdict = kept_verdict(kept.get(task.key), asked.today) or _verdict(task, shelf, asked)
        found.extend(verdict.findings)
        held = held.within(verdict.held)
        entries += verdict.entries
    digests.keep()
    return Checked(sorted_findings(found), len(tasks), entries), held


def _verdict(task: Task, shelf: Shelf, asked: Asked) -> Verdict:
    _, verdict = read_and_judged(task.folder, shelf, asked.today, asked.store)
    if task.untouched():
        asked.store.put(task.key, verdict_data(verdict))
    return verdict
