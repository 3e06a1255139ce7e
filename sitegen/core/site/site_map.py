"""Links between the pages of a site: which runs are published, in which order, and where each page stands.

In: set-ups of the published runs, the author's free pages. Out: `SiteMap`, which answers everything that one page may
ask about the others. `OtherPages` is the same as a protocol: the build hands pages an object that records each
question, so that a page is rebuilt when the answer changes.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any, Protocol

from sitegen.core.records.rows import Run
from sitegen.core.records.setup import FreePage
from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    METHODS,
    crop_page,
    experiment_page,
    free_page,
    season_page,
    system_page,
)


@dataclass(frozen=True, slots=True)
class RunLink:
    """One experiment, as links to it need it; `dated` tells whether feeds can list it.

    A run that is not `logged` is planned or told from memory: nothing is computed from it.
    """

    id: str
    title: str
    started: date
    crop: str
    season: str
    systems: tuple[str, ...]
    was: tuple[str, ...]
    dated: bool
    logged: bool = True

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.id)


def run_link_of(run: Run) -> RunLink:
    """The link of an experiment."""
    setup = run.setup
    episodes = any(episode.published for episode in setup.episodes)
    dated = (setup.dated and run.logged) or episodes or any((setup.publish, setup.revised, setup.corrections))
    return RunLink(
        id=setup.id,
        title=setup.title,
        started=setup.start.date or date.min,
        crop=setup.crop.id,
        season=setup.season,
        systems=tuple(dict.fromkeys(tub.system.id for tub in setup.tubs)),
        was=setup.was,
        dated=dated and run.stage != "planned",
        logged=run.logged,
    )


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A run as the page of another one leads to it, and no more: what else changes in its link changes no such page."""

    id: str
    title: str

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.id)


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The runs sown before and after one; `after` is the one of the same crop."""

    earlier: Neighbour | None = None
    later: Neighbour | None = None
    after: Neighbour | None = None


class OtherPages(Protocol):
    """Everything that a page may ask about the other pages of its site."""

    def neighbours(self, run: str) -> Neighbours:
        """The runs sown before and after one."""

    def address(self, name: str) -> str | None:
        """The address of a page that an author names in a link: an id, a file, an address."""

    def names(self) -> Collection[str]:
        """Every name that `address` knows."""

    def published(self, run: str) -> bool:
        """Whether a run has a page."""

    def title(self, run: str) -> str:
        """The title of a published run; empty where it has no page."""

    def has_feed(self) -> bool:
        """Whether any run has a date that a feed can list."""

    def runs(self) -> Sequence[RunLink]:
        """All published runs in the order of the journal."""

    def summaries(self, field: str = "", name: str = "") -> Sequence[Any]:
        """Summaries of the runs whose `field` (`season`, `crop`, `system`) is `name`; without a field, of all."""

    def nearest(self, run: str) -> Sequence[Any]:
        """What the page of a run shows of the last few runs of its crop that began before it, oldest first."""

    def for_outlook(self, run: str, log: str) -> Sequence[Any]:
        """What the outlook of a run reads of those that began before it, oldest first.

        Those without a log, and copies of `log`, the digest of its own, are left out.
        """

    def searched(self) -> Sequence[Any]:
        """What the search knows of each published run, in the order of the journal."""

    def text(self, name: str) -> FreePage:
        """One of the author's free pages."""

    def texts(self) -> Sequence[FreePage]:
        """All of the author's free pages."""


NEAREST = 3  # earlier runs of its crop that a run is set beside


def _no_summary(run: str) -> object:
    raise LookupError(run)


