"""Makes the parts of experiments, and keeps those of the latest few.

In: an experiment's task, its run where it is read already. Out: parts, charts, pages. What an edit cannot have changed is
taken over: after one of a note or of the recap, nothing is measured or drawn again. Threads may ask at the same time.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Run
from sitegen.core.site.chart import Chart
from sitegen.core.site.page import Page
from sitegen.ingest import read_experiment
from sitegen.pipeline.making import filled
from sitegen.pipeline.parts import Parts, charts_of, facts_of, photos_of
from sitegen.pipeline.shared import Bench
from sitegen.pipeline.tasks import Task

MOST = 8  # experiments whose facts are held: those that are being written, and looked at beside them


@dataclass(slots=True)
class _Work:
    """What is there of one experiment."""

    lock: threading.Lock = field(default_factory=threading.Lock)
    key: tuple[str, str] = ("", "")
    parts: Parts | None = None
    charts: Sequence[Chart] | None = None


class Workshop:
    """The parts of experiments."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._works: OrderedDict[str, _Work] = OrderedDict()

    def parts(self, task: Task, run: Run | None, bench: Bench) -> Parts | None:
        """The parts of an experiment; None where it cannot be read. `run` saves reading it."""
        work = self._work(task.folder.id)
        with work.lock:
            return self._parts(work, task, run, bench)

    def pages(
        self, task: Task, run: Run | None, bench: Bench
    ) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
        """The pages of an experiment, and what was found while they were made."""
        work = self._work(task.folder.id)
        with work.lock:
            parts = self._parts(work, task, run, bench)
            if parts is None:
                return (), ()
            if work.charts is None:
                work.charts = charts_of(parts, bench)
            charts = work.charts
        made = filled(parts, charts, bench)
        return made.pages, made.findings

    def photos(self, task: Task, run: Run | None, bench: Bench) -> tuple[Page, ...]:
        """The photos of an experiment alone: lists show some of them."""
        run = run or read_experiment(task.folder, bench.journal_files, bench.store)[0]
        return () if run is None else photos_of(task.folder, run, bench, wait=False)[0].pages

    def _work(self, experiment: str) -> _Work:
        with self._lock:
            work = self._works.setdefault(experiment, _Work())
            self._works.move_to_end(experiment)
            while len(self._works) > MOST:
                self._works.popitem(last=False)
            return work

    def _parts(self, work: _Work, task: Task, run: Run | None, bench: Bench) -> Parts | None:
        key = (task.key, bench.terms)
        if work.parts is None or work.key != key:
            run = run or read_experiment(task.folder, bench.journal_files, bench.store)[0]
            if run is None:
                return None
            facts = _same_facts(run, work.parts) if work.key[1] == bench.terms else None
            if facts is None:
                work.charts = None
            photos, faults = photos_of(task.folder, run, bench, wait=False)
            work.parts, work.key = Parts(facts or facts_of(run, bench), photos, faults), key
        return work.parts


def _same_facts(run: Run, before: Parts | None) -> Facts | None:
    """The facts of a run that differs in words and photos only, which nothing is computed from."""
    if before is None or _counted(before.facts.run) != _counted(run):
        return None
    return replace(before.facts, run=run)


def _counted(run: Run) -> tuple[object, ...]:
    """What facts are computed from: each row with its place in the file, but the words of notes and the recap."""
    rows = run.rows
    events = [e if e.deed is not Deed.NOTE else (e.day, e.entry, e.which, e.source.line) for e in rows.events]
    others = (
        getattr(rows, table.name) for table in fields(rows) if table.compare and table.name not in _WORDS
    )
    return (run.setup, events, *others)


_WORDS = ("events", "photos")
