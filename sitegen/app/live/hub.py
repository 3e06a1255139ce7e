"""Hands what is shown from the thread that makes it to the streams that wait for it.

In: `Shown`, from any thread. Out: the latest one, and an asynchronous iterator over the latest ones. A slow reader misses
what was shown in between, never the last.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator

from sitegen.app.live.rebuild import Shown

__all__ = ["Hub"]


class Hub:
    """The latest that is shown, and who waits for the next."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._waiting: dict[asyncio.Event, asyncio.AbstractEventLoop] = {}
        self._closed = False
        self.shown = Shown()

    def publish(self, shown: Shown) -> None:
        """Show this from now on."""
        self.shown = shown
        self._wake()

    def close(self) -> None:
        """End all streams, so that the server can stop."""
        self._closed = True
        self._wake()

    def _wake(self) -> None:
        with self._lock:
            for event, loop in self._waiting.items():
                loop.call_soon_threadsafe(event.set)

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
