"""How many connections there are, how long each may take, and the end of those that nobody is behind any more.

In: connections. Out: the protocol of the server, which hands on whole heads of requests. The library's own protocol is
extended here and nowhere else.
"""

from __future__ import annotations

import asyncio
import contextlib
import socket
import struct

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

# A browser opens six for one server, whatever the number of its windows.
MOST, MOST_FROM_ONE = 64, 32
HEAD_TIME = 10.0  # seconds for the head of a request
SENT_TIME = 60.0  # seconds in which a reader takes something of what waits for it
_ALIVE = (("TCP_KEEPIDLE", 30), ("TCP_KEEPINTVL", 10), ("TCP_KEEPCNT", 3), ("TCP_USER_TIMEOUT", 60_000))


class BoundedProtocol(H11Protocol):
    """One connection, ended when it takes too long."""

    # Times stand in the class, so that a test can wait less.
    head_time, sent_time = HEAD_TIME, SENT_TIME

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        self._head: asyncio.TimerHandle | None = None
        self._sent: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take it, unless there are too many: of all, or from the same machine."""
        super().connection_made(transport)
        clients = [getattr(each, "client", None) or ("",) for each in self.connections]
        same = sum(client[0] == (self.client or ("",))[0] for client in clients)
        if len(self.connections) > MOST or same > MOST_FROM_ONE:
            transport.abort()
            return
        _notice_silence(transport)
        self._await_head()

    def data_received(self, data: bytes) -> None:
        """Hand on what came, and wait for the rest of a head."""
        super().data_received(data)
        self._await_head()

    def _end(self) -> None:
        # At once: the system would keep what was not read, and go on offering it.
        link = self.transport.get_extra_info("socket")
        with contextlib.suppress(OSError):
            link.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        self.transport.abort()

    def _await_head(self) -> None:
        # The time runs from the first byte, and is not prolonged by more of them. Between two requests of a connection
        # that is kept, the library's own runs.
        awaited = self.conn.their_state is h11.IDLE
        if awaited and self._head is None:
            self._head = self.loop.call_later(self.head_time, self._end)
        elif not awaited:
            self._head = self._cancel(self._head)

    @staticmethod
    def _cancel(timer: asyncio.TimerHandle | None) -> asyncio.TimerHandle | None:
        if timer is not None:
            timer.cancel()
        return None

    def pause_writing(self) -> None:
        """Somebody reads slowly, or not at all."""
        super().pause_writing()
        self._sent = self._sent or self.loop.call_later(self.sent_time, self._end)

    def resume_writing(self) -> None:
        """It was read."""
        super().resume_writing()
        self._sent = self._cancel(self._sent)

    def connection_lost(self, exc: Exception | None) -> None:
        """Nothing is waited for any more."""
        self._head, self._sent = self._cancel(self._head), self._cancel(self._sent)
        super().connection_lost(exc)


def _notice_silence(transport: asyncio.Transport) -> None:
    """Let the system end connections to what has left the network without a word, as phones do."""
    link = transport.get_extra_info("socket")
    with contextlib.suppress(OSError):
        link.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
        for name, value in _ALIVE:
            if hasattr(socket, name):  # not every system has each
                link.setsockopt(socket.IPPROTO_TCP, getattr(socket, name), value)
