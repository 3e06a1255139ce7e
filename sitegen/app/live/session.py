"""One session of `sitegen live`: watch, rebuild, show, until interrupted.

In: the journal's folder, the day, the wishes of the command line. Out: lines to print. Builds run in the calling thread,
the server in another, so that a page is served while the next is made.
"""

from __future__ import annotations

import datetime as dt
import signal
import socket
import threading
import time
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import click
import uvicorn
from starlette.types import ASGIApp

from sitegen.app.live.background import Background
from sitegen.app.live.hub import Hub
from sitegen.app.live.listen import CannotListenError, Place, is_loopback, listen, warning
from sitegen.app.live.rebuild import Rebuilder, rebuilt_line
from sitegen.app.live.serve import LOCAL_NAMES, application
from sitegen.app.live.watch import DiskChanges, Idle, Watcher
from sitegen.memo import Memo
from sitegen.pipeline import previewer

Say = Callable[[str], None]
PATIENCE = 3.0  # seconds that requests may take to end when the server stops


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the command line asks for."""

    host: str
    port: int
    opens: bool = False
    follow: bool = False
    poll: bool = False


def _nothing() -> None:
    pass


def live(root: Path, today: dt.date, wishes: Wishes, say: Say) -> None:
    """Serve a journal until interrupted."""
    hub = Hub()
    with ExitStack() as stack:
        memo = stack.enter_context(Memo.open())
        place = _place(wishes, say)
        stack.enter_context(serving(_application(hub, wishes), place.socket, hub))
        say(f"{place.address} shows {root.name} while you write; Ctrl-C ends it")
        if wishes.opens:
            webbrowser.open(place.address)
        watcher = stack.enter_context(_watching(root, wishes, say))

        looks = previewer(root, today, memo)
        interrupted = stack.enter_context(_interrupts())
        renew(Rebuilder(looks, root, time.perf_counter), watcher, hub, say, interrupted)


def renew(
    rebuilder: Rebuilder, watcher: Watcher, hub: Hub, say: Say, interrupted: Callable[[], None] = _nothing
) -> None:
    """Look at everything once, and again after each burst of changes; what came meanwhile is one burst."""
    background = Background(rebuilder, hub, watcher, time.monotonic)

    def idle() -> bool:
        interrupted()
        return background.step()

    for files in _with_first(watcher, idle):
        rebuilt = rebuilder.rebuild(files)
        hub.publish(rebuilt.shown)
        watcher.beside(rebuilt.shown.site.beside)
        say(rebuilt_line(files, rebuilt))
        background.begin()


def _with_first(watcher: Watcher, idle: Idle) -> Iterator[frozenset[str]]:
    yield frozenset()
    yield from watcher.changes(idle)


@contextmanager
def _interrupts() -> Iterator[Callable[[], None]]:
    """What raises once there was an interrupt: one that falls into a destructor is swallowed by the interpreter."""
    came: list[int] = []

    def note(number: int, _frame: object) -> None:
        came.append(number)
        raise KeyboardInterrupt

    def check() -> None:
        if came:
            raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, note)
    try:
        yield check
    finally:
        signal.signal(signal.SIGINT, before)


def _place(wishes: Wishes, say: Say) -> Place:
    try:
        place = listen(wishes.host, wishes.port)
    except CannotListenError as error:
        raise click.UsageError(str(error)) from error
    if place.passed:
        say(f"port {place.passed[0]} is taken; this is the next that is free")
    if not is_loopback(wishes.host):
        say(warning(wishes.host))
    return place


def _application(hub: Hub, wishes: Wishes) -> ASGIApp:
    if is_loopback(wishes.host):
        return application(hub, names=LOCAL_NAMES | {wishes.host.lower()}, follow=wishes.follow)
    machine = socket.gethostname().lower()
    names = LOCAL_NAMES | {wishes.host.lower(), machine, f"{machine}.local"}
    return application(hub, names=names, any_address=True, follow=wishes.follow)


@contextmanager
def serving(app: ASGIApp, bound: socket.socket, hub: Hub) -> Iterator[None]:
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
        hub.close()
        server.should_exit = True
        thread.join(PATIENCE)
        bound.close()


@contextmanager
def _watching(root: Path, wishes: Wishes, say: Say) -> Iterator[Watcher]:
    """Changes on the disk; by looking where the system does not tell."""
    watcher = DiskChanges(root, poll=wishes.poll)
    try:
        watcher.start()
    except OSError as error:
        say(f"the system reports no changes here ({error.strerror}); looking once a second instead")
        watcher = DiskChanges(root, poll=True)
        watcher.start()
    try:
        yield watcher
    finally:
        watcher.stop()
