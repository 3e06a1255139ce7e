"""Steps of many runs made by worker processes, each of which has runs of its own.

In: steps by name, and the runs or index pages that they are wanted of. Out: `Processes`, which hands orders out, and
`RunMaker`, which carries them out, in a worker process or in this one. A run stays with the process that made its first
step: what that has read and measured of it is there for the next one. A process is told the files of a run with each
order, and of the other pages what has changed since its last one.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import cycle
from typing import TYPE_CHECKING, Any

from sitegen.core.gc_threshold import raise_gc_threshold
from sitegen.core.site.site_map import SiteMap
from sitegen.pipeline.engine.files import RunFiles
from sitegen.pipeline.engine.inputs import RunMemory
from sitegen.pipeline.engine.run_builder import RunBuilder, make
from sitegen.pipeline.engine.snapshot import NotToldError, Snapshot
from sitegen.pipeline.engine.stored_results import Results
from sitegen.pipeline.engine.workers import Worker

if TYPE_CHECKING:
    from concurrent.futures import Future

    from sitegen.write import Staging

KEPT = (
    200  # runs whose records stay in memory from their check to their pages, in all processes together: 70 MB
)
OUT = 3  # orders of each process that are out at a time: more results would only pile up in memory


@dataclass(frozen=True, slots=True)
class Order:
    """A step of some runs, or of index pages, by name; `staging` is where pages wait.

    `summaries` are those that are new to the process; with a site map, all that there are.
    """

    step: str
    names: tuple[str, ...]
    files: Mapping[str, RunFiles]
    summaries: Mapping[str, str]
    site_map: SiteMap | None = None
    staging: Staging | None = None


@dataclass(slots=True)
class RunMaker:
    """Makes steps in one process; `memories` are of runs whose pages are not made yet, of no more than `kept`."""

    builder: RunBuilder
    kept: int
    memories: dict[str, RunMemory] = field(default_factory=dict)

    def made(self, step: str, name: str, staging: Staging | None = None) -> Any:
        """The result of a step; of pages, with the summary of the run where there was none.

        With `staging` the pages of a run follow, and what its summary is made from is kept however many others are.
        """
        if staging is None:
            return make(self.builder, step, name, self.memory(name))
        if step == "index":
            return self.builder.index(name, staging)
        if step == "summary":
            return self.builder.summary(name, self.memories.setdefault(name, RunMemory()))
        return self.builder.pages(name, staging, self.memories.pop(name, None))

    def memory(self, run: str) -> RunMemory:
        """What is kept of a run; nothing that lasts where enough is kept of others."""
        if run not in self.memories and len(self.memories) >= self.kept:
            return RunMemory()
        return self.memories.setdefault(run, RunMemory())

    def carry_out(self, order: Order) -> list[Any]:
        """The results of an order; None where a run reads another one, whose files only the first process knows."""
        self._take_in(order)
        return [self._made_or_none(order.step, name, order.staging) for name in order.names]

    def _take_in(self, order: Order) -> None:
        snapshot, files = self.builder.snapshot, order.files
        if order.site_map is None:
            snapshot.learn(files, summaries=order.summaries)
            return
        snapshot = replace(snapshot, site_map=order.site_map, summaries=order.summaries)
        snapshot.learn(files, summaries={})
        self.builder = RunBuilder(
            snapshot, self.builder.results
        )  # rows in the store go by the journal's folder

    def _made_or_none(self, step: str, name: str, staging: Staging | None) -> Any:
        try:
            return self.made(step, name, staging)
        except NotToldError:
            return None


def _ready(snapshot: Snapshot, kept: int) -> Callable[[Order], list[Any]]:
    """Get a worker process ready."""
    raise_gc_threshold()
    return RunMaker(RunBuilder(snapshot, Results(snapshot)), kept).carry_out


@dataclass(slots=True)
class _Process:
    """One worker process: the snapshot that it was told last, summaries made since, and orders not carried out yet."""

    submit: Callable[[Order], Future[list[Any]]]
    told: Snapshot
    news: dict[str, str] = field(default_factory=dict)
    waiting: list[Future[list[Any]]] = field(default_factory=list)

    def put(self, order: Order, snapshot: Snapshot) -> Future[list[Any]]:
        """The results of one more order, which is told what is new."""
        if snapshot is self.told:
            order = replace(order, summaries=self.news)
        else:  # the site map again, so that the tables that this one has made of it are not sent
            order = replace(order, summaries=snapshot.summaries, site_map=replace(snapshot.site_map))
        self.told, self.news = snapshot, {}
        self.load()  # results that are there are not held: pages of a thousand runs would be
        result = self.submit(order)
        self.waiting.append(result)
        return result

    def load(self) -> int:
        """How many orders it has yet to carry out."""
        self.waiting = [result for result in self.waiting if not result.done()]
        return len(self.waiting)


class Processes:
    """The worker processes of a build, at most `most`, started when there is enough to do.

    A context: they end with it, and what they have not begun is dropped.
    """

    def __init__(self, most: int) -> None:
        self.most = most
        self._started: list[_Process] = []
        self._home: dict[str, _Process] = {}
        self._stack = ExitStack()

    def __enter__(self) -> Processes:
        return self

    def __exit__(self, *_: object) -> None:
        self.end()

    def end(self) -> None:
        """End them; others may be started after."""
        self._stack.close()
        self._started.clear()
        self._home.clear()

    @property
    def number(self) -> int:
        """How many there are."""
        return len(self._started)

    def start(self, snapshot: Snapshot, number: int) -> None:
        """Let there be so many, as far as there may."""
        for _ in range(self.number, min(number, self.most)):
            ready = partial(_ready, snapshot.for_worker(), KEPT // self.most)
            worker = self._stack.enter_context(Worker(ready))
            self._started.append(_Process(worker.submit, snapshot))

    def order(
        self, snapshot: Snapshot, step: str, names: tuple[str, ...], staging: Staging | None = None
    ) -> Future[list[Any]]:
        """The results of a step, in the order of the names, which have one process if any."""
        process = next((self._home[name] for name in names if name in self._home), None)
        process = process or min(self._started, key=_Process.load)
        if step != "index":
            self._home.update(dict.fromkeys(names, process))
        files = {name: snapshot.runs[name] for name in names if name in snapshot.runs}
        return process.put(Order(step, names, files, {}, staging=staging), snapshot)

    def tell(self, summaries: Mapping[str, str]) -> None:
        """Tell all processes of summaries, with their next order."""
        for process in self._started:
            process.news.update(summaries)

    def each(
        self, snapshot: Snapshot, step: str, names: Sequence[str], at_once: int
    ) -> Iterator[tuple[str, Any]]:
        """The result of a step of each run, as they come; so many are ordered together, fewer where there are few."""
        waiting: deque[tuple[tuple[str, ...], Future[list[Any]]]] = deque()
        size = max(1, min(at_once, len(names) // (OUT * self.number)))
        for batch in self._batches(names, size):
            waiting.append((batch, self.order(snapshot, step, batch)))
            while waiting and (waiting[0][1].done() or len(waiting) >= OUT * self.number):
                yield from _taken(*waiting.popleft())
        while waiting:
            yield from _taken(*waiting.popleft())

    def _batches(self, names: Iterable[str], size: int) -> Iterator[tuple[str, ...]]:
        """Names by the process that has them; neighbours go to different ones, since their pages are wanted in turn."""
        turn = cycle(self._started)
        begun: dict[int, list[str]] = {}
        for name in names:
            home = self._home.get(name) or next(turn)
            self._home[name] = home
            batch = begun.setdefault(id(home), [])
            batch.append(name)
            if len(batch) == size:
                yield tuple(begun.pop(id(home)))
        yield from map(tuple, begun.values())


def _taken(names: tuple[str, ...], result: Future[list[Any]]) -> Iterator[tuple[str, Any]]:
    return zip(names, result.result(), strict=True)
