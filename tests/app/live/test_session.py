"""A session as a whole: scripted changes on a real journal, and the command in a process of its own."""

from __future__ import annotations

import contextlib
import json
import multiprocessing
import signal
import socket
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import TypeVar
from urllib.parse import urlsplit

import pytest

from sitegen.app.console.status import Status
from sitegen.app.live.answer import event_data
from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.rebuild import Rebuilder, Version
from sitegen.app.live.session import end_workers, interrupts, renew
from sitegen.app.main import status_of
from sitegen.memo import Memo
from sitegen.pipeline.preview import Previewer
from tests.app.live.running import line_with, running
from tests.journal_maker import make_journal

T = TypeVar("T")
TODAY = date(2026, 4, 1)
LEAF = """\
format: 1
title: {title}
crop: leaf
system: tray
start: 2026-03-01
plants: 2
log:
  - day: 0
    sow: 2 a spot
"""
LEAF_PAGE = "experiments/leaf.html"
LOG = "seasons/one/leaf/experiment.yaml"


def scripted(*steps: tuple[str, Callable[[], object]]) -> Iterator[frozenset[str]]:
    """Changes that are made by functions, each when its turn comes."""
    for name, change in steps:
        change()
        yield frozenset({name})


class Recorded(Broadcaster):
    """A broadcaster that asks for some pages whenever it is told of something, and remembers them."""

    def __init__(self, *addresses: str) -> None:
        super().__init__()
        self.addresses = addresses
        self.all: list[tuple[Version, list[str]]] = []

    def publish(self, version: Version) -> None:
        """Remember, and publish."""
        leaves = [version.site.find(address) for address in self.addresses]
        pages = [leaf.page if leaf is not None else None for leaf in leaves]
        self.all.append((version, [page.content.decode() if page is not None else "" for page in pages]))
        super().publish(version)


def bench(tmp_path: Path) -> Path:
    """A journal with one experiment."""
    return make_journal(tmp_path / "bench", {"leaf": LEAF.format(title="Before")})


def renewed(
    root: Path, *steps: tuple[str, Callable[[], object]], of: str = LEAF_PAGE
) -> tuple[list[tuple[Version, list[str]]], list[str]]:
    """What was shown after each change with the page of an address, and the lines that were printed."""
    broadcaster, lines = Recorded(of), list[str]()
    with Memo() as memo:
        rebuilder = Rebuilder(Previewer(root, TODAY, memo), root, lambda: 0.0)
        renew(rebuilder, scripted(*steps), broadcaster, lines.append)
    return list({shown.serial: (shown, pages) for shown, pages in broadcaster.all}.values()), lines


def test_an_edit_an_error_and_its_mending_are_shown(tmp_path: Path) -> None:
    """The edit is on the page; while there is an error, the last good page is; then the mended one."""
    root = bench(tmp_path)
    log = root / LOG
    all_shown, lines = renewed(
        root,
        (LOG, lambda: log.write_text(LEAF.format(title="Edited"), "utf-8")),
        (LOG, lambda: log.write_text(LEAF.format(title="Broken") + "    harvset: 3 g\n", "utf-8")),
        (LOG, lambda: log.write_text(LEAF.format(title="Mended"), "utf-8")),
    )
    words = ("Before", "Edited", "Broken", "Mended")

    assert [next(word for word in words if word in page) for _, (page,) in all_shown] == [
        "Before",
        "Edited",
        "Edited",
        "Mended",
    ]
    assert ["harvset" in shown.problems for shown, _ in all_shown] == [False, False, True, False]
    assert [shown.edited for shown, _ in all_shown] == ["", *[LEAF_PAGE] * 3]
    said = [line.partition("ms")[2] for line in lines]
    assert [said[0], said[1], said[3]] == ["", "", ""]
    assert said[2].startswith("\nerror[unknown-key]: `harvset` is not a key of a log entry\n")
    assert "\n10 |     harvset: 3 g\n" in said[2]
    assert said[2].endswith("\n1 error in 1 file")


