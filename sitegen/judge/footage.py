"""Clips against the episodes that they are in: begun after its end, or two at one time.

In: the context of a run. Out: findings about clips. A clip belongs to the episode that tells its day.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import clock
from sitegen.core.records.episodes import ToldEpisode, told_episodes
from sitegen.core.records.rows import Clip
from sitegen.judge.context import Context, on_day


def episodes_of(context: Context) -> tuple[ToldEpisode, ...]:
    """The episodes of the run, with their clips."""
    return told_episodes(context.run.setup, context.run.rows)


def clip_late(context: Context) -> Iterator[Finding]:
    """A clip begins before its episode ends."""
    for told in context.once(episodes_of):
        length = told.episode.length
        for clip in told.clips:
            if length is None or clip.at is None or clip.at < length:
                continue
            name = told.episode.title
            message = f"{_the_clip(clip)} begins when `{name}` has ended, at {clock(length)}"
            mend = "mend its `at`, or the episode's `length` or `until`"
            expected = f"a time before {clock(length)}"
            yield Finding("clip-late", clip.source, message, mend, clock(clip.at), expected)


def clips_at_once(context: Context) -> Iterator[Finding]:
    """Each clip of an episode begins at a time of its own."""
    for told in context.once(episodes_of):
        for before, clip in pairwise(told.clips):
            if clip.at is None or clip.at != before.at:
                continue
            message = f"{_the_clip(clip)} begins when that of line {before.source.line} does, in `{told.episode.title}`"
            mend = "mend one of the two times, or leave out `at` where a clip is not in the cut"
            yield Finding("clips-at-once", clip.source, message, mend, clock(clip.at), "a time of its own")


def _the_clip(clip: Clip) -> str:
    return f"the clip {on_day(clip.day)} at {clock(clip.at or 0)}"
