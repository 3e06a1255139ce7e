"""Spreads experiments over processes: drawing and rendering hold the interpreter's lock.

In: orders, a bench, where pages go. Out: `Made`, one after another, in the same order. A few are made in this
process: starting others takes as long as making them.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing.synchronize import Event
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.core.tongue import speak
from sitegen.memo import Memo
from sitegen.pipeline.making import Made, make
from sitegen.pipeline.shared import Bench
from sitegen.pipeline.tasks import Task

if TYPE_CHECKING:
    from sitegen.ingest import Shelf
    from sitegen.render import Outline, Theme

__all__ = ["Order", "cores", "made_by"]

FEW = 6  # experiments that are made before another process has started
AHEAD = 3  # tasks handed out for each process: more would only pile up what comes back


def cores() -> int:
    """How many processes may run at once: a container may be allowed fewer cores than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@dataclass(frozen=True, slots=True)
class Order:
    """An experiment to be made; of one whose pages are there, only the verdict."""

    task: Task
    judge_only: bool = False


def made_by(
    jobs: int, orders: Sequence[Order], bench: Bench, output: Path, *, keep_going: bool, halted: bool
) -> Iterator[Made]:
    """Each experiment made; after the first error no more pages are, unless work goes on without the broken ones."""
    if jobs <= 1 or len(orders) < FEW:
        yield from _alone(orders, bench, output, keep_going, halted)
        return
    context = multiprocessing.get_context("spawn")  # a copy of a process that has drawn once hangs
    halt = context.Event()
    if halted:
        halt.set()
    tools = _Tools(bench.shelf, bench.today.isoformat(), bench.theme, bench.outlines, output, bench.since)
    pool = ProcessPoolExecutor(min(jobs, len(orders)), context, _start, (tools, halt))
    try:
        for made in _in_order(pool, orders, AHEAD * jobs):
            if not made.verdict.sound and not keep_going:
                halt.set()
            yield made
    finally:
        halt.set()
        pool.shutdown(cancel_futures=True)


def _alone(
    orders: Sequence[Order], bench: Bench, output: Path, keep_going: bool, halted: bool
) -> Iterator[Made]:
    broken = halted
    for order in orders:
        made = make(order.task, bench, output, judge_only=broken or order.judge_only)
        broken = broken or (not made.verdict.sound and not keep_going)
        yield made


def _in_order(pool: ProcessPoolExecutor, orders: Sequence[Order], ahead: int) -> Iterator[Made]:
    """Results in the order of what was ordered, with no more than some on their way."""
    waiting: deque[Future[Made]] = deque()
    for order in orders:
        waiting.append(pool.submit(_make, order))
        if len(waiting) >= ahead:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


@dataclass(frozen=True, slots=True)
class _Tools:
    """What a process needs to make its own bench."""

    shelf: Shelf
    today: str
    theme: Theme
    outlines: tuple[Outline, ...]
    output: Path
    since: float


@dataclass(slots=True)
class _Worker:
    """What a process works with, where it is one of a crew."""

    bench: Bench
    output: Path
    halted: Callable[[], bool]


_WORKER: list[_Worker] = []


def _start(tools: _Tools, halt: Event) -> None:
    """Make a bench in a new process, which ends when the first one does."""
    import datetime as dt  # noqa: PLC0415 - as all of this, only in another process

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process says when to stop
    threading.Thread(target=_end_with_the_first, daemon=True).start()
    speak(tools.shelf.tongue)
    memo = Memo.open(since=tools.since)
    bench = Bench(
        tools.shelf, memo, dt.date.fromisoformat(tools.today), tools.theme, tools.outlines, tools.since
    )
    _WORKER.append(_Worker(bench, tools.output, halt.is_set))


def _end_with_the_first() -> None:
    """Killed, the first process cannot tell the others."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _make(order: Order) -> Made:
    worker = _WORKER[0]
    return make(order.task, worker.bench, worker.output, judge_only=order.judge_only or worker.halted())
