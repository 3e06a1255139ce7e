"""Spreads work over processes: reading, drawing and rendering hold the interpreter's lock.

In: orders, and how a process gets ready for them. Out: what comes of each, one after another, in the same order.
"""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor
    from multiprocessing.synchronize import Event

FEW = 6  # experiments that are made before another process has started
AHEAD = 3  # orders handed out for each process: more would only pile up what comes back

_Order = TypeVar("_Order")
_Result = TypeVar("_Result")
_Tools = TypeVar("_Tools")


@dataclass(frozen=True, slots=True)
class Trade(Generic[_Tools, _Order, _Result]):
    """How a process gets ready, and with what: `ready` is given `tools`, and how to tell whether work was halted."""

    ready: Callable[[_Tools, Callable[[], bool]], Callable[[_Order], _Result]]
    tools: _Tools
    halts: Callable[[_Result], bool] = lambda _: False  # a result that halts what is still to come


def cores() -> int:
    """How many processes may run at once: a container may be allowed fewer cores than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def spread(
    jobs: int, orders: Iterable[_Order], trade: Trade[_Tools, _Order, _Result], *, halted: bool = False
) -> Iterator[_Result]:
    """What comes of each order; after a result that halts, or where work is `halted`, processes are told so."""
    with _crew(jobs, trade, halted=halted) as (pool, halt):
        for result in _in_order(pool, orders, AHEAD * jobs):
            if trade.halts(result):
                halt.set()
            yield result


def shared(
    jobs: int,
    orders: Iterable[_Order],
    trade: Trade[_Tools, _Order, _Result],
    work: Callable[[_Order], _Result],
) -> Iterator[_Result]:
    """What comes of each order, this process doing its part by `work`: worth it where orders take milliseconds."""
    others = jobs - 1
    with _crew(others, trade) as (pool, _):
        yield from _in_order(pool, orders, 2 * others, work)


@contextmanager
def _crew(
    jobs: int, trade: Trade[Any, Any, Any], *, halted: bool = False
) -> Iterator[tuple[ProcessPoolExecutor, Event]]:
    """Other processes, and what tells them to stop; they end with the work."""
    import multiprocessing  # noqa: PLC0415 - a few experiments do without
    from concurrent.futures import ProcessPoolExecutor  # noqa: PLC0415 - as above

    context = multiprocessing.get_context("spawn")  # a copy of a process that has drawn once hangs
    halt = context.Event()
    if halted:
        halt.set()
    pool = ProcessPoolExecutor(jobs, context, _start, (trade.ready, trade.tools, halt))
    try:
        yield pool, halt
    finally:
        halt.set()
        pool.shutdown(cancel_futures=True)


def _in_order(
    pool: ProcessPoolExecutor,
    orders: Iterable[_Order],
    ahead: int,
    work: Callable[[_Order], Any] | None = None,
) -> Iterator[Any]:
    """Results in the order of what was ordered, with no more than some on their way; done here while they are."""
    waiting: deque[Future[Any]] = deque()
    for order in orders:
        if work is not None and sum(not result.done() for result in waiting) >= ahead:
            waiting.append(_done(work(order)))
        else:
            waiting.append(pool.submit(_do, order))
        while waiting and (waiting[0].done() or (work is None and len(waiting) >= ahead)):
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


def _done(result: Any) -> Future[Any]:
    from concurrent.futures import Future  # noqa: PLC0415 - as above

    future: Future[Any] = Future()
    future.set_result(result)
    return future


_WORK: list[Callable[[Any], Any]] = []  # what a process does with an order, where it is one of a crew


def _start(
    ready: Callable[[Any, Callable[[], bool]], Callable[[Any], Any]], tools: object, halt: Event
) -> None:
    """Get a new process ready, which ends when the first one does."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process says when to stop
    threading.Thread(target=_end_with_the_first, daemon=True).start()
    _WORK.append(ready(tools, halt.is_set))


def _end_with_the_first() -> None:
    """Killed, the first process cannot tell the others."""
    import multiprocessing  # noqa: PLC0415 - as above

    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _do(order: Any) -> Any:
    return _WORK[0](order)
