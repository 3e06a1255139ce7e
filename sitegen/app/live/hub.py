"""Hands what is shown from the thread that makes it to the streams that wait for it.

In: `Shown`, from any thread. Out: the latest one, and an asynchronous iterator over the latest ones. A slow reader misses
what was shown in between, never the last. Who asks for a page goes before work that nobody waits for.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator, Iterator
from contextlib import contextmanager, suppress

from sitegen.app.live.rebuild import Shown


class Hub:
    """The latest that is shown, who waits for the next, and how many pages are being asked for."""

    def __init__(self) -> None:
        self._lock = threading.Condition()
        self._waiting: dict[asyncio.Event, asyncio.AbstractEventLoop] = {}
        self._closed = False
        self._asked = 0
        self.shown = Shown()

    def publish(self, shown: Shown) -> None:
        """Show this from now on."""
        self.shown = shown
        self.wake()

    def close(self) -> None:
        """End all streams, so that the server can stop."""
        self._closed = True
        self.wake()

    def wake(self) -> None:
        """Tell every stream to look again."""
        with self._lock:
            for event, loop in self._waiting.items():
                loop.call_soon_threadsafe(event.set)

    @contextmanager
    def asking(self) -> Iterator[None]:
        """While somebody waits for a page."""
        with self._lock:
            self._asked += 1
        try:
            yield
        finally:
            with self._lock:
                self._asked -= 1
                self._lock.notify_all()

    def quiet(self, timeout: float) -> bool:
        """Wait until nobody waits for a page; whether that is so."""
        with self._lock:
            return self._lock.wait_for(lambda: not self._asked, timeout)

    @property
    def watched(self) -> bool:
        """Whether a browser is listening."""
        return bool(self._waiting)

    async def first(self, timeout: float) -> Shown:
        """What is shown once anything is, or after a while what there is."""
        with suppress(TimeoutError):
            async with asyncio.timeout(timeout):
                return await self._begun()
        return self.shown

    async def _begun(self) -> Shown:
        """What is shown once anything is."""
        async for shown in self.stream():
            if shown.serial:
                return shown
        return self.shown

    async def stream(self) -> AsyncIterator[Shown]:
        """What is shown now, and again whenever it changes."""
        event = asyncio.Event()
        with self._lock:
            self._waiting[event] = asyncio.get_running_loop()
        try:
            while not self._closed:
                event.clear()
                yield self.shown
                await event.wait()
        finally:
            with self._lock:
                self._waiting.pop(event, None)
