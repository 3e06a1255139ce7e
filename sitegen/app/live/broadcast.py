"""Hands each version of the site from the thread that builds it to the streams that wait for it.

In: `Version`s, from any thread. Out: the latest one, and an asynchronous iterator over the latest ones. A slow reader
misses versions in between, never the last.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncGenerator
from contextlib import aclosing, suppress

from sitegen.app.live.rebuild import Version


class Broadcaster:
    """The latest version, and the streams that wait for the next."""

    def __init__(self) -> None:
        self._lock = threading.Lock()  # streams come and go in the server's thread while another publishes
        self._waiting: dict[asyncio.Event, asyncio.AbstractEventLoop] = {}
        self.closed = False
        self.version = Version()

    @property
    def streams(self) -> int:
        """How many wait."""
        return len(self._waiting)

    def publish(self, version: Version) -> None:
        """Show this version from now on."""
        self.version = version
        self.wake()

    def close(self) -> None:
        """End all streams, so that the server can stop."""
        self.closed = True
        self.wake()

    def wake(self) -> None:
        """Let every stream read the latest version again."""
        with self._lock:
            for event, loop in self._waiting.items():
                loop.call_soon_threadsafe(event.set)  # an asyncio.Event may be set by its own loop only

    async def first(self, timeout: float) -> Version:
        """The latest version once one was built; after a while, the empty one."""
        if not self.version.serial:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._built(), timeout)
        return self.version

    async def _built(self) -> None:
        async with aclosing(self.stream()) as versions:  # it ends where the server stops meanwhile
            async for version in versions:
                if version.serial:
                    return

    async def stream(self) -> AsyncGenerator[Version, None]:
        """The latest version now, and again whenever there is another."""
        event = asyncio.Event()
        with self._lock:
            self._waiting[event] = asyncio.get_running_loop()
        try:
            while not self.closed:
                event.clear()  # before reading: a version published after this wakes the stream again
                yield self.version
                await event.wait()
        finally:
            with self._lock:
                self._waiting.pop(event, None)
