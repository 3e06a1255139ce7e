"""The episodes of a run as its page names them, with the chapters of each and their files.

In: facts. Out: `EpisodeView`s, in the order in which the episodes tell the run; the files of chapters. A chapter links to
its moment of the episode.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.wording import Wording
from sitegen.core.records.episodes import ToldEpisode
from sitegen.core.site.chapters import VTT, EpisodeChapters, episode_chapters, moment_link, webvtt
from sitegen.core.site.page import Page


@dataclass(frozen=True, slots=True)
class ChapterView:
    """A chapter: its time in seconds, and the address of that moment, empty where the episode has none."""

    at: int
    title: str
    link: str


@dataclass(frozen=True, slots=True)
class EpisodeView:
    """An episode: `days` are those that it tells, in words, `file` the address of its chapters as a file."""

    title: str
    link: str
    published: date | None
    days: str
    length: int | None
    chapters: tuple[ChapterView, ...]
    file: str


def episodes_of(facts: Facts, wording: Wording) -> tuple[EpisodeView, ...]:
    """The episodes of a run."""
    return tuple(_view(facts, found, wording) for found in episode_chapters(facts))


def chapter_pages(facts: Facts) -> Iterator[Page]:
    """The files of chapters."""
    for found in episode_chapters(facts):
        if (file := _file(facts, found)) and found.end is not None:
            yield Page(file, VTT, webvtt(found.chapters, found.end))


def _view(facts: Facts, found: EpisodeChapters, wording: Wording) -> EpisodeView:
    episode = found.told.episode
    return EpisodeView(
        title=episode.title,
        link=episode.link,
        published=episode.published,
        days=_days(found.told, wording),
        length=episode.length,
        chapters=tuple(
            ChapterView(each.at, each.title, moment_link(episode.link, each.at)) for each in found.chapters
        ),
        file=_file(facts, found),
    )


def _file(facts: Facts, found: EpisodeChapters) -> str:
    """The address of the chapters; empty where there are none, or nothing says when the last one ends."""
    if not found.chapters or found.end is None:
        return ""
    return f"chapters/{facts.id}-{found.told.number}.vtt"


def _days(told: ToldEpisode, wording: Wording) -> str:
    """The days that an episode tells; empty where nothing is said of them."""
    until = told.episode.until
    if told.since is None:
        return "" if until is None else tr("up to {day}", day=wording.say(until))
    if told.until is None:
        return tr("from day {first} on", first=told.since)
    return tr("from day {first} to day {last}", first=told.since, last=told.until)