@dataclass(frozen=True)
class SiteMap:
    """The pages of a site. `linked` are runs without a page that texts may name all the same (in a copy for review)."""

    links: Sequence[RunLink] = ()
    free: Sequence[FreePage] = ()
    linked: Sequence[RunLink] = ()
    summary: Callable[[str], Any] = _no_summary
    earlier: Callable[[str], Any] = _no_summary
    arms: Callable[[str], Any] = _no_summary
    search: Callable[[str], Any] = _no_summary

    def neighbours(self, run: str) -> Neighbours:
        """The runs sown before and after one."""
        return self._neighbours.get(run, Neighbours())

    def address(self, name: str) -> str | None:
        """The address of a page that an author names in a link."""
        return self._addresses.get(name)

    def names(self) -> Collection[str]:
        """Every name that `address` knows."""
        return self._addresses.keys()

    def published(self, run: str) -> bool:
        """Whether a run has a page."""
        return run in self._ids

    def title(self, run: str) -> str:
        """The title of a published run; empty where it has no page."""
        return next((link.title for link in self.links if link.id == run), "")

    def has_feed(self) -> bool:
        """Whether any run has a date that a feed can list."""
        return any(link.dated for link in self.links)

    def runs(self) -> Sequence[RunLink]:
        """All published runs in the order of the journal."""
        return self.links

    def selected(self, field: str = "", name: str = "") -> Sequence[RunLink]:
        """The runs whose `field` is `name`; without a field, all."""
        if not field:
            return self.links
        if field == "system":
            return [link for link in self.links if name in link.systems]
        return [link for link in self.links if getattr(link, field) == name]

    def before(self, run: str) -> Sequence[RunLink]:
        """The runs of the crop of a run that were recorded before it, oldest first."""
        crop = next((link.crop for link in self.links if link.id == run), "")
        ordered = self._by_crop.get(crop, [])
        place = next((number for number, link in enumerate(ordered) if link.id == run), 0)
        return [link for link in ordered[:place] if link.logged]

    def sown(self) -> Sequence[str]:
        """All published runs in the order of their sowing, so that those before a run of its crop come before it."""
        return [link.id for link in self._ordered]

    def before_others(self) -> frozenset[str]:
        """The runs that the page of a later one shows something of."""
        return frozenset(link.id for ordered in self._by_crop.values() for link in ordered[:-1])

    def summaries(self, field: str = "", name: str = "") -> Sequence[Any]:
        """Summaries of selected runs."""
        return [self.summary(link.id) for link in self.selected(field, name)]

    def nearest(self, run: str) -> Sequence[Any]:
        """What the page of a run shows of the last few runs of its crop before it."""
        return [self.earlier(link.id) for link in self.before(run)[-NEAREST:]]

    def for_outlook(self, run: str, log: str) -> Sequence[Any]:
        """What the outlook of a run reads of those before it."""
        found = (self.arms(link.id) for link in self.before(run))
        return [each for each in found if each is not None and each.log not in ("", log)]

    def searched(self) -> Sequence[Any]:
        """What the search knows of each published run."""
        return [self.search(link.id) for link in self.links]

    def text(self, name: str) -> FreePage:
        """One of the author's free pages."""
        return next(text for text in self.free if text.name == name)

    def texts(self) -> Sequence[FreePage]:
        """All of the author's free pages."""
        return self.free

    @cached_property
    def _ids(self) -> frozenset[str]:
        return frozenset(link.id for link in self.links)

    @cached_property
    def _neighbours(self) -> dict[str, Neighbours]:
        after = {run: pair[1] for runs in self._by_crop.values() for run, pair in _beside(runs)}
        return {run: Neighbours(*pair, after[run]) for run, pair in _beside(self._ordered)}

    @cached_property
    def _ordered(self) -> list[RunLink]:
        """All runs in the order of their sowing."""
        return sorted(self.links, key=lambda link: (link.started, link.id))

    @cached_property
    def _by_crop(self) -> dict[str, list[RunLink]]:
        """The runs of each crop in the order of their sowing."""
        crops: dict[str, list[RunLink]] = {}
        for each in self._ordered:
            crops.setdefault(each.crop, []).append(each)
        return crops

    @cached_property
    def _addresses(self) -> Mapping[str, str]:
        """Every way to write a page of the site, with its address."""
        found: dict[str, str] = {}
        for each in (*self.links, *self.linked):
            pages = [crop_page(each.crop), season_page(each.season), each.address]
            pages += [system_page(system) for system in each.systems]
            found |= {page: page for page in pages}
            found[each.id] = each.address
        for text in self.free:
            found |= {f"{text.name}.md": free_page(text.name), free_page(text.name): free_page(text.name)}
        return found | {page: page for page in (HOME, COMPARE, METHODS, CAUTIONS)}


def _beside(ordered: Sequence[RunLink]) -> Iterator[tuple[str, tuple[Neighbour | None, Neighbour | None]]]:
    """Each id with the run before it and the run after it."""
    named = [Neighbour(link.id, link.title) for link in ordered]
    before, after = [None, *named], [*named[1:], None]
    for each, earlier, later in zip(ordered, before, after, strict=False):
        yield each.id, (earlier, later)