def test_the_overlay_says_what_validate_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Word for word, where there are errors only."""
    root = bench(tmp_path)
    (root / LOG).write_text(LEAF.format(title="Broken") + "    harvset: 3 g\n", "utf-8")
    capsys.readouterr()
    status_of(["validate", str(root), "--today", TODAY.isoformat()])
    said = capsys.readouterr().out

    assert renewed(root)[0][0][0].problems == said.removesuffix("\n")


def test_on_other_machines_nothing_is_told_out_of_a_file(tmp_path: Path) -> None:
    """There an error is a code and a place: its message, its mend and its excerpt may quote a private note."""
    root = bench(tmp_path)
    (root / LOG).write_text(LEAF.format(title="Broken") + "    private: zqjnote: of nobody else\n", "utf-8")
    ((version, _),) = renewed(root)[0]
    here, there = (
        json.loads(event_data(version, "/", 0, follow=False, elsewhere=elsewhere))
        for elsewhere in (False, True)
    )

    assert "zqjnote" in here["trouble"]
    assert there["trouble"] == (
        f"error[yaml-twist] in {LOG}:10:21\nWhat is wrong is said where `sitegen live` runs.\n"
    )


# in a process of its own


def fetched(address: str | urllib.request.Request) -> str:
    """A page."""
    with urllib.request.urlopen(address, timeout=30) as response:  # noqa: S310 # a server of this test
        return str(response.read().decode())


def test_an_edit_reaches_the_page_and_an_interrupt_ends_it(tmp_path: Path) -> None:
    """The address is printed, then one line a rebuild; Ctrl-C ends it at once, without a traceback."""
    root = bench(tmp_path)
    with running(root, TODAY, "--port", "0") as process:
        address = line_with(process, "http://").split()[0]
        line_with(process, "everything: ")
        (root / LOG).write_text(LEAF.format(title="Edited"), "utf-8")
        line = line_with(process, LOG)
        page = fetched(f"{address}experiments/leaf.html")
        process.send_signal(signal.SIGINT)
        _, rest = process.communicate(timeout=60)

    assert line.startswith(f"{LOG}: ")
    assert "Edited" in page
    assert (process.returncode, rest) == (Status.INTERRUPTED, "\ninterrupted\n")


def test_it_ends_while_pages_are_made_and_leaves_no_process(tmp_path: Path) -> None:
    """Asked to end by another program: six runs are summarized by processes of their own, which end with it."""
    root = make_journal(
        tmp_path / "bench", {f"leaf-{number}": LEAF.format(title="Leaf") for number in range(6)}
    )
    with running(root, TODAY, "--port", "0") as process:
        place = urlsplit(line_with(process, "http://").split()[0])
        line_with(process, "everything: ")
        with socket.create_connection((place.hostname or "", place.port or 0), timeout=60) as link:
            link.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
            workers = _until(lambda: _children(process.pid))
            process.send_signal(signal.SIGTERM)
            _, rest = process.communicate(timeout=60)

    # What it saw of a change before the signal came may be printed first.
    assert (process.returncode, rest[-13:]) == (Status.INTERRUPTED, "\ninterrupted\n")
    assert workers
    _until(lambda: not [each for each in workers if Path(f"/proc/{each}").exists()])


def _late() -> None:
    """What a request does that starts a process after it was asked to end, and waits for it."""
    time.sleep(0.3)
    late = multiprocessing.get_context("spawn").Process(target=time.sleep, args=(60,))
    late.start()
    late.join()


def test_a_process_started_while_it_ends_is_ended_too() -> None:
    """A request that was just starting a process does not keep the preview: that one ends as those before it."""
    request = threading.Thread(target=_late, daemon=True)
    request.start()
    end_workers(request)

    assert not request.is_alive()
    assert not multiprocessing.active_children()


def _children(process: int) -> list[str]:
    """The processes that a process has started."""
    return [each for task in Path(f"/proc/{process}/task").iterdir() for each in _started(task)]


def _started(task: Path) -> list[str]:
    with contextlib.suppress(OSError):  # a thread that has ended meanwhile
        return (task / "children").read_text().split()
    return []


def _until(found: Callable[[], T]) -> T:
    end = time.monotonic() + 60
    while not (value := found()):
        assert time.monotonic() < end
        time.sleep(0.01)
    return value


def test_a_closed_input_and_a_reader_who_left_are_no_faults(tmp_path: Path) -> None:
    """Nothing is read; where nobody reads what is printed, it goes on, and ends when it is asked to."""
    root = bench(tmp_path)
    with running(root, TODAY, "--port", "0", closed_input=True) as process:
        address = line_with(process, "http://").split()[0]
        line_with(process, "everything: ")
        assert process.stderr is not None
        process.stderr.close()
        (root / LOG).write_text(LEAF.format(title="Edited"), "utf-8")
        for _ in range(600):
            if "Edited" in fetched(f"{address}experiments/leaf.html"):
                break
            time.sleep(0.1)
        else:
            pytest.fail("the edit is not shown")
        process.send_signal(signal.SIGTERM)

        assert process.wait(60) == Status.INTERRUPTED


def test_over_the_network_every_request_needs_the_key(tmp_path: Path) -> None:
    """The address with the key, then the cookie; without either nothing. It ends with its terminal, as by Ctrl-C."""
    with running(bench(tmp_path), TODAY, "--port", "0", "--host", "127.0.0.1") as process:
        address = line_with(process, "http://").split()[0]
        line_with(process, "everything: ")
        bare = address.partition("?")[0]
        with urllib.request.urlopen(address, timeout=60) as first:  # noqa: S310 # a server of this test
            cookie, welcome = first.headers["Set-Cookie"].partition(";")[0], first.read().decode()
        page = fetched(urllib.request.Request(bare, headers={"Cookie": cookie}))  # noqa: S310 # as above
        refused = []
        for path in ("", "experiments/leaf.html", "-/events", "-/live.js", "feed.xml"):
            with pytest.raises(urllib.error.HTTPError) as error:
                fetched(bare + path)
            refused.append(error.value.code)
            error.value.close()
        process.send_signal(signal.SIGHUP)
        _, rest = process.communicate(timeout=60)

    assert '<meta http-equiv="refresh" content="0; url=/">' in welcome
    assert "Leaf" in page or "Before" in page
    assert refused == [403] * 5
    assert (process.returncode, rest) == (Status.INTERRUPTED, "\ninterrupted\n")


def test_an_open_window_does_not_keep_it_from_ending(tmp_path: Path) -> None:
    """A stream of events that is being read ends with the server."""
    with running(bench(tmp_path), TODAY, "--port", "0") as process:
        address = line_with(process, "http://").split()[0]
        line_with(process, "everything: ")
        with urllib.request.urlopen(f"{address}-/events?page=/", timeout=60) as stream:  # noqa: S310 # as above
            stream.readline()
            process.send_signal(signal.SIGINT)
            stream.read()
        process.communicate(timeout=60)

    assert process.returncode == Status.INTERRUPTED


def test_a_taken_port_is_said(tmp_path: Path) -> None:
    """The next free one is taken, and its address printed."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with running(bench(tmp_path), TODAY, "--port", str(port)) as process:
            said = line_with(process, "is taken")
            address = line_with(process, "http://").split()[0]

    assert said == f"port {port} is taken; this is the next that is free, and `--port` chooses another\n"
    assert int(address.rstrip("/").rpartition(":")[2]) > port


def test_a_host_that_is_not_here_is_wrong_usage(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """192.0.2.7 is kept for examples (RFC 5737): no machine has it."""
    status = status_of(["live", str(bench(tmp_path)), "--host", "192.0.2.7"])

    assert status == Status.USAGE
    assert "cannot listen at `192.0.2.7`" in capsys.readouterr().err


def test_an_interrupt_that_was_swallowed_ends_it_all_the_same() -> None:
    """In a destructor the interpreter drops the exception; the watcher ends because of the event."""
    with interrupts() as stop:
        before = stop.is_set()
        with contextlib.suppress(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)

    assert (before, stop.is_set()) == (False, True)
