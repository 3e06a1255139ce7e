"""The chapters of episodes as WebVTT, for players and hosts that take them.

In: the set-up of an experiment. Out: a file for each episode with chapters. A chapter lasts until the next begins, the
last until the episode ends; no time is computed from the log.

References
----------
WebVTT: The Web Video Text Tracks Format, https://www.w3.org/TR/webvtt1/ (4.1 syntax; 4.4 chapter cues)

"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sitegen.core.records.setup import Episode, Setup
from sitegen.core.site.page import Page

VTT = "text/vtt"
_ESCAPED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})


def chapter_files(setup: Setup) -> dict[int, str]:
    """The address of the chapters of each episode, by the episode's number from 1."""
    numbered = enumerate(setup.episodes, start=1)
    return {number: f"chapters/{setup.id}-{number}.vtt" for number, each in numbered if each.chapters}


def chapter_pages(setup: Setup) -> Iterator[Page]:
    """The files."""
    for number, address in chapter_files(setup).items():
        yield Page(address, VTT, "\n\n".join(_blocks(setup.episodes[number - 1])) + "\n")


def _blocks(episode: Episode) -> Iterator[str]:
    assert episode.length is not None  # chapters without it are a finding
    yield "WEBVTT"
    times = [*(chapter.at for chapter in episode.chapters), episode.length]
    spans = zip(pairwise(times), episode.chapters, strict=True)
    for number, ((begin, end), chapter) in enumerate(spans, start=1):
        yield f"{number}\n{_stamp(begin)} --> {_stamp(end)}\n{_text(chapter.title)}"


def _stamp(seconds: int) -> str:
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.000"


def _text(title: str) -> str:
    """A title as one line of a cue; no sign in it begins a tag or ends the times."""
    return " ".join(title.split()).translate(_ESCAPED)
