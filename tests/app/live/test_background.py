"""What is done while nothing changes. Time is scripted."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sitegen.app.live.background import Background
from sitegen.app.live.hub import Hub
from sitegen.app.live.rebuild import Rebuilder
from tests.app.live.fixed import FixedSite


class Looks:
    """A journal of which one file has changed without a word."""

    def look(self, _files: object) -> FixedSite:
        """A site."""
        return FixedSite()

    def strays(self) -> frozenset[str]:
        """The one."""
        return frozenset({"about.md"})


class Told:
    """A watcher that is told."""

    def __init__(self) -> None:
        self.files: list[str] = []

    def changes(self, _idle: object) -> Iterable[frozenset[str]]:  # pragma: no cover
        """None."""
        return ()

    def beside(self, _folders: object) -> None:
        """Nothing."""

    def tell(self, files: Iterable[str]) -> None:
        """Remember."""
        self.files += files


class Clock:
    """Seconds that pass by when they are told to."""

    now = 0.0

    def __call__(self) -> float:
        """The time."""
        return self.now


def test_what_was_not_told_is_looked_for_once() -> None:
    """When all has been quiet for a while, and again only after another change."""
    clock, watcher = Clock(), Told()
    background = Background(Rebuilder(Looks(), Path(), clock), Hub(), watcher, clock)  # type: ignore[arg-type]
    found = []
    for begins in (True, False, True):
        if begins:
            background.begin()
        for _ in range(3):
            clock.now += 1
            background.step()
        found.append(len(watcher.files))

    assert found == [1, 1, 2]


def test_who_asks_for_a_page_goes_first() -> None:
    """No file is looked at while a browser waits for a page."""
    clock, hub, watcher = Clock(), Hub(), Told()
    background = Background(Rebuilder(Looks(), Path(), clock), hub, watcher, clock)  # type: ignore[arg-type]
    background.begin()
    clock.now += 2
    with hub.asking():
        waited = (background.step(), list(watcher.files))
    after = (background.step(), list(watcher.files))

    assert (waited, after) == ((True, []), (False, ["about.md"]))
