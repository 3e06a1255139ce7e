"""Pages of many runs, made here or by worker processes: each run is measured once, for its summary and for its pages.

In: runs in the order of their sowing. Out: `RunPages`, pages and summaries in the same order. A page shows something of
the runs of its crop before it, so their summaries come first: they are ordered a few runs ahead of the pages. The
process that makes a summary makes the pages too, from what it has kept of the run, and forgets the run then.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Any

from sitegen.core.gc_threshold import raise_gc_threshold
from sitegen.pipeline.engine.files import RunFiles
from sitegen.pipeline.engine.inputs import RunMemory
from sitegen.pipeline.engine.run_builder import RunBuilder
from sitegen.pipeline.engine.snapshot import NotToldError, Snapshot
from sitegen.pipeline.engine.stored_results import Made, PageFiles, Results
from sitegen.pipeline.engine.workers import Worker, done

if TYPE_CHECKING:
    from concurrent.futures import Future

    from sitegen.write import Staging

ALONE = 6  # starting a process takes as long as rendering so many runs
AHEAD = 4  # runs of each process that are summarized before the one whose pages are made


@dataclass(frozen=True, slots=True)
class Order:
    """The summary of a run, or its pages; with summaries that were made since the last order of the same process."""

    run: str
    pages: bool
    files: RunFiles | None
    summaries: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class MadeRun:
    """The pages of a run, None where they are up to date, and its summary where it is new."""

    run: str
    pages: PageFiles | None
    summary: Made[str] | None


@dataclass(slots=True)
class RunMaker:
    """Carries out orders in one process; `memories` hold runs that are summarized and have no pages yet."""

    builder: RunBuilder
    staging: Staging
    memories: dict[str, RunMemory] = field(default_factory=dict)

    def made(self, run: str, *, pages: bool) -> Any:
        """A summary; or pages, with the summary where there was none."""
        if pages:
            return self.builder.pages(run, self.staging, self.memories.pop(run, None))
        summary = self.builder.summary(run, self.memories.setdefault(run, RunMemory()))
        self.builder.snapshot.learn(summaries={run: summary.value})
        return summary

    def carry_out(self, order: Order) -> Any:
        """The same in a worker process; None where a run reads another one, whose files the first process knows."""
        files = {} if order.files is None else {order.run: order.files}
        self.builder.snapshot.learn(files, summaries=order.summaries)
        try:
            return self.made(order.run, pages=order.pages)
        except NotToldError:
            return None


def _carry_out(snapshot: Snapshot, staging: Staging) -> Callable[[Order], Any]:
    """Get a worker process ready."""
    raise_gc_threshold()
    return RunMaker(RunBuilder(snapshot, Results(snapshot)), staging).carry_out


@dataclass(slots=True)
class _Queue:
    """The orders of one process. `news` are summaries that it is told with its next order."""

    submit: Callable[[Order], Future[Any]]
    news: dict[str, str] = field(default_factory=dict)
    waiting: list[Future[Any]] = field(default_factory=list)

    def put(self, run: str, files: RunFiles | None, *, pages: bool) -> Future[Any]:
        """The result of one more order."""
        order, self.news = Order(run, pages, files, self.news), {}
        result = self.submit(order)
        self.waiting.append(result)
        return result

    def length(self) -> int:
        """How many orders it has yet to carry out."""
        self.waiting = [result for result in self.waiting if not result.done()]
        return len(self.waiting)


@dataclass(slots=True)
class RunPages:
    """Makes the pages of runs. `first` are runs without a summary whose summary the page of a later one reads.

    `current` tells whether the pages of a run are up to date after all, once the summaries of all before it are known.
    """

    maker: RunMaker
    first: Collection[str]
    current: Callable[[str], bool]
    _queues: list[_Queue] = field(init=False, default_factory=list)
    _queue_of: dict[str, _Queue] = field(init=False, default_factory=dict)
    _ordered: dict[str, Future[Any]] = field(init=False, default_factory=dict)
    _summaries: dict[str, Made[str]] = field(init=False, default_factory=dict)

    def made(self, runs: Sequence[str], jobs: int) -> Iterator[MadeRun]:
        """Each run, in the order of their sowing, as it is made."""
        with ExitStack() as stack:
            if jobs < 2 or len(runs) < ALONE:
                self._queues = [_Queue(self._made_here)]
                yield from self._in_line(runs, 0)
                return
            ready = partial(_carry_out, self.maker.builder.snapshot.for_worker(), self.maker.staging)
            number = min(jobs, 1 + len(runs) // ALONE)
            workers = [stack.enter_context(Worker(ready)) for _ in range(number)]
            self._queues = [_Queue(worker.submit) for worker in workers]
            yield from self._in_line(runs, AHEAD * number)

    def _made_here(self, order: Order) -> Future[Any]:
        return done(self.maker.made(order.run, pages=order.pages))

    def _in_line(self, runs: Sequence[str], ahead: int) -> Iterator[MadeRun]:
        coming = iter(runs)
        self._order_summaries(islice(coming, ahead))
        pages: deque[tuple[str, Future[Any] | None]] = deque()
        for run in runs:
            self._order_summaries(islice(coming, 1))
            if run in self._ordered:
                self._learn(run, self._ordered.pop(run))
            pages.append((run, None if self.current(run) else self._order(run, pages=True)))
            # No more than a few orders are out: what is ordered stays with its process, though another may be idle.
            while pages and (len(pages) > ahead or pages[0][1] is None or pages[0][1].done()):
                yield self._taken(*pages.popleft())
        while pages:
            yield self._taken(*pages.popleft())

    def _order_summaries(self, runs: Iterable[str]) -> None:
        for run in runs:
            if run in self.first:
                self._ordered[run] = self._order(run, pages=False)

    def _order(self, run: str, *, pages: bool) -> Future[Any]:
        if run not in self._queue_of:
            self._queue_of[run] = min(self._queues, key=_Queue.length)
        return self._queue_of[run].put(run, self.maker.builder.snapshot.runs.get(run), pages=pages)

    def _learn(self, run: str, result: Future[Any]) -> None:
        """Take a summary, and tell it to all processes with their next order."""
        made = result.result()
        if made is None:
            made = self.maker.made(run, pages=False)
        self._summaries[run] = made
        self.maker.builder.snapshot.learn(summaries={run: made.value})
        for queue in self._queues:
            queue.news[run] = made.value

    def _taken(self, run: str, result: Future[Any] | None) -> MadeRun:
        known = self._summaries.pop(run, None)
        if result is None:
            return MadeRun(run, None, known)
        pages, summary = result.result() or self.maker.made(run, pages=True)
        return MadeRun(run, pages, summary or known)
