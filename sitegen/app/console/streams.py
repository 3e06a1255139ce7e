r"""The three standard streams, whatever a command was started with: what cannot be printed never stops it.

In: streams that are open, closed, left by their reader, or of an encoding that lacks letters. Out: streams that take
every text: into nowhere where nobody reads it, and as `\u2153` where the encoding has no such letter.
"""

from __future__ import annotations

import errno
import io
import os
import sys
from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer


class _Outlet(io.FileIO):
    """A file descriptor whose reader may leave: the rest goes nowhere, and the command ends as it would have."""

    def write(self, data: ReadableBuffer, /) -> int:
        """Write it, or pass over it."""
        try:
            return super().write(data)
        except OSError as error:
            if error.errno not in (errno.EPIPE, errno.EBADF):  # no reader, or opened for reading only
                raise
            _lead_nowhere(self.fileno())
            return memoryview(data).nbytes


def prepare_streams() -> None:
    """Open what is closed, and let what is printed fail on nothing but a full disk."""
    _fill_descriptors()
    sys.stdin = sys.stdin or open(0, encoding="utf-8", closefd=False)  # noqa: SIM115 - as long as the process
    for name, descriptor in (("stdout", 1), ("stderr", 2)):
        stream = getattr(sys, name)
        # Not what a test or another program put in its place.
        if stream is None or type(stream) is io.TextIOWrapper:
            setattr(sys, name, _patient(stream, descriptor))


def _fill_descriptors() -> None:
    """Lead each closed descriptor nowhere: the next file opened would get its number, and what is printed with it."""
    for descriptor in range(3):
        with suppress(OSError):
            os.fstat(descriptor)
            continue
        _lead_nowhere(descriptor)


def _lead_nowhere(descriptor: int) -> None:
    nowhere = os.open(os.devnull, os.O_RDWR)
    if nowhere != descriptor:
        os.dup2(nowhere, descriptor)
        os.close(nowhere)


def _patient(stream: io.TextIOWrapper | None, descriptor: int) -> io.TextIOWrapper:
    """The same stream over an outlet, without what its encoding would refuse."""
    outlet = io.BufferedWriter(_Outlet(descriptor, "w", closefd=False))
    if stream is None:
        return io.TextIOWrapper(outlet, "utf-8", "backslashreplace")
    stream.flush()
    errors = "backslashreplace" if stream.errors == "strict" else stream.errors
    return io.TextIOWrapper(
        outlet,
        stream.encoding,
        errors,
        line_buffering=stream.line_buffering,
        write_through=stream.write_through,
    )
