"""What is done while nothing changes: reading on, and looking for what was not told.

In: a rebuilder, a hub, a watcher. Out: more that is shown. Step by step in the thread that looks, and never while
somebody waits for a page.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from sitegen.app.live.hub import Hub
from sitegen.app.live.rebuild import Rebuilder
from sitegen.app.live.watch import Watcher

FIRST = 1.0  # seconds after which a journal that is being read is shown again, then twice as long, and so on
REST = 1.5  # seconds without a change after which all files are looked at, once
PAUSE = 0.2  # seconds to wait for those who ask before changes are looked for again
HEAD_START = 0.004  # seconds that a browser takes from the news to the question


class Background:
    """Work that nobody waits for; `clock` gives seconds."""

    def __init__(self, rebuilder: Rebuilder, hub: Hub, watcher: Watcher, clock: Callable[[], float]) -> None:
        self._rebuilder = rebuilder
        self._hub = hub
        self._watcher = watcher
        self._clock = clock
        self._begun = clock()
        self._shown_again = 0.0
        self._checked = True

    def begin(self) -> None:
        """Something was looked at just now."""
        self._begun = self._clock()
        self._shown_again = FIRST
        self._checked = False
        if self._hub.watched:
            time.sleep(HEAD_START)

    def step(self) -> bool:
        """Do a little; whether there is more to do at once."""
        if not self._hub.quiet(PAUSE):
            return True
        if self._rebuilder.unread:
            self._read_on()
            return True
        if not self._checked and self._clock() - self._begun > REST:
            self._checked = True
            self._watcher.tell(self._rebuilder.strays())
        return False

    def _read_on(self) -> None:
        shown = self._rebuilder.read_on()
        elapsed = self._clock() - self._begun
        if shown is not None and (not self._rebuilder.unread or elapsed > self._shown_again):
            self._shown_again = 2 * elapsed
            self._hub.publish(shown)
