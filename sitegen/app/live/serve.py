"""The server: pages, the live script and the stream of events, to those who may ask.

In: a broadcaster, the host that it listens at. Out: an ASGI application, which answers GET and HEAD only.
"""

from __future__ import annotations

import asyncio
import ipaddress
import socket
from collections.abc import AsyncIterator, Callable, Collection
from http import HTTPStatus
from importlib.resources import files

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from sitegen.app.live.answer import EVENTS, SCRIPT, Answer, answer, event_data
from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.listen import is_loopback
from sitegen.app.live.rebuild import Version

LOCAL_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})
METHODS = frozenset({"GET", "HEAD"})
PATIENCE = 30.0  # seconds that a browser is kept waiting for the first look at a journal
RETRY = 1000  # milliseconds until a browser asks again after the stream broke off
HEADERS = {
    "Cache-Control": "no-store",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "SAMEORIGIN",
}


def application(
    broadcaster: Broadcaster,
    host: str = "127.0.0.1",
    *,
    follow: bool = False,
    say: Callable[[str], None] = lambda _problems: None,
) -> ASGIApp:
    """The application, behind its guard; `say` is told of problems that making a page has found."""
    script = files(__package__).joinpath("live.js").read_bytes()

    async def live_script(_: Request) -> Response:
        return Response(script, media_type="text/javascript", headers=HEADERS)

    async def events(request: Request) -> Response:
        if request.method == "HEAD":
            return Response(media_type="text/event-stream", headers=HEADERS)
        path, seen = request.query_params.get("page", "/"), _seen(request)
        return StreamingResponse(
            _events(broadcaster, path, seen, follow), media_type="text/event-stream", headers=HEADERS
        )

    async def page(request: Request) -> Response:
        path = request.scope["path"]
        version = await broadcaster.first(PATIENCE)
        found = await asyncio.to_thread(_answered, broadcaster, version, path, say)
        return Response(found.body, found.status, media_type=found.media, headers=HEADERS)

    routes = [Route(SCRIPT, live_script), Route(EVENTS, events), Route("/{path:path}", page)]
    names = LOCAL_NAMES | {host.lower()}
    if not is_loopback(host):
        machine = socket.gethostname().lower()
        names |= {machine, f"{machine}.local"}
    return _Guard(Starlette(routes=routes), names, any_address=not is_loopback(host))


def _seen(request: Request) -> int:
    # Of its page, or of the last event before the stream broke off: a browser repeats that id by itself.
    text = request.headers.get("last-event-id") or request.query_params.get("serial", "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0


async def _events(broadcaster: Broadcaster, path: str, seen: int, follow: bool) -> AsyncIterator[str]:
    yield f"retry: {RETRY}\n\n"
    told = ""
    async for version in broadcaster.stream():
        # In a thread: it may make a page, and other requests are answered meanwhile.
        data = await asyncio.to_thread(event_data, version, path, seen, follow=follow)
        if data != told:
            yield f"id: {version.serial}\ndata: {data}\n\n"
        seen, told = version.serial, data


def _answered(broadcaster: Broadcaster, version: Version, path: str, say: Callable[[str], None]) -> Answer:
    # Making a page may find an error, or find it gone: every open window is told, not only the one that asked.
    before = version.problems
    found = answer(version, path)
    if version.problems != before:
        broadcaster.wake()
        if version.problems:
            say(version.problems.rstrip("\n"))
    return found


class _Guard:
    """Refuses requests that do not belong here."""

    # Around the application, not one of its routes: what is refused reaches no code that reads a path.

    def __init__(self, inner: ASGIApp, names: Collection[str], *, any_address: bool) -> None:
        self._inner = inner
        self._names = names
        self._any_address = any_address

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        refusal = self._refusal(scope) if scope["type"] == "http" else None
        await (refusal or self._inner)(scope, receive, send)

    def _refusal(self, scope: Scope) -> Response | None:
        hosts = [value.decode("latin-1") for name, value in scope["headers"] if name == b"host"]
        if len(hosts) != 1 or not host_allowed(hosts[0], self._names, any_address=self._any_address):
            return PlainTextResponse(
                "This preview does not answer to that name.\n", HTTPStatus.FORBIDDEN, HEADERS
            )
        if scope["method"] not in METHODS:
            headers = {**HEADERS, "Allow": ", ".join(sorted(METHODS))}
            return PlainTextResponse("A preview is only read.\n", HTTPStatus.METHOD_NOT_ALLOWED, headers)
        return None


def host_allowed(header: str, names: Collection[str], *, any_address: bool = False) -> bool:
    """Whether a Host header names this server."""
    # A page of another site can make its own name lead to this machine, and would then be read as the same site (DNS
    # rebinding); its name is not one of ours. A bare address cannot be made to lead elsewhere.
    name, _, port = header.rpartition(":") if not header.endswith("]") and ":" in header else (header, "", "")
    if port and not port.isdigit():
        return False
    name = name.removeprefix("[").removesuffix("]").lower().rstrip(".")
    return name in names or (any_address and _is_address(name))


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
