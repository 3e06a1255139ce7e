"""Clips against the episodes that they are in."""

from __future__ import annotations

from sitegen.core.records.rows import Deed, Event, Run
from sitegen.core.records.setup import Episode
from sitegen.core.values.day import Day
from sitegen.judge.footage import clip_late, clips_at_once
from tests.judge.builders import by, done, run, setup, sown

FIRST = Episode("To the cut", until=Day.on(20), length=750)
SECOND = Episode("After the cut", until=Day.on(60), length=600)


def clip(when: int, at: int | None, line: int = 0) -> Event:
    """Footage of a day."""
    return done(Deed.CLIP, when, line=line, at=at)


def filmed(*clips: Event, episodes: tuple[Episode, ...] = (FIRST, SECOND)) -> Run:
    """A run with some footage and two episodes."""
    return run(sown(), *clips, head=setup(episodes=episodes))


def test_a_clip_after_the_end() -> None:
    """A clip at the length of its episode begins when that has ended; a second earlier it is the last one."""
    assert by(clip_late, filmed(clip(5, 749), clip(20, 750))) == [
        (
            "e.yaml:120:5: error[clip-late]: the clip on day 20 at 12:30 begins when `To the cut` has ended, at 12:30 "
            "(mend its `at`, or the episode's `length` or `until`)"
        )
    ]


def test_a_clip_belongs_to_the_episode_of_its_day() -> None:
    """Day 21 is told by the second episode, whatever the order in which they are written."""
    made = filmed(clip(5, 700), clip(21, 700), episodes=(SECOND, FIRST))

    assert by(clip_late, made) == [
        (
            "e.yaml:121:5: error[clip-late]: the clip on day 21 at 11:40 begins when `After the cut` has ended, at 10:00 "
            "(mend its `at`, or the episode's `length` or `until`)"
        )
    ]


def test_nothing_to_compare() -> None:
    """Without a length, an episode or a time there is no end to begin after."""
    assert by(clip_late, filmed(clip(5, 9000), episodes=(Episode("Told"),))) == []
    assert by(clip_late, filmed(clip(5, 9000), episodes=())) == []
    assert by(clip_late, filmed(clip(5, None))) == []
    assert by(clip_late, filmed(clip(61, 9000))) == []


def test_two_clips_at_once() -> None:
    """The later of two at one time names the line of the other; three make two findings."""
    assert by(clips_at_once, filmed(clip(5, 90), clip(9, 90), clip(12, 90))) == [
        (
            "e.yaml:109:5: warning[clips-at-once]: the clip on day 9 at 1:30 begins when that of line 105 does, in "
            "`To the cut` (mend one of the two times, or leave out `at` where a clip is not in the cut)"
        ),
        (
            "e.yaml:112:5: warning[clips-at-once]: the clip on day 12 at 1:30 begins when that of line 109 does, in "
            "`To the cut` (mend one of the two times, or leave out `at` where a clip is not in the cut)"
        ),
    ]


def test_clips_of_two_episodes_may_have_one_time() -> None:
    """Times are counted in each episode anew; clips without a time are not in a cut."""
    assert by(clips_at_once, filmed(clip(5, 90), clip(40, 90), clip(6, None), clip(7, None))) == []
