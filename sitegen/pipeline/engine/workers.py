"""Worker processes: reading, drawing and rendering hold the interpreter's lock.

In: orders, and a function that gets a process ready for them. Out: results in the order of the orders, of any process
(`spread`) or of a chosen one (`Worker`).
"""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from sitegen.core.files.inside import copies, know_copies

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

AHEAD = 3  # orders handed out for each process: more results would only pile up in memory

_Order = TypeVar("_Order")
_Result = TypeVar("_Result")


def cores() -> int:
    """How many processes may run at once: a container may be allowed fewer cores than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def spread(
    jobs: int,
    orders: Iterable[_Order],
    ready: Callable[[], Callable[[_Order], _Result]],
    here: Callable[[_Order], _Result] | None = None,
) -> Iterator[_Result]:
    """The result of each order. `ready` is called once in each process and gives what does the work.

    With `here`, this process works too, on one process fewer.
    """
    others = jobs - 1 if here else jobs
    pool = _pool(others, ready)
    waiting: deque[Future[Any]] = deque()
    try:
        for order in orders:
            # This process takes an order only while the others have enough to do: they would wait for it otherwise.
            if here is not None and sum(not result.done() for result in waiting) >= 2 * others:
                waiting.append(done(here(order)))
            else:
                waiting.append(pool.submit(_do, order))
            while waiting and (waiting[0].done() or (here is None and len(waiting) >= AHEAD * jobs)):
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        pool.shutdown(cancel_futures=True)


def _pool(processes: int, ready: Callable[[], Callable[[_Order], Any]]) -> ProcessPoolExecutor:
    import multiprocessing  # noqa: PLC0415 - a few runs do without
    from concurrent.futures import ProcessPoolExecutor  # noqa: PLC0415 - as above

    # Spawned, never forked: a copy of a process that has drawn a chart hangs at its next drawing.
    context = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(processes, context, _start, (ready, copies()))


class Worker:
    """One worker process with orders of its own: what it keeps of one order is there for the next.

    A context: the process ends with it, and what it has not begun is dropped.
    """

    def __init__(self, ready: Callable[[], Callable[[_Order], Any]]) -> None:
        self._pool = _pool(1, ready)

    def submit(self, order: object) -> Future[Any]:
        """The result of an order, carried out in the order of the orders."""
        return self._pool.submit(_do, order)

    def __enter__(self) -> Worker:
        return self

    def __exit__(self, *_: object) -> None:
        self._pool.shutdown(cancel_futures=True)


def done(result: Any) -> Future[Any]:
    """A result that is there already."""
    from concurrent.futures import Future  # noqa: PLC0415 - a few runs do without

    future: Future[Any] = Future()
    future.set_result(result)
    return future


_WORK: list[Callable[[Any], Any]] = []  # what this process does with an order, where it is a worker


def _start(ready: Callable[[], Callable[[Any], Any]], known: Mapping[str, str]) -> None:
    know_copies(known)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process is interrupted too, and ends the pool
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _WORK.append(ready())


def _end_with_parent() -> None:
    # A parent that is killed cannot tell its workers, and they would wait for work for ever.
    import multiprocessing  # noqa: PLC0415 - as above

    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _do(order: Any) -> Any:
    return _WORK[0](order)
