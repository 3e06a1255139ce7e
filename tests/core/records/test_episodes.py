"""Episodes in the order in which they tell a run, and the clips of each."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.records.episodes import clips_by_time, told_episodes
from sitegen.core.records.rows import Clip, Deed, Rows
from sitegen.core.records.setup import Episode
from sitegen.core.values.day import Day
from tests.measure.builders import place, setup_of


def rows(*clips: tuple[int, int | None]) -> Rows:
    """Footage, each of a day with its time in the final cut."""
    return Rows(events=tuple(Clip(Deed.CLIP, Day.on(day), day, place(day + 100), at=at) for day, at in clips))


def told(
    *episodes: Episode, footage: Rows | None = None
) -> list[tuple[str, int | None, int | None, list[int | None]]]:
    """Each episode in order: its title, its days, the times of its clips."""
    found = told_episodes(replace(setup_of(), episodes=episodes), footage or rows())
    return [(each.episode.title, each.since, each.until, [clip.at for clip in each.clips]) for each in found]


def test_a_follow_up_begins_after_the_day_that_the_first_ends_with() -> None:
    """Day 20 belongs to the first, day 21 to the second, and what comes later to the one without a last day."""
    episodes = (Episode("C"), Episode("B", until=Day.on(60)), Episode("A", until=Day.on(20)))

    assert told(*episodes, footage=rows((0, 40), (20, 0), (21, 9), (60, 5), (61, 3), (90, None))) == [
        ("A", None, 20, [0, 40]),
        ("B", 21, 60, [5, 9]),
        ("C", 61, None, [3]),
    ]


def test_clips_after_the_last_day_are_in_no_episode() -> None:
    """An episode up to day 20 has no footage of day 21."""
    assert told(Episode("A", until=Day.on(20)), footage=rows((21, 9))) == [("A", None, 20, [])]


def test_episodes_without_days_stand_by_date() -> None:
    """The first published comes first, one without a date last; the first of them has all the clips."""
    episodes = (
        Episode("C"),
        Episode("B", published=dt.date(2026, 2, 1)),
        Episode("A", published=dt.date(2026, 1, 1)),
    )

    assert told(*episodes, footage=rows((9, 9))) == [
        ("A", None, None, [9]),
        ("B", None, None, []),
        ("C", None, None, []),
    ]


def test_a_span_of_days_counts_to_its_end() -> None:
    """An episode up to days 18-20 tells day 20; the next begins with day 21."""
    assert told(Episode("A", until=Day(18, 20)), Episode("B")) == [("A", None, 20, []), ("B", 21, None, [])]


def test_clips_by_time() -> None:
    """Those with a time, by it; of two alike the first written is the first."""
    assert [
        (clip.at, clip.day.first) for clip in clips_by_time(rows((5, 30), (6, None), (9, 0), (7, 30)))
    ] == [
        (0, 9),
        (30, 5),
        (30, 7),
    ]


@given(
    st.lists(st.one_of(st.none(), st.integers(0, 30)), max_size=5),
    st.lists(st.tuples(st.integers(0, 40), st.integers(0, 600)), max_size=12),
)
def test_no_clip_is_in_two_episodes(ends: list[int | None], footage: list[tuple[int, int]]) -> None:
    """Each is told once at most, in an episode that tells its day, and times rise."""
    episodes = tuple(
        Episode(str(n), until=None if end is None else Day.on(end)) for n, end in enumerate(ends)
    )
    found = told_episodes(replace(setup_of(), episodes=episodes), rows(*footage))
    clips = [clip for each in found for clip in each.clips]

    assert len(found) == len(episodes)
    assert len({id(clip) for clip in clips}) == len(clips)
    assert all(each.tells(clip.day.first) for each in found for clip in each.clips)
    assert all(list(each.clips) == sorted(each.clips, key=lambda clip: clip.at or 0) for each in found)
