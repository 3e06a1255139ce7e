"""One session of `sitegen live`: watch, rebuild, serve, until interrupted.

In: the journal's folder, the day, the options of the command line. Out: lines to print. Builds run in the calling
thread, the server in another, so that a page is served while the next is built.
"""

from __future__ import annotations

import datetime as dt
import multiprocessing
import signal
import socket
import sys
import threading
import time
import webbrowser
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from functools import partial
from itertools import chain
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.memory import few_arenas, give_back
from sitegen.app.live.network.connections import BoundedProtocol
from sitegen.app.live.network.key import Key
from sitegen.app.live.network.listen import LOOPBACK, Place, listen, warning
from sitegen.app.live.network.qr import qr_lines
from sitegen.app.live.rebuild import Rebuilder
from sitegen.app.live.serve import application
from sitegen.app.live.watch import Changes, Watcher
from sitegen.memo import Memo
from sitegen.pipeline.preview import Previewer

Say = Callable[[str], None]
# Asked to end, by hand, by another program, or since its terminal is closed.
SIGNALS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
PATIENCE = 3.0  # seconds that requests may take to end when the server stops


def live(
    root: Path, today: dt.date, say: Say, *, host: str, port: int, opens: bool, follow: bool, poll: bool
) -> None:
    """Serve a journal until interrupted; without a host, to this machine."""
    few_arenas()
    broadcaster = Broadcaster()
    with ExitStack() as stack:
        stop = stack.enter_context(interrupts())
        memo = stack.enter_context(Memo())
        place = listen(host or LOOPBACK, port, say)
        key = Key(place.port) if host else None
        app = application(
            broadcaster, place.names, key, follow=follow, elsewhere=not place.is_loopback, say=say
        )
        # Served before the first build: a browser that is opened now waits for it, and is not refused.
        stack.enter_context(serving(app, place.bound, broadcaster))
        introduce(root.name, place, key, say)
        if opens:
            webbrowser.open(whole_address(place, key))
        journal = Previewer(root, today, memo)
        rebuilder = Rebuilder(journal, root, time.perf_counter)
        watcher = Watcher(
            root, lambda: rebuilder.version.site.theme_folders, journal.unreported_changes, stop, say
        )
        changes = watcher.changes(poll=poll)
        renew(rebuilder, changes, broadcaster, say, elsewhere=not place.is_loopback)
        raise KeyboardInterrupt  # the watcher ends where `stop` is set, and only there


def introduce(name: str, place: Place, key: Key | None, say: Say) -> None:
    """The address; where others may look, as a picture too, and what that means."""
    address = whole_address(place, key)
    if key is not None:
        for line in qr_lines(address, sys.stderr):
            say(line)
    say(f"{address} shows {name} while you write; Ctrl-C ends it")
    if key is not None:
        say(warning(place))


def whole_address(place: Place, key: Key | None) -> str:
    """The address that a browser has to be told first."""
    return place.address + (key.query if key is not None else "")


def renew(
    rebuilder: Rebuilder,
    changes: Iterable[Changes],
    broadcaster: Broadcaster,
    say: Say,
    *,
    elsewhere: bool = False,
) -> None:
    """Build everything once, and again after each change set."""
    for files in chain([frozenset[str]()], changes):
        line = rebuilder.rebuild(files)
        broadcaster.publish(rebuilder.version)
        say(line)
        if elsewhere and rebuilder.version.failure:
            say(rebuilder.version.problems)  # no browser shows it
        give_back()


@contextmanager
def interrupts() -> Iterator[threading.Event]:
    """An event that an interrupt, or being asked to end, sets."""
    # Beside the exception, which ends a build that takes long: where it falls into a destructor, the interpreter only
    # prints it, and the preview would go on for ever.
    stop = threading.Event()

    def interrupt(_number: int, _frame: object) -> None:
        stop.set()
        raise KeyboardInterrupt

    # `nohup` keeps a command going when its terminal is closed.
    heard = [n for n in SIGNALS if n == signal.SIGINT or signal.getsignal(n) is not signal.SIG_IGN]
    before = {number: signal.signal(number, interrupt) for number in heard}
    try:
        yield stop
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@contextmanager
def serving(app: ASGIApp, bound: socket.socket, broadcaster: Broadcaster) -> Iterator[None]:
    """A server in a thread of its own, while the block runs."""
    config = uvicorn.Config(
        app,
        http=BoundedProtocol,
        lifespan="off",
        ws="none",
        log_config=None,
        log_level="critical",
        server_header=False,
        proxy_headers=False,
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=partial(server.run, sockets=[bound]), name="server", daemon=True)
    thread.start()
    try:
        yield
    finally:
        broadcaster.close()
        server.should_exit = True
        end_workers(thread)
        bound.close()


def end_workers(server: threading.Thread) -> None:
    """End the worker processes of pages that nobody is to see any more, until the server has ended, or for a while."""
    # Again and again: a request that was just starting another one would wait for it, and the interpreter for both.
    end = time.monotonic() + PATIENCE
    while True:
        for worker in multiprocessing.active_children():
            worker.terminate()
        server.join(0.05)
        if not server.is_alive() or time.monotonic() >= end:
            return
