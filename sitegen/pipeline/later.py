"""Pages that are made when one of them is asked for.

In: their addresses, a function that makes them. Out: `Page`s whose body calls it, once for all of them.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import PurePosixPath

from sitegen.core.page import HTML, Page

__all__ = ["later"]

_MEDIA = {
    ".html": HTML,
    ".json": "application/json",
    ".xml": "application/xml",
    ".js": "text/javascript",
    ".csv": "text/csv",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
}
_GONE = b"This page could not be made. Save its file again to see why.\n"


def later(addresses: Iterable[str], make: Callable[[], Iterable[Page]]) -> tuple[Page, ...]:
    """Pages at these addresses; threads may ask for them at the same time."""
    unit = _Unit(make)
    return tuple(Page(address, _media(address), partial(unit.body, address)) for address in addresses)


class _Unit:
    """What is made together."""

    def __init__(self, make: Callable[[], Iterable[Page]]) -> None:
        self._make = make
        self._lock = threading.Lock()
        self._pages: dict[str, Page] | None = None

    def body(self, address: str) -> bytes:
        """The bytes of one page."""
        with self._lock:
            if self._pages is None:
                self._pages = {page.address: page for page in self._make()}
        page = self._pages.get(address)
        return _GONE if page is None else page.content


def _media(address: str) -> str:
    return _MEDIA.get(PurePosixPath(address).suffix, "application/octet-stream")
