"""Who is answered, asked over a real connection to a server in this process."""

from __future__ import annotations

import json
import os
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing, contextmanager
from http.client import HTTPConnection, HTTPResponse
from typing import cast
from urllib.parse import quote

import pytest

from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.network.listen import listen
from sitegen.app.live.rebuild import FAULT, Version
from sitegen.app.live.serve import MAKERS, SERIAL, STREAMS, application
from sitegen.app.live.session import serving
from sitegen.core.site.page import HTML, Page
from sitegen.pipeline.preview import Preview
from tests.app.live.fixed import FixedSite

SITE = cast(
    "Preview", FixedSite((Page("index.html", HTML, "<head></head>1"), Page("a.css", "text/css", "p {}")))
)


@pytest.fixture
def served() -> Iterator[tuple[int, Broadcaster]]:
    """A server that shows two files, on a port of its own."""
    broadcaster = Broadcaster()
    broadcaster.publish(Version(1, SITE))
    place = listen("127.0.0.1", 0, lambda _: None)
    with serving(application(broadcaster, follow=True), place.bound, broadcaster):
        yield place.port, broadcaster


def ask(port: int, path: str, method: str = "GET", **headers: str) -> HTTPResponse:
    """The answer to one request; its body is read."""
    connection = HTTPConnection("127.0.0.1", port, timeout=30)
    connection.putrequest(method, path, skip_host="Host" in headers)
    for name, value in headers.items():
        connection.putheader(name, value)
    connection.endheaders()
    response = connection.getresponse()
    response.body = response.read()  # type: ignore[attr-defined]
    connection.close()
    return response


def raw(port: int, request: bytes) -> bytes:
    """What comes back for some bytes."""
    with socket.create_connection(("127.0.0.1", port), timeout=30) as link:
        link.sendall(request)
        found = b""
        while part := link.recv(65536):
            found += part
    return found


def events(response: HTTPResponse) -> Iterator[tuple[str, dict[str, object]]]:
    """The events of a stream: id and data."""
    number = ""
    for line in response:
        name, _, value = line.decode().strip().partition(": ")
        number = value if name == "id" else number
        if name == "data":
            yield number, json.loads(value)


@contextmanager
def stream(port: int, path: str, **headers: str) -> Iterator[Iterator[tuple[str, dict[str, object]]]]:
    """The events told to a browser."""
    with closing(HTTPConnection("127.0.0.1", port, timeout=30)) as connection:
        connection.request("GET", path, headers=headers)
        with connection.getresponse() as response:
            yield events(response)


def test_a_page_comes_with_headers_that_keep_it_here(served: tuple[int, Broadcaster]) -> None:
    """Nothing is stored, guessed, or lent to pages of other sites."""
    response = ask(served[0], "/")
    names = (
        "Cache-Control",
        "Cross-Origin-Resource-Policy",
        "X-Content-Type-Options",
        "Access-Control-Allow-Origin",
    )

    assert response.status == 200
    assert [response.getheader(name) for name in names] == ["no-store", "same-origin", "nosniff", None]


def test_a_foreign_name_is_refused(served: tuple[int, Broadcaster]) -> None:
    """Neither pages nor events are told to it."""
    hosts = ("evil.example", f"evil.example:{served[0]}")

    assert [ask(served[0], path, Host=host).status for host in hosts for path in ("/", "/-/events")] == [
        403
    ] * 4


@pytest.mark.parametrize("hosts", [b"", b"Host: localhost\r\nHost: evil.example\r\n"], ids=["none", "two"])
def test_a_request_must_say_whom_it_means(served: tuple[int, Broadcaster], hosts: bytes) -> None:
    """No name and two names are refused."""
    assert raw(served[0], b"GET / HTTP/1.0\r\n" + hosts + b"\r\n").split()[1] in (b"400", b"403")


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"])
def test_nothing_can_be_changed(served: tuple[int, Broadcaster], method: str) -> None:
    """A preview is only read, wherever the request goes."""
    found = [ask(served[0], path, method) for path in ("/", "/-/events", "/-/live.js", "/a.css")]

    assert [(each.status, each.getheader("Allow")) for each in found] == [(405, "GET, HEAD")] * 4


@pytest.mark.parametrize(
    "path",
    [
        "/../../../../etc/passwd",
        "/..%2f..%2f..%2fetc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/%252e%252e/etc/passwd",
        "//etc/passwd",
        "/a.css/../../pyproject.toml",
        "/-/../session.py",
        "/-/session.py",
        "/..\\..\\journal.yaml",
        "/%00",
        "/journal.yaml",
    ],
)
def test_no_path_leads_to_the_disk(served: tuple[int, Broadcaster], path: str) -> None:
    """Only addresses of the site have anything; there is no page for the missing in this one."""
    answer = raw(served[0], f"GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n".encode())

    assert answer.split()[1] == b"503"
    assert b"root:" not in answer
    assert b"import" not in answer


