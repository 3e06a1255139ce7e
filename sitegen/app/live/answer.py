"""The answer to a request, and the data of an event.

In: `Version` and the path of a request. Out: `Answer`; JSON. Pages are found by their exact address: no path of a request
ever reaches the disk.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from http import HTTPStatus
from urllib.parse import quote

from sitegen.app.live.rebuild import Version
from sitegen.core.site.addresses import HOME, NOT_FOUND
from sitegen.core.site.page import HTML, Page
from sitegen.pipeline.preview import Found

SCRIPT = "/-/live.js"
EVENTS = "/-/events"

_BARE = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title></head>
<body><main><h1>{title}</h1><p>{text}</p></main></body>
</html>
"""
# Where there is no page: the state that stands for it, a title and a text.
_MAKING = ("making", "The pages are being made", "They appear here by themselves.")
_BROKEN = ("broken", "There is no page yet", "What has to be mended first is said below.")
_POLICY = re.compile(rb'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)"')


@dataclass(frozen=True, slots=True)
class Answer:
    """A status, a media type and bytes."""

    status: HTTPStatus
    media: str
    body: bytes


def answer(version: Version, path: str) -> Answer:
    """What stands at a path: a page with the live script in it, or a file as it is."""
    found, status = _found(version, path)
    page = found.page if found is not None else None
    if page is None:
        _, title, text = _placeholder(version)
        page, status = Page(HOME, HTML, _BARE.format(title=title, text=text)), HTTPStatus.SERVICE_UNAVAILABLE
    if page.media == HTML:
        return Answer(status, HTML, _with_script(page.content, _state(version, found), version.serial))
    try:
        return Answer(status, page.media, page.content)
    except OSError:  # a large file that was tidied away meanwhile; the next rebuild makes it again
        return Answer(HTTPStatus.NOT_FOUND, "text/plain", b"This file is not there any more.\n")


def _found(version: Version, path: str) -> tuple[Found | None, HTTPStatus]:
    address = _address(path)
    found = version.site.find(address)
    if found is not None:
        return found, HTTPStatus.OK
    return version.site.find(NOT_FOUND), HTTPStatus.NOT_FOUND


def _address(path: str) -> str:
    address = path.removeprefix("/")
    return address + HOME if not address or address.endswith("/") else address


def _placeholder(version: Version) -> tuple[str, str, str]:
    return _BROKEN if version.serial else _MAKING


def _state(version: Version, found: Found | None) -> str:
    # Asked for after the page, which is made meanwhile: then it is the state of that page, and not of the one before.
    return found.state if found is not None else _placeholder(version)[0]


def _with_script(body: bytes, state: str, serial: int) -> bytes:
    """A page as it would be published, and the script that renews it."""
    tag = f'<script defer src="{SCRIPT}" data-shown="{state}" data-serial="{serial}"></script>'
    head, end, rest = _POLICY.sub(_allowed, body, count=1).partition(b"</head>")
    return head + tag.encode() + end + rest if end else tag.encode() + head


def _allowed(policy: re.Match[bytes]) -> bytes:
    # The policy of a page that loads nothing would keep it from loading the script.
    if b"script-src" in policy[2]:
        return policy[0]
    return policy[1] + policy[2] + b"; script-src 'self'; connect-src 'self'\""


def event_data(version: Version, path: str, seen: int, *, follow: bool, elsewhere: bool = False) -> str:
    """What a browser at a path is told: what its page is now, what is wrong, and where to go.

    A browser that may be `elsewhere`, on another machine, is told where something is wrong, and nothing out of a file.
    `seen` is the serial of what the browser saw last: it is led to a page that was edited since, and not again.
    """
    found, _ = _found(version, path)
    go = version.edited if follow and version.serial > seen else ""
    return json.dumps(
        {
            "shown": _state(version, found),
            "trouble": version.places if elsewhere else version.problems,
            "unpublished": version.site.unpublished(_address(path)),
            "go": quote(f"/{go}") if go and version.site.find(go) else "",
        }
    )
