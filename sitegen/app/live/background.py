"""Work while nothing changes: looking for changes that the watching library did not report.

In: a rebuilder, a hub, a watcher. Out: files that are reported as changed. Never while a browser waits for a page.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from sitegen.app.live.hub import Hub
from sitegen.app.live.rebuild import Rebuilder
from sitegen.app.live.watch import Watcher

REST = 1.5  # seconds without a change after which all files are looked at, once
PAUSE = 0.2  # seconds to wait for pending requests before changes are looked for again
HEAD_START = 0.004  # seconds that a browser takes from the event to its request


class Background:
    """Work that nobody waits for; `clock` gives seconds."""

    def __init__(self, rebuilder: Rebuilder, hub: Hub, watcher: Watcher, clock: Callable[[], float]) -> None:
        self._rebuilder = rebuilder
        self._hub = hub
        self._watcher = watcher
        self._clock = clock
        self._begun = clock()
        self._checked = True

    def begin(self) -> None:
        """The journal was built just now."""
        self._begun = self._clock()
        self._checked = False
        if self._hub.watched:
            time.sleep(HEAD_START)

    def step(self) -> bool:
        """Do a little; whether there is more to do at once."""
        if not self._hub.quiet(PAUSE):
            return True
        if not self._checked and self._clock() - self._begun > REST:
            self._checked = True
            self._watcher.tell(self._rebuilder.strays())
        return False
