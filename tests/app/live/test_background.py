"""What is done while nothing changes. Time is scripted."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sitegen.app.live.background import Background
from sitegen.app.live.hub import Hub
from sitegen.app.live.rebuild import Rebuilder, Shown
from tests.app.live.fixed import FixedSite


class Looks:
    """A journal of which some experiments are yet to be read, and one file has changed without a word."""

    def __init__(self, unread: int) -> None:
        self.unread = unread

    def look(self, _files: object) -> FixedSite:
        """A site."""
        return FixedSite()

    def read_on(self) -> FixedSite:
        """One read."""
        self.unread -= 1
        return FixedSite(reading=(0, self.unread))

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


class Heard(Hub):
    """A hub that counts how much was read whenever it is told of something."""

    def __init__(self) -> None:
        super().__init__()
        self.left: list[int] = []

    def publish(self, shown: Shown) -> None:
        """Remember."""
        self.left.append(shown.site.reading[1])


class Clock:
    """Seconds that pass by when they are told to."""

    now = 0.0

    def __call__(self) -> float:
        """The time."""
        return self.now


def test_what_is_read_is_shown_now_and_then_and_at_the_end() -> None:
    """After one second, after twice that, and when all is read: a list is not made anew for each experiment."""
    clock, hub = Clock(), Heard()
    background = Background(Rebuilder(Looks(9), Path(), clock), hub, Told(), clock)  # type: ignore[arg-type]
    background.begin()
    more = []
    for _ in range(9):
        clock.now += 0.6
        more.append(background.step())

    assert hub.left == [7, 4, 0]
    assert more == [True] * 9


def test_what_was_not_told_is_looked_for_once() -> None:
    """When all has been quiet for a while, and again only after another change."""
    clock, watcher = Clock(), Told()
    background = Background(Rebuilder(Looks(0), Path(), clock), Heard(), watcher, clock)  # type: ignore[arg-type]
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
    """Nothing is read while a page is waited for."""
    clock, hub, looks = Clock(), Heard(), Looks(2)
    background = Background(Rebuilder(looks, Path(), clock), hub, Told(), clock)  # type: ignore[arg-type]
    with hub.asking():
        waited = background.step()
    after = background.step()

    assert (waited, after, looks.unread) == (True, True, 1)
