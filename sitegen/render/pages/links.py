"""What a page says of other experiments: enough to link to them.

In: set-ups. Out: `RunLink`: known before an experiment is read to its end, so that each page can be made at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.core.language.text import listed
from sitegen.core.language.wording import NBSP
from sitegen.core.records.setup import Setup
from sitegen.core.site.addresses import experiment_page
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class RunLink:
    """One experiment, as links to it need it; `dated` tells whether feeds can list it.

    `setting` says what it was grown in and under: a name of `SETTINGS` and words, without what was not recorded.
    """

    id: str
    title: str
    started: date
    crop: str
    season: str
    systems: tuple[str, ...]
    was: tuple[str, ...]
    dated: bool
    setting: tuple[tuple[str, str], ...] = ()

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.id)


def run_link_of(setup: Setup) -> RunLink:
    """The run_link of an experiment."""
    episodes = any(episode.published for episode in setup.episodes)
    dated = setup.dated or episodes or any((setup.publish, setup.revised, setup.corrections))
    return RunLink(
        id=setup.id,
        title=setup.title,
        started=setup.start.date or date.min,
        crop=setup.crop.id,
        season=setup.season,
        systems=tuple(dict.fromkeys(tub.system.id for tub in setup.tubs)),
        was=setup.was,
        dated=dated,
        setting=tuple((name, words) for name, words in _setting(setup) if words),
    )


def _setting(setup: Setup) -> Iterator[tuple[str, str]]:
    uses = [tub.light for tub in setup.tubs if tub.light]
    yield "variety", listed([setup.variety_name(variety) for variety in setup.variety_ids])
    yield "system", listed(list(dict.fromkeys(tub.system.name for tub in setup.tubs)))
    yield "lamp", listed(list(dict.fromkeys(use.lamp.name for use in uses if use.lamp)))
    yield "hours", listed(list(dict.fromkeys(_hours(use.hours) for use in uses if use.hours)))
    yield "plants", str(len(setup.plants))


def _hours(hours: Quantity) -> str:
    high = "" if hours.high is None or hours.single else f"–{hours.high:g}"
    return f"{hours.low:g}{high}{NBSP}h"


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The experiments sown before and after one; `before` and `after` are those of the same crop."""

    earlier: RunLink | None = None
    later: RunLink | None = None
    before: RunLink | None = None
    after: RunLink | None = None


def neighbours(run_links: Sequence[RunLink]) -> dict[str, Neighbours]:
    """The neighbours of each experiment, by its id."""
    ordered = sorted(run_links, key=lambda run_link: (run_link.started, run_link.id))
    crops: dict[str, list[RunLink]] = {}
    for each in ordered:
        crops.setdefault(each.crop, []).append(each)
    of_crop = {name: pair for runs in crops.values() for name, pair in _around(runs)}
    return {name: Neighbours(*pair, *of_crop[name]) for name, pair in _around(ordered)}


def _around(ordered: Sequence[RunLink]) -> Iterator[tuple[str, tuple[RunLink | None, RunLink | None]]]:
    """Each id with the one before it and the one after it."""
    before, after = [None, *ordered], [*ordered[1:], None]
    for each, earlier, later in zip(ordered, before, after, strict=False):
        yield each.id, (earlier, later)
