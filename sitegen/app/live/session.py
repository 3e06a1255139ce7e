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
from functools import partial
from itertools import chain
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.listen import listen
from sitegen.app.live.rebuild import Rebuilder
from sitegen.app.live.serve import application
from sitegen.app.live.watch import Changes, Watcher
from sitegen.memo import Memo
from sitegen.pipeline.preview import Previewer

Say = Callable[[str], None]
PATIENCE = 3.0  # seconds that requests may take to end when the server stops


def live(
    root: Path, today: dt.date, say: Say, *, host: str, port: int, opens: bool, follow: bool, poll: bool
) -> None:
    """Serve a journal until interrupted."""
    broadcaster = Broadcaster()
    with ExitStack() as stack:
        memo = stack.enter_context(Memo())
        bound, address = listen(host, port, say)
        # Served before the first build: a browser that is opened now waits for it, and is not refused.
        stack.enter_context(
            serving(application(broadcaster, host, follow=follow, say=say), bound, broadcaster)
        )
        say(f"{address} shows {root.name} while you write; Ctrl-C ends it")
        if opens:
            webbrowser.open(address)
        journal = Previewer(root, today, memo)
        rebuilder = Rebuilder(journal, root, time.perf_counter)
        stop = stack.enter_context(interrupts())
        watcher = Watcher(
            root, lambda: rebuilder.version.site.theme_folders, journal.unreported_changes, stop, say
        )
        renew(rebuilder, watcher.changes(poll=poll), broadcaster, say)
        raise KeyboardInterrupt  # the watcher ends where `stop` is set, and only there


def renew(rebuilder: Rebuilder, changes: Iterable[Changes], broadcaster: Broadcaster, say: Say) -> None:
    """Build everything once, and again after each change set."""
    for files in chain([frozenset[str]()], changes):
        line = rebuilder.rebuild(files)
        broadcaster.publish(rebuilder.version)
        say(line)


@contextmanager
def interrupts() -> Iterator[threading.Event]:
    """An event that an interrupt sets."""
    # Beside the exception, which ends a build that takes long: where it falls into a destructor, the interpreter only
    # prints it, and the preview would go on for ever.
    stop = threading.Event()

    def interrupt(_number: int, _frame: object) -> None:
        stop.set()
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, interrupt)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def serving(app: ASGIApp, bound: socket.socket, broadcaster: Broadcaster) -> Iterator[None]:
    """A server in a thread of its own, while the block runs."""
    config = uvicorn.Config(
        app, lifespan="off", ws="none", log_config=None, log_level="critical", server_header=False
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
