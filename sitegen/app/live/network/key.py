"""The key of a preview that others in the network can reach: who has it sees the pages, nobody else does.

In: requests. Out: whether they have the key; the cookie and the page that a first visit is answered with.

The key comes in the address (`/?key=…`), which a phone reads off the terminal. The first visit is answered with a
cookie and a page that moves on to the same address without the key: so it stands in no address that is looked at,
shared, kept as a bookmark or told to another site. A folder of that name before each path would stand in all of these.
"""

from __future__ import annotations

import hmac
import html
import secrets
from collections.abc import Iterator
from http import HTTPStatus
from urllib.parse import parse_qsl, quote, urlencode

from starlette.datastructures import MutableHeaders
from starlette.responses import HTMLResponse, Response
from starlette.types import Scope

BYTES = 16  # 128 bits
FIELD = "key"
REFUSED = (
    "This preview is shown to whoever has its whole address, with the key that `sitegen live` has printed."
    " The key is another one at each start.\n"
)
# No redirect: where a link in a message of another site was followed, the browser would not send the cookie with the
# request that it is redirected to. What this page leads to is asked for by this site itself.
_MOVES_ON = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="refresh" content="0; url={address}"><title>Preview</title></head>
<body><p><a href="{address}">To the preview</a></p></body>
</html>
"""


class Key:
    """The key of one start, and the cookie that stands for it."""

    def __init__(self, port: int, value: str = "") -> None:
        self.value = value or secrets.token_urlsafe(BYTES)
        # Browsers tell cookies of one address to all of its ports: previews side by side have each their own.
        self._cookie = f"sitegen-{port}"

    @property
    def query(self) -> str:
        """What follows the address of a page for a first visit."""
        return f"?{FIELD}={self.value}"

    def known_by(self, scope: Scope) -> bool:
        """Whether a request comes with the cookie."""
        return True in [self._is(value) for value in _cookies(scope, self._cookie)]

    def welcome(self, scope: Scope) -> Response | None:
        """The answer to a first visit; None to a request without the key in its address."""
        fields = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        if True not in [self._is(value) for name, value in fields if name == FIELD]:
            return None
        rest = urlencode([(name, value) for name, value in fields if name != FIELD])
        # One slash: two at the beginning would lead to another site.
        address = quote(f"/{scope['path'].lstrip('/')}") + (f"?{rest}" if rest else "")
        response = HTMLResponse(_MOVES_ON.format(address=html.escape(address)), HTTPStatus.OK)
        response.set_cookie(self._cookie, self.value, httponly=True, samesite="strict")
        return response

    def _is(self, value: str) -> bool:
        # Takes as long wherever the first difference is.
        return hmac.compare_digest(value.encode("utf-8", "replace"), self.value.encode())


def _cookies(scope: Scope, wanted: str) -> Iterator[str]:
    for name, header in scope["headers"]:
        if name == b"cookie":
            for pair in header.decode("latin-1").split(";"):
                cookie, _, value = pair.strip().partition("=")
                if cookie == wanted:
                    yield value


def with_headers(response: Response, headers: dict[str, str]) -> Response:
    """A response with some headers more."""
    MutableHeaders(raw=response.raw_headers).update(headers)
    return response
