"""Worker processes: reading, drawing and rendering hold the interpreter's lock.

In: orders, and a function that gets a process ready for them. Out: `Worker`, one process, whose orders are carried out in
their order.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from sitegen.core.files.inside import copies, know_copies

if TYPE_CHECKING:
    from concurrent.futures import Future

_Order = TypeVar("_Order")
_Result = TypeVar("_Result")


def cores() -> int:
    """How many processes may run at once: a container may be allowed fewer cores than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


class Worker(Generic[_Order, _Result]):
    """One worker process with orders of its own: what it keeps of one order is there for the next.

    A context: the process ends with it, and what it has not begun is dropped.
    """

    def __init__(self, ready: Callable[[], Callable[[_Order], _Result]]) -> None:
        import multiprocessing  # noqa: PLC0415 - a few runs do without
        from concurrent.futures import ProcessPoolExecutor  # noqa: PLC0415 - as above

        # Spawned, never forked: a copy of a process that has drawn a chart hangs at its next drawing.
        context = multiprocessing.get_context("spawn")
        self._pool = ProcessPoolExecutor(1, context, _start, (ready, copies()))

    def submit(self, order: _Order) -> Future[_Result]:
        """The result of an order, carried out in the order of the orders."""
        return self._pool.submit(_do, order)

    def __enter__(self) -> Worker[_Order, _Result]:
        return self

    def __exit__(self, *_: object) -> None:
        self._pool.shutdown(cancel_futures=True)


def done(result: _Result) -> Future[_Result]:
    """A result that is there already."""
    from concurrent.futures import Future  # noqa: PLC0415 - a few runs do without

    future: Future[_Result] = Future()
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
