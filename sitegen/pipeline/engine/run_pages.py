"""Pages of many runs: each is measured once, for its summary and for its pages.

In: runs in the order of their sowing. Out: `RunPages`, pages and summaries in the same order. A page shows something of
the runs of its crop before it, so their summaries come first: they are ordered a few runs ahead of the pages.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import TYPE_CHECKING, Any

from sitegen.pipeline.engine.processes import Processes, RunMaker
from sitegen.pipeline.engine.stored_results import Made, PageFiles
from sitegen.pipeline.engine.workers import done

if TYPE_CHECKING:
    from concurrent.futures import Future

    from sitegen.write import Staging

AHEAD = 4  # runs of each process that are summarized before the one whose pages are made


@dataclass(frozen=True, slots=True)
class MadeRun:
    """The pages of a run, None where they are up to date, and its summary where it is new."""

    run: str
    pages: PageFiles | None
    summary: Made[str] | None


@dataclass(slots=True)
class RunPages:
    """Makes the pages of runs, by worker processes if there are any.

    `first` are runs without a summary whose summary the page of a later one reads. `current` tells whether the pages of
    a run are up to date after all, once the summaries of all before it are known.
    """

    maker: RunMaker  # of this process
    staging: Staging
    processes: Processes | None
    first: Collection[str]
    current: Callable[[str], bool]
    _ordered: dict[str, Future[list[Any]]] = field(init=False, default_factory=dict)
    _summaries: dict[str, Made[str]] = field(init=False, default_factory=dict)

    def made(self, runs: Sequence[str]) -> Iterator[MadeRun]:
        """Each run, in the order of their sowing, as it is made."""
        ahead = AHEAD * self.processes.number if self.processes else 0
        coming = iter(runs)
        self._order_summaries(islice(coming, ahead))
        pages: deque[tuple[str, Future[list[Any]] | None]] = deque()
        for run in runs:
            self._order_summaries(islice(coming, 1))
            if run in self._ordered:
                self._learn(run, self._ordered.pop(run))
            pages.append((run, None if self.current(run) else self._order("pages", run)))
            # No more than a few orders are out: what is ordered stays with its process, though another may be idle.
            while pages and (len(pages) > ahead or pages[0][1] is None or pages[0][1].done()):
                yield self._taken(*pages.popleft())
        while pages:
            yield self._taken(*pages.popleft())

    def _order_summaries(self, runs: Iterable[str]) -> None:
        for run in runs:
            if run in self.first:
                self._ordered[run] = self._order("summary", run)

    def _order(self, step: str, run: str) -> Future[list[Any]]:
        if self.processes is None:
            return done([self.maker.made(step, run, self.staging)])
        return self.processes.order(self.maker.builder.snapshot, step, (run,), self.staging)

    def _result(self, step: str, run: str, ordered: Future[list[Any]]) -> Any:
        (result,) = ordered.result()
        return self.maker.made(step, run, self.staging) if result is None else result

    def _learn(self, run: str, ordered: Future[list[Any]]) -> None:
        """Take a summary, and tell it to all processes."""
        made = self._summaries[run] = self._result("summary", run, ordered)
        self.maker.builder.snapshot.learn(summaries={run: made.value})
        if self.processes is not None:
            self.processes.tell({run: made.value})

    def _taken(self, run: str, ordered: Future[list[Any]] | None) -> MadeRun:
        known = self._summaries.pop(run, None)
        if ordered is None:
            return MadeRun(run, None, known)
        pages, summary = self._result("pages", run, ordered)
        return MadeRun(run, pages, summary or known)
