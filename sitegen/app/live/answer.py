"""What stands at a path of the preview, and what a browser is told about it.

In: `Shown` and the path of a request. Out: `Answer`; the data of an event. Pages are found by their exact address: no
path of a request ever reaches the disk.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from http import HTTPStatus
from urllib.parse import quote

from sitegen.app.live.rebuild import Shown, Stands
from sitegen.core.site.addresses import HOME, NOT_FOUND
from sitegen.core.site.page import HTML, Page

SCRIPT = "/-/live.js"
EVENTS = "/-/events"

_BARE = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title></head>
<body><main><h1>{title}</h1><p>{text}</p></main></body>
</html>
"""
# What is said where there is no page, with the key that stands for it.
_MAKING = ("making", "The pages are being made", "They appear here by themselves.")
_BROKEN = ("broken", "There is no page yet", "What has to be mended first is said below.")
_POLICY = re.compile(rb'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)"')


@dataclass(frozen=True, slots=True)
class Answer:
    """A status, a media type and bytes."""

    status: HTTPStatus
    media: str
    body: bytes


def answer(shown: Shown, path: str) -> Answer:
    """What stands at a path: a page with the live script in it, or a file as it is."""
    found, status = _found(shown, path)
    page = found.page if found is not None else None
    if page is None:
        _, title, text = _none(shown)
        page, status = Page(HOME, HTML, _BARE.format(title=title, text=text)), HTTPStatus.SERVICE_UNAVAILABLE
    if page.media == HTML:
        return Answer(status, HTML, _with_script(page.content, _state(shown, found), shown.serial))
    try:
        return Answer(status, page.media, page.content)
    except OSError:  # a large file that was tidied away meanwhile; the next rebuild makes it again
        return Answer(HTTPStatus.NOT_FOUND, "text/plain", b"This file is not there any more.\n")


def _found(shown: Shown, path: str) -> tuple[Stands | None, HTTPStatus]:
    address = _address(path)
    found = shown.site.find(address)
    if found is not None:
        return found, HTTPStatus.OK
    return shown.site.find(NOT_FOUND), HTTPStatus.NOT_FOUND


def _address(path: str) -> str:
    address = path.removeprefix("/")
    return address + HOME if not address or address.endswith("/") else address


def _none(shown: Shown) -> tuple[str, str, str]:
    return _BROKEN if shown.serial else _MAKING


def _state(shown: Shown, found: Stands | None) -> str:
    """What tells whether a page that a browser holds is what stands there now."""
    return found.state if found is not None else _none(shown)[0]


def _with_script(body: bytes, state: str, serial: int) -> bytes:
    """A page as it would be published, and the script that renews it."""
    tag = f'<script defer src="{SCRIPT}" data-shown="{state}" data-serial="{serial}"></script>'
    head, end, rest = _POLICY.sub(_allowed, body, count=1).partition(b"</head>")
    return head + tag.encode() + end + rest if end else tag.encode() + head


def _allowed(policy: re.Match[bytes]) -> bytes:
    """A page that loads nothing would not load the script either."""
    if b"script-src" in policy[2]:
        return policy[0]
    return policy[1] + policy[2] + b"; script-src 'self'; connect-src 'self'\""


def event_data(shown: Shown, path: str, seen: int, *, follow: bool) -> str:
    """What a browser at a path is told: what its page is now, what is wrong, and where to go.

    `seen` is the serial of what the browser saw last: it is led to a page that was edited since, and not again.
    """
    found, _ = _found(shown, path)
    go = shown.edited if follow and shown.serial > seen else ""
    return json.dumps(
        {
            "shown": _state(shown, found),
            "trouble": shown.trouble,
            "unpublished": shown.site.unpublished(_address(path)),
            "go": quote(f"/{go}") if go and shown.site.find(go) else "",
        }
    )
