"""Chapters from the author's list or from clips, and what video hosts ask of them (common practice, no source)."""

# ruff: noqa: E501 - a finding stays whole on its line

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.tree import Facts
from sitegen.core.records.episodes import ToldEpisode
from sitegen.core.records.rows import Deed, Entry, Event
from sitegen.core.records.setup import Chapter, Episode, Prices
from sitegen.core.site.chapters import (
    EpisodeChapters,
    chapter_problem,
    chapters_of_episode,
    cut_without_episode,
    episode_chapters,
    moment_link,
)
from sitegen.core.site.chapters import (
    webvtt as vtt_of,
)
from sitegen.core.values.day import Day
from sitegen.measure import measure
from tests.measure.builders import event, place, run_of, setup_of


def clip(day: int, at: int | None, what: str = "", **more: Any) -> Event:
    """Footage of a day."""
    return event(Deed.CLIP, day, what=what, at=at, line=500 + day, **more)


def facts(*clips: Event, episode: Episode | None = None, never: tuple[int, ...] = ()) -> Facts:
    """The facts of a run with footage, told in one episode or in none; entries of the days in `never` are not told."""
    setup = replace(setup_of(), episodes=() if episode is None else (episode,))
    days = sorted({each.day.first for each in clips} | {0})
    entries = tuple(
        Entry(day, Day.on(day), place(100 + day), "never" if day in never else "") for day in days
    )
    return measure(run_of(setup, events=clips, entries=entries), Prices())


def chapters(*clips: Event, **more: Any) -> list[tuple[int, str]]:
    """The chapters that clips make, of an episode that is not in the set-up yet."""
    found = facts(*clips, **more)
    return [(each.at, each.title) for each in chapters_of_episode(found, cut_without_episode(found)).chapters]


def test_clips_become_chapters_in_the_order_of_the_cut() -> None:
    """The day does not count: a cut may begin with its end."""
    assert chapters(
        clip(3, 90, "sowing"), clip(60, 0, "the whole harvest"), clip(40, None, "not in the cut")
    ) == [
        (0, "The whole harvest"),
        (90, "Sowing"),
    ]


def test_a_clip_without_words() -> None:
    """It is named by its phase; outside of all phases by the day."""
    assert chapters(clip(3, 0), clip(60, 90, " two\n lines ")) == [(0, "Germination"), (90, "Two lines")]
    assert chapters(clip(-1, 0)) == [(0, "Day 0")]


def test_clips_close_together_are_one_chapter() -> None:
    """One that begins 9 seconds after a chapter belongs to it; 10 seconds after it begins a new one."""
    assert chapters(
        clip(1, 0, "a"), clip(2, 9, "b"), clip(3, 10, "c"), clip(4, 19, "d"), clip(5, 20, "e")
    ) == [
        (0, "A"),
        (10, "C"),
        (20, "E"),
    ]


def test_clips_of_one_name_are_one_chapter() -> None:
    """The same words twice in a row tell a viewer nothing new."""
    assert chapters(
        clip(1, 0, "the cut"), clip(2, 40, "the cut"), clip(3, 60, "the pan"), clip(4, 80, "the cut")
    ) == [
        (0, "The cut"),
        (60, "The pan"),
        (80, "The cut"),
    ]


def test_what_is_never_told_is_no_chapter() -> None:
    """An entry with `tell: never` keeps its clip out of the list."""
    assert chapters(clip(1, 0, "a"), clip(2, 40, "b"), clip(3, 60, "c"), never=(2,)) == [(0, "A"), (60, "C")]


def test_the_last_clip_begins_well_before_the_end() -> None:
    """Less than 10 seconds before the episode's end nothing begins."""
    clips = (clip(1, 0, "a"), clip(2, 100, "b"), clip(3, 190, "c"), clip(4, 191, "d"))
    (found,) = episode_chapters(facts(*clips, episode=Episode("E", length=200)))

    assert [each.at for each in found.chapters] == [0, 100, 190]


