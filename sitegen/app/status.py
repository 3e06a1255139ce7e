"""The exit statuses, one table."""

from __future__ import annotations

from enum import IntEnum


class Status(IntEnum):
    """How a command ended."""

    DONE = 0
    ERRORS = 1  # the journal has errors; nothing was changed
    USAGE = 2
    FAULT = 3  # ours
    PARTLY = 4  # published, with some experiments left out
    INTERRUPTED = 130
