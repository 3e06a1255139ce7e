"""The chapters of episodes: from the author's list, else from clips with a time in the final cut; as WebVTT, as links.

In: facts. Out: `EpisodeChapters` for each episode, in the order in which they tell the run; a file; the address of a
chapter; what is wrong with chapters by the rules of video hosts. Clips of an entry that is never told are left out.

References
----------
WebVTT: The Web Video Text Tracks Format, https://www.w3.org/TR/webvtt1/ (4.1 syntax; 4.4 chapter cues)

Media Fragments URI 1.0 (basic), https://www.w3.org/TR/media-frags/ (4.2.1 temporal dimension)

At least three chapters, the first at 0:00, each of at least 10 seconds: what video hosts commonly ask; common practice,
no source.

"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import clock, plural
from sitegen.core.language.wording import opening
from sitegen.core.records.episodes import ToldEpisode, clips_by_time, told_episodes
from sitegen.core.records.rows import Clip
from sitegen.core.records.setup import Chapter, Episode

VTT = "text/vtt"
FEWEST = 3
SHORTEST = 10  # seconds
_ESCAPED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})


@dataclass(frozen=True, slots=True)
class EpisodeChapters:
    """The chapters of an episode. `end` is when it ends, in seconds; None where that is not known.

    `written` where they are the author's list, and not made of `told.clips`.
    """

    told: ToldEpisode
    chapters: tuple[Chapter, ...] = ()
    end: int | None = None
    written: bool = False


class Problem(NamedTuple):
    """What a video host would refuse about chapters, as the message and the mend of a finding."""

    message: str
    mend: str


def episode_chapters(facts: Facts, lengths: Mapping[str, int] | None = None) -> tuple[EpisodeChapters, ...]:
    """The chapters of each episode; those of clips only where the rules of hosts are met.

    `lengths` are those of clips' files, in seconds, where the log does not say them.
    """
    run = facts.run
    found = (chapters_of_episode(facts, told, lengths) for told in told_episodes(run.setup, run.rows))
    return tuple(
        each if each.written or chapter_problem(each) is None else EpisodeChapters(each.told, end=each.end)
        for each in found
    )


def cut_without_episode(facts: Facts) -> ToldEpisode:
    """All clips with a time, as those of an episode that is not in the set-up yet."""
    return ToldEpisode(0, Episode(facts.run.setup.title), clips=clips_by_time(facts.run.rows))


def chapters_of_episode(
    facts: Facts, told: ToldEpisode, lengths: Mapping[str, int] | None = None
) -> EpisodeChapters:
    """The author's chapters of an episode where there are any, else those of its clips, whatever is wrong with them."""
    length = told.episode.length
    if told.episode.chapters:
        return EpisodeChapters(told, told.episode.chapters, length, written=True)
    never = {entry.index for entry in facts.run.rows.entries if entry.tell == "never"}
    clips = [clip for clip in told.clips if clip.entry not in never]
    end = length if length is not None else _end_of_last(clips, lengths or {})
    return EpisodeChapters(told, tuple(_of_clips(facts, clips, end)), end)


def _end_of_last(clips: Sequence[Clip], lengths: Mapping[str, int]) -> int | None:
    """When the last clip ends, before which the episode does not; None where that is not known, or too soon."""
    last = clips[-1] if clips else None
    if last is None or last.at is None:
        return None
    length = last.length if last.length is not None else lengths.get(last.file)
    return None if length is None or length < SHORTEST else last.at + length


def _of_clips(facts: Facts, clips: Iterable[Clip], end: int | None) -> Iterator[Chapter]:
    """A chapter at each clip; one too near to the chapter before it, or of the same name, belongs to that one."""
    before: Chapter | None = None
    for clip in clips:
        at, title = clip.at or 0, _title(facts, clip)
        if before is not None and (at - before.at < SHORTEST or title == before.title):
            continue
        if before is not None and end is not None and end - at < SHORTEST:
            continue
        before = Chapter(at, title)
        yield before


def _title(facts: Facts, clip: Clip) -> str:
    """What a clip shows; else the phase of its day, and outside of all phases the day."""
    if words := one_line(clip.what):
        return opening(words)
    phase = next((visit.phase for visit in facts.timeline.visits if visit.entry.index == clip.entry), "")
    return opening(tr(phase)) if phase else opening(tr("day {n}", n=max(0, clip.day.key[0])))


def chapter_problem(found: EpisodeChapters) -> Problem | None:
    """The first thing that a video host would refuse; None where it would take the chapters."""
    chapters = found.chapters
    if not chapters:
        example = "write `at: 0:00` and so on for its clips in the log, or `chapters` in the episode"
        return Problem("there are no chapters: no clip has a time in this episode", example)
    if chapters[0].at != 0:
        return Problem(f"the first chapter begins at {clock(chapters[0].at)}", "name something at 0:00")
    if len(chapters) < FEWEST:
        there = "there is 1 chapter" if len(chapters) == 1 else f"there are {len(chapters)} chapters"
        return Problem(f"{there}, and video hosts ask for {FEWEST}", _more(found))
    return _too_near(found)


def _more(found: EpisodeChapters) -> str:
    lacking = plural(FEWEST - len(found.chapters), "more chapter")
    if found.written:
        return f"name {lacking} of {SHORTEST} seconds or longer"
    return f"give `at` to clips for {lacking}, each {SHORTEST} seconds or more after the one before"


def _too_near(found: EpisodeChapters) -> Problem | None:
    times = [chapter.at for chapter in found.chapters]
    for before, at in pairwise(times):
        if at <= before:
            message = f"the chapter at {clock(at)} does not begin after the one before it, at {clock(before)}"
            return Problem(message, "put the chapters in order")
        if at - before < SHORTEST:
            message = (
                f"the chapter at {clock(before)} lasts {plural(at - before, 'second')}, until {clock(at)}"
            )
            return Problem(message, f"leave one out, or make it {SHORTEST} seconds or longer")
    if found.end is not None and found.written and found.end - times[-1] < SHORTEST:
        message = (
            f"the last chapter, at {clock(times[-1])}, begins less than {SHORTEST} seconds before the end"
        )
        return Problem(message, "leave it out, or let it begin earlier")
    return None


def webvtt(chapters: Sequence[Chapter], end: int) -> str:
    """Chapters as a WebVTT file: each lasts until the next begins, the last until the end."""
    return "\n\n".join(("WEBVTT", *_cues(chapters, end))) + "\n"


def _cues(chapters: Sequence[Chapter], end: int) -> Iterator[str]:
    times = [*(chapter.at for chapter in chapters), end]
    for number, ((begin, until), chapter) in enumerate(zip(pairwise(times), chapters, strict=True), start=1):
        title = one_line(chapter.title).translate(_ESCAPED)  # no sign in it begins a tag or ends the times
        yield f"{number}\n{_stamp(begin)} --> {_stamp(until)}\n{title}"


def _stamp(seconds: int) -> str:
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.000"


def one_line(title: str) -> str:
    """A title without breaks."""
    return " ".join(title.split())


def moment_link(link: str, seconds: int) -> str:
    """The address of a moment of an episode, as a media fragment; an address with a fragment of its own stays."""
    return link if not link or "#" in link else f"{link}#t={seconds}"
