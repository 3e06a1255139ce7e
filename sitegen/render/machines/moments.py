"""When a run was published and last changed, as far as its records say.

In: a brief. Out: `Moments`. A run without a dated start has the dates of its publication and corrections, or none.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.render.briefs import Brief

__all__ = ["Moments", "latest", "moments", "stamp"]


@dataclass(frozen=True, slots=True)
class Moments:
    """Two dates; `updated` is never before `published`."""

    published: dt.date | None
    updated: dt.date | None


def moments(brief: Brief) -> Moments:
    """The dates of a run: publication, last entry, corrections and rewriting."""
    setup = brief.setup
    episodes = (episode.published for episode in setup.episodes)
    published = setup.publish or min((when for when in episodes if when), default=None)
    dates = (
        published,
        brief.axis.start.date_of(brief.axis.last),
        setup.revised,
        *(correction.date for correction in setup.corrections),
    )
    return Moments(published, max((when for when in dates if when), default=None))


def latest(briefs: Iterable[Brief]) -> dt.date | None:
    """The latest change of several runs."""
    dates = (moments(brief).updated for brief in briefs)
    return max((when for when in dates if when), default=None)


def stamp(when: dt.date) -> str:
    """A date as feeds want it (RFC 3339); the records know no hours."""
    return f"{when.isoformat()}T00:00:00Z"
