"""Pages that are made together, when one of them is asked for.

In: what they are made from, a function that makes them. Out: `Unit`; `Units` holds the latest of each name. Threads may
ask at the same time: one makes, the others wait. What cannot be made is as it last was.
"""

from __future__ import annotations

import threading
import traceback
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from sitegen.core.findings.finding import Finding
from sitegen.core.site.page import HTML, Page

MOST = 60  # units whose pages are held; a page with its charts is some 300 KB


@dataclass(frozen=True, slots=True)
class Batch:
    """Pages as they were made, what was found meanwhile, and where the assets that they link to stood, by name."""

    pages: tuple[Page, ...] = ()
    findings: tuple[Finding, ...] = ()
    assets: Mapping[str, str] = field(default_factory=dict)


_Made = tuple[Page, Mapping[str, str]]


class Unit:
    """Pages of the same needs; `last` is what they were made of before."""

    def __init__(self, needs: str, make: Callable[[], Batch], last: Unit | None = None) -> None:
        self.needs = needs
        self.errors: tuple[Finding, ...] = ()
        self.fault = ""
        self._make = make
        self._last = last
        self._lock = threading.Lock()
        self._made: dict[str, _Made] | None = None

    @property
    def made(self) -> bool:
        """Whether the pages are there."""
        return self._made is not None

    @property
    def troubled(self) -> bool:
        """Whether something went wrong when they were made."""
        return bool(self.errors or self.fault)

    def newest(self) -> Unit | None:
        """The unit whose pages can stand in for those that are yet to be made."""
        return self if self.made else self._last

    def page(self, address: str, assets: Mapping[str, str]) -> Page | None:
        """One page, linked to the assets as they stand now."""
        found = self._pages().get(address) or self._pages().get(_undated(address))
        if found is None:
            return None
        page, then = found
        return _relinked(page, then, assets) if page.media == HTML and then != assets else page

    def _pages(self) -> Mapping[str, _Made]:
        with self._lock:
            if self._made is None:
                self._made = self._all()
                self._last = None
            return self._made

    def _all(self) -> dict[str, _Made]:
        batch = self._batch()
        self.errors = tuple(finding for finding in batch.findings if finding.is_error)
        pages: dict[str, _Made] = {}
        if self.troubled and self._last is not None:
            pages |= self._last._pages()
        for page in batch.pages:
            pages[page.address] = pages[_undated(page.address)] = (page, batch.assets)
        return pages

    def _batch(self) -> Batch:
        try:
            return self._make()
        except Exception as error:  # a fault of ours must not end the preview
            self.fault = "".join(traceback.format_exception(error))
            return Batch()


def _undated(address: str) -> str:
    """The address of a photo without the digest of its content: lists may know one that has been made anew since."""
    if not address.startswith("photos/"):
        return address
    stem, _, ending = address.rpartition(".")
    return f"{stem.rpartition('-')[0]}.{ending}"


def _relinked(page: Page, then: Mapping[str, str], now: Mapping[str, str]) -> Page:
    body = page.content
    for name, old in then.items():
        new = now.get(name, old)
        if new != old:
            body = body.replace(old.encode(), new.encode())
    return Page(page.address, page.media, body)


class Units:
    """The latest unit of each name."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._by_name: OrderedDict[str, Unit] = OrderedDict()

    def get(self, name: str, needs: str, make: Callable[[], Batch]) -> Unit:
        """The unit of a name with these needs; those not asked for longest are let go."""
        with self._lock:
            unit = self._by_name.get(name)
            if unit is None or unit.needs != needs:
                unit = Unit(needs, make, unit.newest() if unit is not None else None)
                self._by_name[name] = unit
            self._by_name.move_to_end(name)
            while len(self._by_name) > self._most:
                self._by_name.popitem(last=False)
            return unit

    def troubled(self) -> dict[str, Unit]:
        """Those in whose making something went wrong."""
        with self._lock:
            return {name: unit for name, unit in self._by_name.items() if unit.troubled}
