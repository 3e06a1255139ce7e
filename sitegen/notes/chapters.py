"""The chapters of an episode for where it is put: as lines of text for its description, and as WebVTT.

In: facts, the number of an episode in the set-up, lengths of clips' files. Out: `EpisodeChapters` and findings: chapters
that a video host would refuse are not made, and the finding says what is missing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import clock
from sitegen.core.records.episodes import ToldEpisode, told_episodes
from sitegen.core.records.setup import Chapter
from sitegen.core.site.chapters import (
    EpisodeChapters,
    chapter_problem,
    chapters_of_episode,
    cut_without_episode,
    one_line,
    webvtt,
)


@dataclass(frozen=True, slots=True)
class Notes:
    """A text of the notes; empty where `findings` say why it cannot be made."""

    text: str = ""
    findings: tuple[Finding, ...] = ()


def chapters_of(
    facts: Facts, number: int | None = None, lengths: Mapping[str, int] | None = None
) -> tuple[Chapter, ...]:
    """The chapters of an episode, by its number from 1; without a number those of the last. Empty where refused."""
    found = _found(facts, number, lengths)
    return () if chapter_problem(found) else found.chapters


def chapters_text(facts: Facts, number: int | None = None, lengths: Mapping[str, int] | None = None) -> Notes:
    """Chapters as lines for a description: `0:00 Sowing`."""
    found = _found(facts, number, lengths)
    if refusal := _refusal(facts, found):
        return Notes(findings=(refusal,))
    return Notes("".join(f"{clock(each.at)} {one_line(each.title)}\n" for each in found.chapters))


def chapters_vtt(facts: Facts, number: int | None = None, lengths: Mapping[str, int] | None = None) -> Notes:
    """Chapters as a WebVTT file, for which the end of the last one must be known."""
    found = _found(facts, number, lengths)
    refusal = _refusal(facts, found) or _endless(facts, found)
    if refusal or found.end is None:
        return Notes(findings=(refusal,) if refusal else ())
    return Notes(webvtt(found.chapters, found.end))


def _found(facts: Facts, number: int | None, lengths: Mapping[str, int] | None) -> EpisodeChapters:
    return chapters_of_episode(facts, _episode(facts, number), lengths)


def _episode(facts: Facts, number: int | None) -> ToldEpisode:
    """The episode of a number; the last to tell the run without one, and all clips where no episode is named."""
    told = told_episodes(facts.run.setup, facts.run.rows)
    chosen = [each for each in told if number is None or each.number == number]
    return chosen[-1] if chosen else cut_without_episode(facts)


def _refusal(facts: Facts, found: EpisodeChapters) -> Finding | None:
    problem = chapter_problem(found)
    if problem is None:
        return None
    source = facts.run.setup.at("episodes" if found.written else "log")
    return Finding("chapters-refused", source, problem.message, problem.mend)


def _endless(facts: Facts, found: EpisodeChapters) -> Finding | None:
    """A finding where nothing says when the last chapter ends."""
    if found.end is not None:
        return None
    message = "the last chapter ends with the episode, whose length is not given"
    mend = "write `length: 12:30` in the episode, or `length` in its last clip"
    return Finding("chapters-refused", facts.run.setup.at("episodes"), message, mend, expected="length")
