"""Makes the steps of a run and stores their results, in this process or in a worker process.

In: a `Snapshot`, orders by name of step and run. Out: `RunBuilder`; `worker`, which gets a process ready for one kind of
step; `work` and `make`, which carry out orders.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

from sitegen.core.findings.finding import Finding
from sitegen.core.gc_threshold import raise_gc_threshold
from sitegen.pipeline.engine import page_checks, steps
from sitegen.pipeline.engine.files import RunFiles
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.snapshot import NotToldError, Snapshot
from sitegen.pipeline.engine.steps import Check, KeptFacts
from sitegen.pipeline.engine.stored_results import CHECK, FINDINGS, Made, PageFiles, Results, facts_codec
from sitegen.pipeline.engine.summaries import encoded_summary

if TYPE_CHECKING:
    from sitegen.write import Staging

_T = TypeVar("_T")


@dataclass(slots=True)
class RunBuilder:
    """Makes the steps of runs and stores their results; each process has one."""

    snapshot: Snapshot
    results: Results

    def check(self, run: str, memory: RunMemory | None = None) -> Made[Check]:
        """Read and judge a run."""
        inputs = Inputs(self.snapshot, run, memory)
        found = steps.check(inputs)
        return self._made("check", run, inputs, found, CHECK.encode(found))

    def summary(self, run: str, memory: RunMemory | None = None) -> Made[str]:
        """The summary of a sound run."""
        inputs = Inputs(self.snapshot, run, memory)
        found = encoded_summary(inputs.part(steps.summary), steps.searched(inputs))
        return self._made("summary", run, inputs, found, found)

    def findings(self, step: str, name: str, memory: RunMemory | None = None) -> Made[tuple[Finding, ...]]:
        """What is wrong in the texts or the templates of a sound run, or in a page that the author wrote."""
        inputs = Inputs(self.snapshot, name, memory)
        found = page_checks.STEPS[step](inputs)
        return self._made(step, name, inputs, found, FINDINGS.encode(found))

    def facts(self, run: str) -> Made[KeptFacts]:
        """The facts of a sound run, kept for commands that print."""
        inputs = Inputs(self.snapshot, run)
        found = steps.kept_facts(inputs)
        return self._made("facts", run, inputs, found, facts_codec().encode(found))

    def pages(
        self, run: str, staging: Staging, memory: RunMemory | None = None
    ) -> tuple[PageFiles, Made[str] | None]:
        """The pages of a sound run, written beside their places, and its summary, unless it was made before."""
        memory = memory or RunMemory()  # the summary is of the same facts: they are measured once
        inputs = Inputs(self.snapshot, run, memory)
        files = PageFiles.of(steps.run_pages(inputs), staging)
        self._made("run", run, inputs, files, files.encoded())
        return files, None if run in self.snapshot.summaries else self.summary(run, memory)

    def _made(self, step: str, run: str, inputs: Inputs, result: _T, value: object) -> Made[_T]:
        # The files may have been saved between their digest and their reading. Such a result is used, so that the
        # command ends, but not stored: its trace would vouch for content that it was not made from.
        read = [each.partition(" ")[2] for each in inputs.trace if each.startswith("records ")]
        if all(self.snapshot.runs[each].unchanged() for each in {run, *read} & self.snapshot.runs.keys()):
            self.results.put(step, run, inputs.trace, value)
        return Made(result, inputs.trace)


Orders = Sequence[tuple[str, RunFiles | None]]  # without files, the name of a page that the author wrote


def worker(step: str, snapshot: Snapshot) -> Callable[[Orders], list[tuple[str, Any]]]:
    """Get a worker process ready for one kind of step; it is told of each run's files with the order."""
    raise_gc_threshold()
    return partial(work, RunBuilder(snapshot, Results(snapshot)), step)


def work(builder: RunBuilder, step: str, orders: Orders) -> list[tuple[str, Any]]:
    """The result of a step for each run that was ordered; None where another process has to make it."""
    builder.snapshot.runs.update((run, files) for run, files in orders if files is not None)
    return [(run, _made_or_none(builder, step, run)) for run, _ in orders]


def _made_or_none(builder: RunBuilder, step: str, run: str) -> Any:
    """The result of a step; None where it reads another run, whose files only the first process knows."""
    try:
        return make(builder, step, run)
    except NotToldError:
        return None


def make(builder: RunBuilder, step: str, run: str, memory: RunMemory | None = None) -> Any:
    """The result of a step of a run but its pages."""
    # By its name: a worker process is sent names, since methods of a builder would take the snapshot with them.
    if step in page_checks.STEPS:
        return builder.findings(step, run, memory)
    return builder.check(run, memory) if step == "check" else builder.summary(run, memory)
