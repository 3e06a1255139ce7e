"""Who is answered: what of a request is looked at before anything else reads it."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from typing import Any

import pytest
from starlette.responses import PlainTextResponse

from sitegen.app.live.network.guard import (
    LOCAL_NAMES,
    MOST_ADDRESS,
    MOST_HEADER_BYTES,
    MOST_HEADERS,
    Guard,
    host_allowed,
)
from sitegen.app.live.network.key import REFUSED, Key

HOST = (b"host", b"localhost:4180")
KEY = Key(4180, "the-key-of-this-test")


def asked(
    path: str = "/",
    headers: Iterable[tuple[bytes, bytes]] = (HOST,),
    *,
    method: str = "GET",
    query: str = "",
    key: Key | None = None,
    server: str = "127.0.0.1",
) -> tuple[int, str, dict[str, str]]:
    """Status, text and headers of the answer to a request; `in` where it was let in."""
    told: list[Any] = []
    scope = {
        "type": "http",
        "method": method,
        "path": path,
        "raw_path": path.encode(),
        "query_string": query.encode(),
        "headers": list(headers),
        "server": (server, 4180),
    }

    async def send(message: Any) -> None:
        told.append(message)

    async def receive() -> Any:
        return {"type": "http.request"}

    asyncio.run(Guard(PlainTextResponse("in"), LOCAL_NAMES, key)(scope, receive, send))
    found = {name.decode(): value.decode() for name, value in told[0]["headers"]}
    return told[0]["status"], told[1]["body"].decode(), found


@pytest.mark.parametrize(
    ("host", "allowed"),
    [
        ("127.0.0.1", True),
        ("127.0.0.1:4180", True),
        ("LocalHost:4180", True),
        ("localhost.", True),
        ("[::1]", True),
        ("[::1]:4180", True),
        ("[0:0:0:0:0:0:0:1]:4180", True),
        ("bench.example:4180", False),
        ("localhost.bench.example", False),
        ("127.0.0.1.bench.example:4180", False),
        ("127.0.0.1@bench.example", False),
        ("192.0.2.7:4180", False),
        ("localhost:port", False),
        ("localhost:418000", False),
        ("localhost:\u0664", False),
        ("", False),
        ("0x7f000001", False),
        ("2130706433", False),
    ],
)
def test_only_names_of_this_machine_are_answered(host: str, *, allowed: bool) -> None:
    """A name of another site that was made to lead here (DNS rebinding) is not one of ours."""
    assert host_allowed(host, LOCAL_NAMES) is allowed


@pytest.mark.parametrize(
    ("host", "server", "status"),
    [
        ("192.0.2.7:4180", "192.0.2.7", 200),
        ("192.0.2.7", "192.0.2.7", 200),
        ("192.0.2.8:4180", "192.0.2.7", 403),
        ("[2001:db8::7]:4180", "2001:db8::7", 200),
        ("evil.example", "192.0.2.7", 403),
    ],
)
def test_an_address_is_answered_where_it_is_the_one_that_was_asked(
    host: str, server: str, status: int
) -> None:
    """A bare address is no name that could lead elsewhere; one that is not ours has no business here."""
    assert asked(headers=[(b"host", host.encode())], server=server)[0] == status


@pytest.mark.parametrize(
    ("origin", "status"),
    [
        ("http://localhost:4180", 200),
        ("HTTP://LOCALHOST:4180", 200),
        ("http://localhost:4181", 403),
        ("https://localhost:4180", 403),
        ("http://evil.example", 403),
        ("null", 403),
        ("", 403),
    ],
)
def test_a_request_from_another_site_is_refused(origin: str, status: int) -> None:
    """Another port and another scheme are another site, and so is a sandboxed page (`null`)."""
    assert asked(headers=[HOST, (b"origin", origin.encode())])[0] == status


@pytest.mark.parametrize(
    ("site", "mode", "status"),
    [
        ("none", "navigate", 200),
        ("same-origin", "no-cors", 200),
        ("cross-site", "navigate", 200),
        ("cross-site", "no-cors", 403),
        ("same-site", "cors", 403),
        ("cross-site", "websocket", 403),
    ],
)
def test_nothing_is_lent_to_a_page_of_another_site(site: str, mode: str, status: int) -> None:
    """A link that is followed shows a page; a picture, script or request of another site gets nothing."""
    headers = [HOST, (b"sec-fetch-site", site.encode()), (b"sec-fetch-mode", mode.encode())]

    assert asked(headers=headers)[0] == status


@pytest.mark.parametrize(
    ("name", "value", "status"),
    [
        (b"content-length", b"0", 200),
        (b"content-length", b"1", 400),
        (b"content-length", b"99999999999999999999", 400),
        (b"transfer-encoding", b"chunked", 400),
    ],
)
def test_a_request_with_a_body_is_refused(name: bytes, value: bytes, status: int) -> None:
    """Reading needs none; the connection is closed, so that it is not read either."""
    found = asked(headers=[HOST, (name, value)])

    assert found[0] == status
    if status == 400:
        assert found[1] == "A preview is only read: a request has no body.\n"
        assert found[2]["connection"] == "close"


def test_requests_are_bounded() -> None:
    """An address, a number of headers and their bytes: the last that are taken, and the first that are not."""
    room = MOST_HEADER_BYTES - sum(map(len, HOST))
    found = [
        asked("/" + "a" * (MOST_ADDRESS - 1)),
        asked("/" + "a" * (MOST_ADDRESS - 1), query="b"),
        asked(headers=[HOST] + [(b"x", b"1")] * (MOST_HEADERS - 1)),
        asked(headers=[HOST] + [(b"x", b"1")] * MOST_HEADERS),
        asked(headers=[HOST, (b"x", b"1" * (room - 1))]),
        asked(headers=[HOST, (b"x", b"1" * room)]),
    ]

    assert [each[0] for each in found] == [200, 414, 200, 431, 200, 431]


# the key


def cookie(text: str) -> list[tuple[bytes, bytes]]:
    """Headers with a cookie."""
    return [HOST, (b"cookie", text.encode())]


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/-/events",
        "/-/live.js",
        "/assets/style.css",
        "/data/find.json",
        "/data/leaf/log.csv",
        "/nothing",
    ],
)
@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.parametrize(
    ("query", "headers"),
    [
        ("", [HOST]),
        ("key=", [HOST]),
        ("key=the-key-of-this-tes", [HOST]),
        ("key=the-key-of-this-test2", [HOST]),
        ("key=THE-KEY-OF-THIS-TEST", [HOST]),
        ("Key=the-key-of-this-test", [HOST]),
        ("key=%ff%fe", [HOST]),
        ("key=\u00e9", [HOST]),
        ("", cookie("sitegen-4180=")),
        ("", cookie("sitegen-4180=wrong")),
        ("", cookie("sitegen-4181=the-key-of-this-test")),
        ("", cookie("key=the-key-of-this-test")),
        ("", cookie("sitegen-4180=\u00e9")),
        (
            "",
            [HOST, (b"authorization", b"the-key-of-this-test"), (b"referer", b"/?key=the-key-of-this-test")],
        ),
    ],
)
def test_without_the_key_everything_is_refused(
    path: str, method: str, query: str, headers: list[tuple[bytes, bytes]]
) -> None:
    """Pages, styles, events, the index of the search, downloads, and what is not there: one short text for all."""
    status, text, found = asked(path, headers, method=method, query=query, key=KEY)

    assert (status, text) == (403, REFUSED)
    assert "set-cookie" not in found


def test_with_the_cookie_everything_is_answered() -> None:
    """Among other cookies, and though another of the same name is there."""
    found = [
        asked("/a", cookie(text), key=KEY)[:2]
        for text in (
            "sitegen-4180=the-key-of-this-test",
            "a=b;sitegen-4180=the-key-of-this-test; c",
            "sitegen-4180=old; sitegen-4180=the-key-of-this-test",
        )
    ]

    assert found == [(200, "in")] * 3


@pytest.mark.parametrize(
    ("path", "query", "address"),
    [
        ("/", "key=the-key-of-this-test", "/"),
        ("/experiments/leaf.html", "key=the-key-of-this-test", "/experiments/leaf.html"),
        ("/compare.html", "crop=leaf&key=the-key-of-this-test&x=%26", "/compare.html?crop=leaf&amp;x=%26"),
        ("//evil.example/", "key=the-key-of-this-test", "/evil.example/"),
        ("/\\evil.example", "key=the-key-of-this-test", "/%5Cevil.example"),
        ('/"><script>', "key=the-key-of-this-test", "/%22%3E%3Cscript%3E"),
        ("/a\r\nb", "key=the-key-of-this-test", "/a%0D%0Ab"),
    ],
)
def test_a_first_visit_moves_on_without_the_key(path: str, query: str, address: str) -> None:
    """With a cookie that scripts cannot read and other sites cannot use; to a path of this site, whatever was asked."""
    status, text, found = asked(path, query=query, key=KEY)

    assert status == 200
    assert f'<meta http-equiv="refresh" content="0; url={address}">' in text
    assert "the-key" not in text
    assert found["set-cookie"] == "sitegen-4180=the-key-of-this-test; HttpOnly; Path=/; SameSite=strict"
    assert (found["referrer-policy"], found["cache-control"]) == ("no-referrer", "no-store")


def test_a_foreign_name_is_refused_with_the_key_too() -> None:
    """A page of another site that leads here has not been given it, and gets no cookie."""
    status, _, found = asked(headers=[(b"host", b"evil.example")], query="key=the-key-of-this-test", key=KEY)

    assert status == 403
    assert "set-cookie" not in found


def test_a_key_is_new_at_each_start_and_long_enough() -> None:
    """16 bytes of the system's randomness are 128 bits: 22 signs of Base64 (RFC 4648)."""
    keys = {Key(4180).value for _ in range(100)}

    assert len(keys) == 100
    assert {len(key) for key in keys} == {22}
