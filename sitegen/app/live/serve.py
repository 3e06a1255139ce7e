"""The server: pages, the live script and the stream of events, to those who may ask.

In: a broadcaster, the names of this machine, the key. Out: an ASGI application.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Collection
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import aclosing, suppress
from functools import partial
from http import HTTPStatus
from importlib.resources import files
from typing import TypeVar

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp

from sitegen.app.live.answer import EVENTS, SCRIPT, Answer, answer, event_data
from sitegen.app.live.broadcast import Broadcaster
from sitegen.app.live.network.guard import HEADERS, LOCAL_NAMES, Guard, refusal
from sitegen.app.live.network.key import Key
from sitegen.app.live.rebuild import Version
from sitegen.core.site.page import HTML

_T = TypeVar("_T")
# Threads that make pages. They share one interpreter, and each keeps memory; the second is for what is asked for while a
# page is made that takes long.
MAKERS = 2
PATIENCE = 30.0  # seconds that a browser is kept waiting for the first look at a journal
RETRY = 1000  # milliseconds until a browser asks again after the stream broke off
STREAMS = 24  # windows that are told of changes at once; more are answered, and not told
SERIAL = 15  # digits at most
# What is no page runs nothing and loads nothing, wherever it is opened.
_FILE = {
    **HEADERS,
    "Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'self'",
}


def application(
    broadcaster: Broadcaster,
    names: Collection[str] = LOCAL_NAMES,
    key: Key | None = None,
    *,
    follow: bool = False,
    elsewhere: bool = False,
    say: Callable[[str], None] = lambda _problems: None,
) -> ASGIApp:
    """The application, behind its guard; `say` is told of problems that making a page has found.

    Whoever may be `elsewhere`, on another machine, is not told what stands in the author's files.
    """
    data = partial(event_data, follow=follow, elsewhere=elsewhere)
    makers = ThreadPoolExecutor(MAKERS, "makers")
    script = files(__package__).joinpath("live.js").read_bytes()

    async def live_script(_: Request) -> Response:
        return Response(script, media_type="text/javascript", headers=HEADERS)

    async def events(request: Request) -> Response:
        if request.method == "HEAD":
            return Response(media_type="text/event-stream", headers=HEADERS)
        path, seen = request.query_params.get("page", "/"), _seen(request)
        if seen is None:
            return refusal(HTTPStatus.BAD_REQUEST, "A serial is a number of a few digits.\n")
        if broadcaster.streams >= STREAMS:
            return refusal(
                HTTPStatus.SERVICE_UNAVAILABLE, "Too many windows are open.\n", [("Retry-After", "10")]
            )
        return StreamingResponse(
            _events(broadcaster, makers, path, seen, data), media_type="text/event-stream", headers=HEADERS
        )

    async def page(request: Request) -> Response:
        path = request.scope["path"]
        version = await broadcaster.first(PATIENCE)
        found = await _in(makers, partial(_answered, broadcaster, version, path, say))
        headers = HEADERS if found.media == HTML else _FILE
        return Response(found.body, found.status, media_type=found.media, headers=headers)

    routes = [Route(SCRIPT, live_script), Route(EVENTS, events), Route("/{path:path}", page)]
    return Guard(Starlette(routes=routes), names, key)


def _seen(request: Request) -> int | None:
    """The serial that a browser has seen; None where what it says is none."""
    # Of its page, or of the last event before the stream broke off: a browser repeats that id by itself.
    text = request.headers.get("last-event-id") or request.query_params.get("serial") or "0"
    return int(text) if text.isascii() and text.isdigit() and len(text) <= SERIAL else None


async def _events(
    broadcaster: Broadcaster, makers: Executor, path: str, seen: int, data_of: Callable[..., str]
) -> AsyncIterator[str]:
    yield f"retry: {RETRY}\n\n"
    told = ""
    async with aclosing(broadcaster.stream()) as versions:  # a window that is closed is not waited for
        async for version in versions:
            # In a thread: it may make a page, and other requests are answered meanwhile.
            data = await _in(makers, partial(data_of, version, path, seen))
            if data != told:
                yield f"id: {version.serial}\ndata: {data}\n\n"
            seen, told = version.serial, data


async def _in(makers: Executor, work: Callable[[], _T]) -> _T:
    return await asyncio.get_running_loop().run_in_executor(makers, work)


def _answered(broadcaster: Broadcaster, version: Version, path: str, say: Callable[[str], None]) -> Answer:
    # Making a page may find an error, or find it gone: every open window is told, not only the one that asked.
    before = version.problems
    found = answer(version, path)
    if version.problems != before and not broadcaster.closed:  # at the end, work is broken off
        broadcaster.wake()
        if version.problems:
            with suppress(OSError):  # the terminal is gone: the page is answered all the same
                say(version.problems.rstrip("\n"))
    return found
