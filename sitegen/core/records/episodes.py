"""Episodes in the order in which they tell a run, each with its days and its clips.

In: the set-up and the rows of a run. Out: `ToldEpisode`s. An episode tells the days after those of the one before it, up
to its own `until`; one without `until` tells all that is left. A clip belongs to the episode that tells its day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sitegen.core.records.rows import Clip, Rows
from sitegen.core.records.setup import Episode, Setup


@dataclass(frozen=True, slots=True)
class ToldEpisode:
    """An episode with its days; `number` is its place in the set-up, from 1.

    `since` is its first day where it follows another, else None; `until` its last day, None where that is not said.
    `clips` have a time in it, and are in the order of these times.
    """

    number: int
    episode: Episode
    since: int | None = None
    until: int | None = None
    clips: tuple[Clip, ...] = ()

    @property
    def follows(self) -> bool:
        """Whether it takes up the run where another left it."""
        return self.since is not None

    def tells(self, day: int) -> bool:
        """Whether a day is one of its own."""
        return (self.since or 0) <= day and (self.until is None or day <= self.until)


def told_episodes(setup: Setup, rows: Rows) -> tuple[ToldEpisode, ...]:
    """The episodes of a run, in the order in which they tell it."""
    return tuple(_told(setup, clips_by_time(rows)))


def clips_by_time(rows: Rows) -> tuple[Clip, ...]:
    """The clips that have a time in a final cut, in the order of these times."""
    timed = [clip for clip in rows.of(Clip) if clip.at is not None]
    return tuple(sorted(timed, key=_begin))


def _begin(clip: Clip) -> int:
    return clip.at or 0


def _told(setup: Setup, clips: tuple[Clip, ...]) -> Iterator[ToldEpisode]:
    before: int | None = None
    for number, episode in _in_order(setup):
        until = episode.until.last if episode.until is not None else None
        # It tells the same days once more.
        again = before is not None and until is not None and until <= before
        since = None if before is None or again else before + 1
        told = ToldEpisode(number, episode, since, until)
        own = tuple(clip for clip in clips if told.tells(clip.day.first))
        clips = tuple(clip for clip in clips if clip not in own)
        yield ToldEpisode(number, episode, since, until, own)
        if until is not None:
            before = until if before is None else max(before, until)


def _in_order(setup: Setup) -> list[tuple[int, Episode]]:
    """The episodes by their last day, those without one last; of several alike by date, then as they are written."""

    def place(item: tuple[int, Episode]) -> tuple[bool, int, date]:
        until, published = item[1].until, item[1].published
        return until is None, until.last if until is not None else 0, published or date.max

    return sorted(enumerate(setup.episodes, start=1), key=place)
