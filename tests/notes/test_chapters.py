"""The chapters of an episode as lines and as WebVTT, and why they cannot be had."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.records.setup import Chapter, Episode
from sitegen.notes.chapters import Notes, chapters_of, chapters_text, chapters_vtt
from tests.core.site.test_chapters import clip, facts

OWN = (Chapter(0, "Sowing"), Chapter(70, "P1 & P2"), Chapter(3600, "Tasted\n twice"))
FILMED = (clip(0, 0, "sowing"), clip(9, 75, "the seedlings"), clip(60, 250, "the scale"))


def refused(found: Notes) -> tuple[str, str]:
    """The message and the mend of the one finding, where there is no text."""
    (finding,) = found.findings

    assert (found.text, finding.code) == ("", "chapters-refused")
    return finding.message, finding.mend


def test_the_authors_own() -> None:
    """A line each, with hours from an hour on."""
    made = facts(*FILMED, episode=Episode("E", length=3725, chapters=OWN))

    assert chapters_of(made) == OWN
    assert chapters_text(made) == Notes("0:00 Sowing\n1:10 P1 & P2\n1:00:00 Tasted twice\n")
    assert chapters_vtt(made).text.endswith("3\n01:00:00.000 --> 01:02:05.000\nTasted twice\n")


def test_from_clips() -> None:
    """Clips with a time are the chapters of an episode without a list, and of a cut that is not in the set-up yet."""
    expected = Notes("0:00 Sowing\n1:15 The seedlings\n4:10 The scale\n")

    assert chapters_text(facts(*FILMED)) == expected
    assert chapters_text(facts(*FILMED, episode=Episode("E", length=300))) == expected
    assert chapters_vtt(facts(*FILMED, episode=Episode("E", length=300))).text == (
        "WEBVTT\n\n"
        "1\n00:00:00.000 --> 00:01:15.000\nSowing\n\n"
        "2\n00:01:15.000 --> 00:04:10.000\nThe seedlings\n\n"
        "3\n00:04:10.000 --> 00:05:00.000\nThe scale\n"
    )


def test_a_file_needs_an_end() -> None:
    """The lines do not; the length of the last clip's file is enough."""
    made = facts(clip(0, 0, "a"), clip(9, 75, "b"), clip(60, 250, "c", file="c.mp4"))

    assert refused(chapters_vtt(made)) == (
        "the last chapter ends with the episode, whose length is not given",
        "write `length: 12:30` in the episode, or `length` in its last clip",
    )
    assert "00:04:10.000 --> 00:04:40.000" in chapters_vtt(made, lengths={"c.mp4": 30}).text


def test_refused() -> None:
    """What a host would not take is not made, as lines or as a file; the finding lies at the log."""
    made = facts(clip(0, 42, "a"), clip(9, 75, "b"), clip(60, 250, "c"), episode=Episode("E", length=300))

    assert chapters_of(made) == ()
    assert refused(chapters_text(made)) == ("the first chapter begins at 0:42", "name something at 0:00")
    assert chapters_vtt(made) == chapters_text(made)
    assert chapters_text(made).findings[0].source == made.run.setup.at("log")


def test_refused_as_the_author_wrote_them() -> None:
    """The page shows the author's own chapters as they are; a host would not take two."""
    made = facts(episode=Episode("E", length=300, chapters=(Chapter(0, "A"), Chapter(50, "B"))))

    assert refused(chapters_text(made)) == (
        "there are 2 chapters, and video hosts ask for 3",
        "name 1 more chapter of 10 seconds or longer",
    )


def test_nothing_filmed() -> None:
    """Without clips and without a list there is nothing to name."""
    assert refused(chapters_text(facts())) == (
        "there are no chapters: no clip has a time in this episode",
        "write `at: 0:00` and so on for its clips in the log, or `chapters` in the episode",
    )


@given(st.lists(st.tuples(st.integers(0, 99), st.integers(0, 9000), st.text(max_size=40)), max_size=8))
def test_no_text_stops_them(footage: list[tuple[int, int, str]]) -> None:
    """There is a text or one finding, whatever clips are called, and a line for each chapter."""
    made = facts(*(clip(day, at, what) for day, at, what in footage))
    found = chapters_text(made)

    assert bool(found.text) != bool(found.findings)
    assert len(found.text.split("\n")) - 1 == len(chapters_of(made))
