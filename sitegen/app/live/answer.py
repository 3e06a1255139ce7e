"""What stands at a path of the preview, and what a browser is told about it.

In: `Shown` and the path of a request. Out: `Answer`; the data of an event. Pages come out of memory by their exact
address: no path of a request ever reaches the disk.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import blake2b
from http import HTTPStatus
from urllib.parse import quote

from sitegen.app.live.rebuild import Shown
from sitegen.core.addresses import HOME, NOT_FOUND
from sitegen.core.page import HTML, Page

__all__ = ["EVENTS", "SCRIPT", "Answer", "answer", "event_data"]

SCRIPT = "/-/live.js"
EVENTS = "/-/events"

_BARE = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title></head>
<body><main><h1>{title}</h1><p>{text}</p></main></body>
</html>
"""


@dataclass(frozen=True, slots=True)
class Answer:
    """A status, a media type and bytes."""

    status: HTTPStatus
    media: str
    body: bytes


def answer(shown: Shown, path: str) -> Answer:
    """What stands at a path: a page with the live script in it, or a file as it is."""
    page, status = _found(shown, path)
    if page.media == HTML:
        return Answer(status, HTML, _with_script(shown, page))
    try:
        return Answer(status, page.media, page.content)
    except OSError:  # a large file that was tidied away meanwhile; the next rebuild makes it again
        return Answer(HTTPStatus.NOT_FOUND, "text/plain", b"This file is not there any more.\n")


def _found(shown: Shown, path: str) -> tuple[Page, HTTPStatus]:
    address = path.removeprefix("/")
    if not address or address.endswith("/"):
        address += HOME
    if address in shown.pages:
        return shown.pages[address], HTTPStatus.OK
    if NOT_FOUND in shown.pages:
        return shown.pages[NOT_FOUND], HTTPStatus.NOT_FOUND
    return _bare(shown), HTTPStatus.SERVICE_UNAVAILABLE


def _bare(shown: Shown) -> Page:
    """What is shown where there are no pages at all."""
    title, text = (
        ("There are no pages yet", "What has to be mended first is said below.")
        if shown.serial
        else ("The pages are being made", "They appear here by themselves.")
    )
    return Page(HOME, HTML, _BARE.format(title=title, text=text))


def _digest(page: Page) -> str:
    return blake2b(page.content, digest_size=8).hexdigest()


def _with_script(shown: Shown, page: Page) -> bytes:
    """A page as it would be published, and the script that renews it."""
    tag = f'<script defer src="{SCRIPT}" data-shown="{_digest(page)}" data-serial="{shown.serial}"></script>'
    head, end, rest = page.content.partition(b"</head>")
    return head + tag.encode() + end + rest if end else tag.encode() + head


def event_data(shown: Shown, path: str, seen: int, *, follow: bool) -> str:
    """What a browser at a path is told: what its page is now, what is wrong, and where to go.

    `seen` is the serial of what the browser saw last: it is led to a page that was edited since, and not again.
    """
    page, _ = _found(shown, path)
    go = shown.edited if follow and shown.serial > seen else ""
    return json.dumps(
        {
            "shown": _digest(page),
            "trouble": shown.trouble,
            "unpublished": page.address in shown.unpublished,
            "go": quote(f"/{go}") if go in shown.pages else "",
        }
    )