def test_the_end_of_the_last_clip() -> None:
    """Where the episode's length is not given, the last clip's own length is taken, or that of its file."""
    told = cut_without_episode(made := facts(clip(1, 0), clip(2, 100, file="a.mp4", length=12)))
    assert chapters_of_episode(made, told).end == 112

    told = cut_without_episode(made := facts(clip(1, 0), clip(2, 100, file="a.mp4")))
    assert chapters_of_episode(made, told).end is None
    assert chapters_of_episode(made, told, {"a.mp4": 31}).end == 131
    assert chapters_of_episode(made, told, {"a.mp4": 9}).end is None  # too short for a chapter


def problem(*times: int, end: int | None = None, written: bool = True) -> tuple[str, str] | None:
    """What is wrong with chapters that begin at some times."""
    made = tuple(Chapter(at, f"part {at}") for at in times)
    return chapter_problem(EpisodeChapters(ToldEpisode(1, Episode("E")), made, end, written))


@pytest.mark.parametrize(
    ("times", "end", "expected"),
    [
        ((0, 10, 20), None, None),
        ((0, 10, 20), 30, None),
        ((42, 60, 90), None, ("the first chapter begins at 0:42", "name something at 0:00")),
        ((0, 60), None, ("there are 2 chapters, and video hosts ask for 3", "name 1 more chapter of 10 seconds or longer")),
        ((0,), None, ("there is 1 chapter, and video hosts ask for 3", "name 2 more chapters of 10 seconds or longer")),
        ((0, 9, 90), None, ("the chapter at 0:00 lasts 9 seconds, until 0:09", "leave one out, or make it 10 seconds or longer")),
        ((0, 89, 90), None, ("the chapter at 1:29 lasts 1 second, until 1:30", "leave one out, or make it 10 seconds or longer")),
        ((0, 90, 50), None, ("the chapter at 0:50 does not begin after the one before it, at 1:30", "put the chapters in order")),
        ((0, 10, 20), 29, ("the last chapter, at 0:20, begins less than 10 seconds before the end", "leave it out, or let it begin earlier")),
    ],
)  # fmt: skip
def test_what_hosts_ask(times: tuple[int, ...], end: int | None, expected: tuple[str, str] | None) -> None:
    """The first at 0:00, at least three, in order, each of 10 seconds; the message says what is missing."""
    assert problem(*times, end=end) == expected


def test_what_is_missing_where_clips_are_the_source() -> None:
    """Then the mend is about clips."""
    assert problem(written=False) == (
        "there are no chapters: no clip has a time in this episode",
        "write `at: 0:00` and so on for its clips in the log, or `chapters` in the episode",
    )
    assert problem(0, 50, written=False) == (
        "there are 2 chapters, and video hosts ask for 3",
        "give `at` to clips for 1 more chapter, each 10 seconds or more after the one before",
    )


def test_a_moment_of_an_episode() -> None:
    """A media fragment is added to an address; nothing to none, nor to one that has a fragment."""
    assert moment_link("https://example.org/e1?a=b", 250) == "https://example.org/e1?a=b#t=250"
    assert moment_link("https://example.org/e1#top", 250) == "https://example.org/e1#top"
    assert moment_link("", 250) == ""


FOOTAGE = st.lists(
    st.tuples(st.integers(0, 90), st.one_of(st.none(), st.integers(0, 5000)), st.text(max_size=30)),
    max_size=15,
)


@given(FOOTAGE, st.one_of(st.none(), st.integers(1, 5000)))
def test_chapters_of_any_clips_are_sound(
    footage: list[tuple[int, int | None, str]], length: int | None
) -> None:
    """Whatever is filmed, chapters from clips rise by 10 seconds, have a name of one line, and are a file that is read."""
    made = facts(*(clip(day, at, what) for day, at, what in footage), episode=Episode("E", length=length))
    (found,) = episode_chapters(made)
    times = [each.at for each in found.chapters]

    assert times == [] or (times[0] == 0 and len(times) >= 3)
    assert all(later - before >= 10 for before, later in pairwise(times))
    assert all(each.title and "\n" not in each.title for each in found.chapters)
    if found.chapters and found.end is not None:
        read = webvtt.from_buffer(io.StringIO(vtt_of(found.chapters, found.end)))
        assert [cue.start_in_seconds for cue in read] == times
