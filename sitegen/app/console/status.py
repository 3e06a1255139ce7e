"""The table of exit statuses."""

from __future__ import annotations

from enum import IntEnum


class Status(IntEnum):
    """The outcome of a command."""

    DONE = 0
    ERRORS = 1  # the journal has errors; nothing was changed
    USAGE = 2
    FAULT = 3  # an error of sitegen itself
    PARTLY = 4  # published, with some experiments left out
    REFUSED = 5  # the system refused: a full disk, no permission; journal and site are as they were
    INTERRUPTED = 130
