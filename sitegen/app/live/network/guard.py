"""Who is answered: requests of a bounded size, to a name of this machine, not from another site, with the key.

In: the head of a request. Out: the request handed on, or a refusal in a line of text. What is refused reaches no code
that reads a path.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Collection, Iterable, Iterator
from http import HTTPStatus

from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from sitegen.app.live.network.key import REFUSED, Key, with_headers

LOCAL_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})
METHODS = frozenset({"GET", "HEAD"})
# RFC 9110, 4.1: at least 8,000 bytes of an address are supported. Browsers send some 20 headers in 2 KB.
MOST_ADDRESS, MOST_HEADERS, MOST_HEADER_BYTES = 8192, 64, 16384
HEADERS = {
    "Cache-Control": "no-store",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "SAMEORIGIN",
    # A page says its own policy, as it will be published; this is what it cannot say for itself.
    "Content-Security-Policy": "frame-ancestors 'self'",
}
_LOCAL_SITES = frozenset({"same-origin", "none"})  # `none`: typed, a bookmark, read off a picture
_PORT = 5  # digits at most


class Guard:
    """Refuses requests that do not belong here."""

    def __init__(self, inner: ASGIApp, names: Collection[str], key: Key | None = None) -> None:
        self._inner = inner
        self._names = names
        self._key = key

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        answer = self._answer(scope) if scope["type"] == "http" else None
        await (answer or self._inner)(scope, receive, send)

    def _answer(self, scope: Scope) -> Response | None:
        """A refusal, or the welcome of a first visit; None for a request that is answered by the site."""
        refused = _oversized(scope) or self._foreign(scope) or _no_reading(scope)
        if refused is not None or self._key is None:
            return refused
        if (welcome := self._key.welcome(scope)) is not None:
            return with_headers(welcome, HEADERS)
        return None if self._key.known_by(scope) else refusal(HTTPStatus.FORBIDDEN, REFUSED)

    def _foreign(self, scope: Scope) -> Response | None:
        hosts, origins = list(_values(scope, b"host")), list(_values(scope, b"origin"))
        # A bare address cannot be made to lead elsewhere, but it has to be the one that was asked.
        names = {*self._names, str((scope.get("server") or ("",))[0]).lower()}
        if len(hosts) != 1 or not host_allowed(hosts[0], names):
            return refusal(HTTPStatus.FORBIDDEN, "This preview does not answer to that name.\n")
        if any(origin.lower() != f"http://{hosts[0].lower()}" for origin in origins) or _lent(scope):
            return refusal(HTTPStatus.FORBIDDEN, "This preview does not answer to other sites.\n")
        return None


def refusal(status: HTTPStatus, text: str, headers: Iterable[tuple[str, str]] = ()) -> Response:
    """A line of text, after which the connection is closed: what else comes over it is not read."""
    return PlainTextResponse(text, status, {**HEADERS, "Connection": "close", **dict(headers)})


def _values(scope: Scope, wanted: bytes) -> Iterator[str]:
    return (value.decode("latin-1") for name, value in scope["headers"] if name == wanted)


def _oversized(scope: Scope) -> Response | None:
    if len(scope["raw_path"]) + len(scope["query_string"]) > MOST_ADDRESS:
        return refusal(HTTPStatus.REQUEST_URI_TOO_LONG, "That address is too long.\n")
    size = sum(len(name) + len(value) for name, value in scope["headers"])
    if len(scope["headers"]) > MOST_HEADERS or size > MOST_HEADER_BYTES:
        return refusal(HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE, "Those are too many headers.\n")
    return None


def _no_reading(scope: Scope) -> Response | None:
    """A refusal of whatever is more than reading."""
    if scope["method"] not in METHODS:
        allowed = ("Allow", ", ".join(sorted(METHODS)))
        return refusal(HTTPStatus.METHOD_NOT_ALLOWED, "A preview is only read.\n", [allowed])
    if any(value != "0" for value in _values(scope, b"content-length")) or any(
        _values(scope, b"transfer-encoding")
    ):
        return refusal(HTTPStatus.BAD_REQUEST, "A preview is only read: a request has no body.\n")
    return None


def _lent(scope: Scope) -> bool:
    """Whether a page of another site asks for a part of its own; a link that is followed is no such thing."""
    # Fetch Metadata (W3C): told to addresses of this machine, not to others in the network, where the cookie stays away.
    sites, modes = set(_values(scope, b"sec-fetch-site")), set(_values(scope, b"sec-fetch-mode"))
    return not sites <= _LOCAL_SITES and modes != {"navigate"}


def host_allowed(header: str, names: Collection[str]) -> bool:
    """Whether a Host header names this server."""
    # A page of another site can make its own name lead to this machine, and would then be read as the same site (DNS
    # rebinding); its name is not one of ours.
    name, _, port = header.rpartition(":") if not header.endswith("]") and ":" in header else (header, "", "")
    if port and not (port.isascii() and port.isdigit() and len(port) <= _PORT):
        return False
    bare = name.removeprefix("[").removesuffix("]") if name.startswith("[") else name
    return _canonical(bare.lower().removesuffix(".")) in names


def _canonical(name: str) -> str:
    """An address as Python writes it; a name as it is."""
    try:
        return str(ipaddress.ip_address(name))
    except ValueError:
        return name
