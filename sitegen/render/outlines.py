"""What a page says of other experiments: enough to link to them.

In: set-ups. Out: `Outline`: known before an experiment is read to its end, so that each page can be made at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.core.addresses import experiment_page
from sitegen.core.setup import Setup

__all__ = ["Neighbours", "Outline", "neighbours", "outline_of"]


@dataclass(frozen=True, slots=True)
class Outline:
    """One experiment, as links to it need it; `dated` tells whether feeds can list it."""

    id: str
    title: str
    started: date
    crop: str
    season: str
    systems: tuple[str, ...]
    was: tuple[str, ...]
    dated: bool

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.id)


def outline_of(setup: Setup) -> Outline:
    """The outline of an experiment."""
    episodes = any(episode.published for episode in setup.episodes)
    dated = setup.dated or episodes or any((setup.publish, setup.revised, setup.corrections))
    return Outline(
        id=setup.id,
        title=setup.title,
        started=setup.start.date or date.min,
        crop=setup.crop.id,
        season=setup.season,
        systems=tuple(dict.fromkeys(tub.system.id for tub in setup.tubs)),
        was=setup.was,
        dated=dated,
    )


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The experiments sown before and after one."""

    earlier: Outline | None = None
    later: Outline | None = None


def neighbours(outlines: Sequence[Outline]) -> dict[str, Neighbours]:
    """The neighbours of each experiment, by its id."""
    ordered = sorted(outlines, key=lambda outline: (outline.started, outline.id))
    before, after = [None, *ordered], [*ordered[1:], None]
    return {
        each.id: Neighbours(earlier, later)
        for each, earlier, later in zip(ordered, before, after, strict=False)
    }
