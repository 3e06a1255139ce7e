"""Hands each version of the site from the thread that builds it to the streams that wait for it.

In: `Version`s, from any thread. Out: the latest one, and an asynchronous iterator over the latest ones. A slow reader
misses versions in between, never the last.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import suppress

from sitegen.app.live.rebuild import Version


class Broadcaster:
    """The latest version, and the streams that wait for the next."""

    def __init__(self) -> None:
        self._lock = threading.Lock()  # streams come and go in the server's thread while another publishes
        self._waiting: dict[asyncio.Event, asyncio.AbstractEventLoop] = {}
        self._closed = False
        self.version = Version()

    def publish(self, version: Version) -> None:
        """Show this version from now on."""
        self.version = version
        self.wake()

    def close(self) -> None:
        """End all streams, so that the server can stop."""
        self._closed = True
        self.wake()

    def wake(self) -> None:
        """Let every stream read the latest version again."""
        with self._lock:
            for event, loop in self._waiting.items():
                loop.call_soon_threadsafe(event.set)  # an asyncio.Event may be set by its own loop only

    async def first(self, timeout: float) -> Version:
        """The latest version once one was built; after a while, the empty one."""
        built = (version async for version in self.stream() if version.serial)
        with suppress(TimeoutError, StopAsyncIteration):  # the stream ends where the server stops meanwhile
            await asyncio.wait_for(anext(built), timeout)
        return self.version

    async def stream(self) -> AsyncIterator[Version]:
        """The latest version now, and again whenever there is another."""
        event = asyncio.Event()
        with self._lock:
            self._waiting[event] = asyncio.get_running_loop()
        try:
            while not self._closed:
                event.clear()  # before reading: a version published after this wakes the stream again
                yield self.version
                await event.wait()
        finally:
            with self._lock:
                self._waiting.pop(event, None)
