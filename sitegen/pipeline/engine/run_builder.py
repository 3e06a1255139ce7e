"""Makes the steps of a run and stores their results.

In: a `Snapshot`. Out: `RunBuilder`; `make`, for steps by their name; `index_of`, the index pages that there are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from sitegen.core.findings.finding import Finding
from sitegen.pipeline.engine import page_checks, steps
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.snapshot import Snapshot
from sitegen.pipeline.engine.steps import Check, KeptFacts
from sitegen.pipeline.engine.stored_results import CHECK, FINDINGS, Made, PageFiles, Results, facts_codec
from sitegen.pipeline.engine.summaries import encoded_summary

if TYPE_CHECKING:
    from sitegen.render import IndexPage
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

    def index(self, name: str, staging: Staging) -> PageFiles:
        """An index page of the site, written beside its place."""
        page = next(page for page in index_of(self.snapshot) if page.name == name)
        inputs = Inputs(self.snapshot)
        files = PageFiles.of(steps.rendered_index(page, inputs), staging)
        self.results.put("index", name, inputs.trace, files.encoded())
        return files

    def _made(self, step: str, run: str, inputs: Inputs, result: _T, value: object) -> Made[_T]:
        # The files may have been saved between their digest and their reading. Such a result is used, so that the
        # command ends, but not stored: its trace would vouch for content that it was not made from.
        read = [each.partition(" ")[2] for each in inputs.trace if each.startswith("records ")]
        if all(self.snapshot.runs[each].unchanged() for each in {run, *read} & self.snapshot.runs.keys()):
            self.results.put(step, run, inputs.trace, value)
        return Made(result, inputs.trace)


def make(builder: RunBuilder, step: str, run: str, memory: RunMemory | None = None) -> Any:
    """The result of a step of a run but its pages."""
    # By its name: a worker process is sent names, since methods of a builder would take the snapshot with them.
    if step in page_checks.STEPS:
        return builder.findings(step, run, memory)
    return builder.check(run, memory) if step == "check" else builder.summary(run, memory)


def index_of(snapshot: Snapshot) -> list[IndexPage]:
    """Every index page of the site."""
    from sitegen.render import index_pages  # noqa: PLC0415 - checks do without

    seasons = [season.id for season in snapshot.settings.journal_files.seasons]
    return list(index_pages(snapshot.site_map, seasons, snapshot.store))
