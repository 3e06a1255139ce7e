"""How long a connection may take, over real connections to a server in this process."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from typing import cast

import pytest

from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.network.connections import MOST_FROM_ONE, BoundedProtocol
from sitegen.app.live.network.listen import listen
from sitegen.app.live.rebuild import Version
from sitegen.app.live.serve import application
from sitegen.app.live.session import serving
from sitegen.core.site.page import HTML, Page
from sitegen.pipeline.preview import Preview
from tests.app.live.fixed import FixedSite

# More than the system keeps for a reader that does not read.
LARGE = Page("large.css", "text/css", "p{}" * 5_000_000)
SITE = cast("Preview", FixedSite((Page("index.html", HTML, "<head></head>1"), LARGE)))
HEAD = b"GET / HTTP/1.1\r\nHost: localhost\r\n"


@pytest.fixture
def port(monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """A server that waits half a second."""
    monkeypatch.setattr(BoundedProtocol, "head_time", 0.5)
    monkeypatch.setattr(BoundedProtocol, "sent_time", 0.5)
    broadcaster = Broadcaster()
    broadcaster.publish(Version(1, SITE))
    place = listen("127.0.0.1", 0, lambda _: None)
    with serving(application(broadcaster), place.bound, broadcaster):
        yield place.port


def linked(port: int) -> socket.socket:
    """A connection."""
    return socket.create_connection(("127.0.0.1", port), timeout=30)


def rest(link: socket.socket) -> bytes:
    """All that comes until the end."""
    found = b""
    with suppress(ConnectionResetError):
        while part := link.recv(1 << 20):
            found += part
    return found


@pytest.mark.parametrize("sent", [b"", b"G", HEAD, HEAD + b"X: 1\r\n"], ids=["nothing", "G", "half", "more"])
def test_a_head_that_does_not_end_ends_the_connection(port: int, sent: bytes) -> None:
    """Without an answer, whatever has come of it."""
    with linked(port) as link:
        link.sendall(sent)

        assert rest(link) == b""


def test_a_head_that_comes_in_drops_ends_the_connection(port: int) -> None:
    """A header a moment does not prolong the time."""
    with linked(port) as link:
        link.sendall(HEAD)
        sent = 0
        with suppress(ConnectionError):
            for sent in range(300):
                link.sendall(b"X-%d: 1\r\n" % sent)
                time.sleep(0.1)

    assert sent < 299


def test_a_connection_that_is_kept_is_bounded_for_each_request(port: int) -> None:
    """The second request of a connection has its own time: half of a head ends it."""
    with linked(port) as link:
        link.sendall(HEAD + b"\r\n")
        first = link.recv(65536)
        link.sendall(HEAD)
        end = rest(link)

    assert first.startswith(b"HTTP/1.1 200 OK\r\n")
    assert b"HTTP/1.1" not in end


def test_whoever_does_not_read_is_left(port: int) -> None:
    """A file that is asked for and not taken does not stay in memory; the connection is reset."""
    with linked(port) as link:
        link.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        link.sendall(b"GET /large.css HTTP/1.1\r\nHost: localhost\r\n\r\n")
        time.sleep(2)
        found = rest(link)

    assert len(found) < len(LARGE.content)


def test_a_large_file_that_is_read_comes_whole(port: int) -> None:
    """The time is for a reader that takes nothing, not for the whole of it."""
    with linked(port) as link:
        link.sendall(b"GET /large.css HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
        body = rest(link).partition(b"\r\n\r\n")[2]

    assert body == LARGE.content


def test_connections_from_one_machine_are_bounded(port: int) -> None:
    """One more than its part is closed at once; another machine (here: another address) is answered."""
    with ExitStack() as links:
        mine = [links.enter_context(linked(port)) for _ in range(MOST_FROM_ONE)]
        more = links.enter_context(linked(port))
        closed = rest(more)
        other = socket.create_connection(("127.0.0.1", port), timeout=30, source_address=("127.0.0.2", 0))
        links.enter_context(other)
        other.sendall(HEAD + b"\r\n")
        answered = other.recv(65536)
        mine[0].sendall(HEAD + b"\r\n")

        assert closed == b""
        assert answered.startswith(b"HTTP/1.1 200 OK\r\n")


@pytest.mark.parametrize(
    "sent",
    [
        b"\x16\x03\x01\x02\x00\x01\x00\x01",
        b"GET / HTTP/9.9\r\n\r\n",
        b"GET /\xff HTTP/1.1\r\nHost: localhost\r\n\r\n",
        b"GET\0/ HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: localhost\r\nX: a\0b\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost : localhost\r\n\r\n",
        b"GET http://evil.example/ HTTP/1.1\r\nHost: evil.example\r\n\r\n",
        b"CONNECT evil.example:80 HTTP/1.1\r\nHost: evil.example\r\n\r\n",
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
        b"A" * 200_000,
        HEAD + b"X: " + b"1" * 200_000 + b"\r\n\r\n",
        HEAD + b"Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
        HEAD + b"Upgrade: websocket\r\nConnection: Upgrade\r\nContent-Length: 1\r\n\r\n",
        HEAD + b"Expect: 100-continue\r\nContent-Length: 9999999\r\n\r\n" + b"x" * 100_000,
    ],
)
def test_what_is_no_request_is_refused_without_a_word_on_the_terminal(
    port: int, sent: bytes, capfd: pytest.CaptureFixture[str]
) -> None:
    """With a status of 4.. or by closing; the connection ends, and the server says neither its name nor a traceback."""
    with linked(port) as link:
        with suppress(ConnectionError):
            link.sendall(sent)
        found = rest(link)

    assert found == b"" or found[9:10] == b"4"
    assert b"server:" not in found.lower()
    assert capfd.readouterr() == ("", "")
