"""One session of `sitegen live`: watch, rebuild, serve, until interrupted.

In: the journal's folder, the day, the options of the command line. Out: lines to print. Builds run in the calling
thread, the server in another, so that a page is served while the next is built.
"""

from __future__ import annotations

import datetime as dt
import signal
import socket
import threading
import time
import webbrowser
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.listen import is_loopback, listen
from sitegen.app.live.rebuild import Rebuilder
from sitegen.app.live.serve import LOCAL_NAMES, application
from sitegen.app.live.watch import Changes, Watcher
from sitegen.memo import Memo
from sitegen.pipeline.preview import Previewer

Say = Callable[[str], None]
PATIENCE = 3.0  # seconds that requests may take to end when the server stops


@dataclass(frozen=True, slots=True)
class Options:
    """The options of the command line."""

    host: str
    port: int
    opens: bool = False
    follow: bool = False
    poll: bool = False


def live(root: Path, today: dt.date, options: Options, say: Say) -> None:
    """Serve a journal until interrupted."""
    broadcaster = Broadcaster()
    with ExitStack() as stack:
        memo = stack.enter_context(Memo())
        bound, address = listen(options.host, options.port, say)
        stack.enter_context(serving(_application(broadcaster, options), bound, broadcaster))
        say(f"{address} shows {root.name} while you write; Ctrl-C ends it")
        if options.opens:
            webbrowser.open(address)
        journal = Previewer(root, today, memo)
        rebuilder = Rebuilder(journal, root, time.perf_counter)
        stop = stack.enter_context(interrupts())
        watcher = Watcher(
            root, lambda: rebuilder.version.site.theme_folders, journal.unreported_changes, stop, say
        )
        renew(rebuilder, watcher.changes(poll=options.poll), broadcaster, say)
        raise KeyboardInterrupt  # the watcher ends where `stop` is set, and only there


def renew(rebuilder: Rebuilder, changes: Iterable[Changes], broadcaster: Broadcaster, say: Say) -> None:
    """Build everything once, and again after each change set."""
    for files in _with_first(changes):
        line = rebuilder.rebuild(files)
        broadcaster.publish(rebuilder.version)
        say(line)


def _with_first(changes: Iterable[Changes]) -> Iterator[Changes]:
    yield frozenset()
    yield from changes


@contextmanager
def interrupts() -> Iterator[threading.Event]:
    """An event that an interrupt sets: the exception alone is lost where it falls into a destructor."""
    stop = threading.Event()

    def interrupt(_number: int, _frame: object) -> None:
        stop.set()
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, interrupt)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def _application(broadcaster: Broadcaster, options: Options) -> ASGIApp:
    if is_loopback(options.host):
        return application(broadcaster, names=LOCAL_NAMES | {options.host.lower()}, follow=options.follow)
    machine = socket.gethostname().lower()
    names = LOCAL_NAMES | {options.host.lower(), machine, f"{machine}.local"}
    return application(broadcaster, names=names, any_address=True, follow=options.follow)


@contextmanager
def serving(app: ASGIApp, bound: socket.socket, broadcaster: Broadcaster) -> Iterator[None]:
    """A server in a thread of its own, while the block runs."""
    config = uvicorn.Config(
        app,
        lifespan="off",
        ws="none",
        log_config=None,
        log_level="critical",
        access_log=False,
        server_header=False,
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=partial(server.run, sockets=[bound]), name="server", daemon=True)
    thread.start()
    try:
        yield
    finally:
        broadcaster.close()
        server.should_exit = True
        thread.join(PATIENCE)
        bound.close()