def test_a_head_is_a_page_without_its_body(served: tuple[int, Broadcaster]) -> None:
    """HEAD is answered for pages, files, the script and the stream."""
    found = [ask(served[0], path, "HEAD") for path in ("/", "/a.css", "/-/live.js", "/-/events")]

    assert [(each.status, each.body) for each in found] == [(200, b"")] * 4  # type: ignore[attr-defined]


def test_the_script_is_served_here_only(served: tuple[int, Broadcaster]) -> None:
    """The live script comes from the preview itself."""
    response = ask(served[0], "/-/live.js")

    assert response.getheader("Content-Type") == "text/javascript; charset=utf-8"
    assert b"not published" in response.body  # type: ignore[attr-defined]


def test_a_stream_tells_of_each_rebuild_until_the_server_stops(served: tuple[int, Broadcaster]) -> None:
    """What is shown now comes at once, then what is shown next; then the stream ends by itself."""
    port, broadcaster = served
    with stream(port, "/-/events?page=/&serial=1") as told:
        first = next(told)
        broadcaster.publish(Version(2, SITE, failure="odd"))
        second = next(told)
        broadcaster.close()
        rest = list(told)

    assert (first[0], first[1]["trouble"], second[0], second[1]["trouble"]) == ("1", "", "2", f"{FAULT}odd")
    assert rest == []


@pytest.mark.parametrize(
    ("serial", "last", "expected"),
    [("1", {}, "/index.html"), ("1", {"Last-Event-ID": "5"}, ""), ("5", {}, ""), ("", {}, "/index.html")],
)
def test_a_browser_that_comes_back_is_led_to_what_it_missed(
    served: tuple[int, Broadcaster], serial: str, last: dict[str, str], expected: str
) -> None:
    """The id of the last event counts, else the page's serial; without one it counts from the beginning."""
    port, broadcaster = served
    broadcaster.publish(Version(5, SITE, edited="index.html"))
    with stream(port, f"/-/events?page=/a.css&serial={serial}", **last) as told:
        assert next(told)[1]["go"] == expected


@pytest.mark.parametrize("serial", ["odd", "-1", "1.0", "\u0661", "9" * (SERIAL + 1), "9" * 5000])
def test_a_serial_that_is_none_is_refused(served: tuple[int, Broadcaster], serial: str) -> None:
    """Whatever is no number of a few digits; Python itself would refuse to read 5,000 of them."""
    found = [
        ask(served[0], f"/-/events?page=/&serial={quote(serial)}"),
        ask(served[0], "/-/events", **{"Last-Event-ID": serial.replace("\u0661", "x")}),
    ]

    assert [(each.status, each.body) for each in found] == [  # type: ignore[attr-defined]
        (400, b"A serial is a number of a few digits.\n")
    ] * 2


def test_more_windows_than_can_be_told_are_refused(served: tuple[int, Broadcaster]) -> None:
    """They see pages all the same; one that is closed makes room for another."""
    port, broadcaster = served
    with ExitStack() as windows:
        for _ in range(STREAMS):
            next(windows.enter_context(stream(port, "/-/events?page=/&serial=1")))
        refused = ask(port, "/-/events?page=/&serial=1")
        page = ask(port, "/").status
    _until(lambda: broadcaster.streams == 0)
    with stream(port, "/-/events?page=/&serial=1") as told:
        again = next(told)[0]

    assert (refused.status, refused.body) == (503, b"Too many windows are open.\n")  # type: ignore[attr-defined]
    assert (page, again) == (200, "1")


def test_windows_that_come_and_go_leave_nothing(served: tuple[int, Broadcaster]) -> None:
    """Neither files nor threads: a hundred page loads and streams, after as many before."""
    port, broadcaster = served

    def visits() -> tuple[int, int]:
        for _ in range(100):
            ask(port, "/")
            with stream(port, "/-/events?page=/&serial=1") as told:
                next(told)
        _until(lambda: broadcaster.streams == 0)
        _until(lambda: _open_files() <= before)
        # The second maker begins where the first is busy, which is not so in every hundred.
        return _open_files(), max(threading.active_count(), makers)

    ask(port, "/")  # so that the server's loop has begun
    before, makers = _open_files() + 1, threading.active_count() + MAKERS
    first = visits()

    assert visits() <= first


def _open_files() -> int:
    return len(os.listdir("/proc/self/fd"))  # noqa: PTH208 # counted, not read


def _until(there: Callable[[], bool]) -> None:
    """Wait for what the server does in its own time."""
    end = time.monotonic() + 30
    while not there():
        assert time.monotonic() < end
        time.sleep(0.01)
