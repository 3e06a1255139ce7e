"""The chapters of episodes as WebVTT, read back by an independent reader."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
import webvtt

from sitegen.core.records.setup import Chapter, Episode, Setup
from sitegen.render import render
from sitegen.render.metadata.linked_data import VTT, chapter_pages
from tests.render.builders import full_run, site

CHAPTERS = (Chapter(0, "Sown & up"), Chapter(95, "P1 --> the <first> cut"), Chapter(3600, "Tasted\n  twice"))
EPISODES = (Episode("Told without"), Episode("In parts", length=3725, chapters=CHAPTERS))


def setup() -> Setup:
    """A run with two episodes, of which one has chapters."""
    return replace(full_run().setup, episodes=EPISODES)


def test_the_whole_file() -> None:
    """Each chapter lasts until the next, the last until the end; no sign of a title is taken for a mark."""
    (page,) = chapter_pages(setup())

    assert (page.address, page.media) == ("chapters/first-physalis-2.vtt", VTT)
    assert page.content.decode() == (
        "WEBVTT\n\n"
        "1\n00:00:00.000 --> 00:01:35.000\nSown &amp; up\n\n"
        "2\n00:01:35.000 --> 01:00:00.000\nP1 --&gt; the &lt;first&gt; cut\n\n"
        "3\n01:00:00.000 --> 01:02:05.000\nTasted twice\n"
    )


def test_an_independent_reader_takes_it() -> None:
    """Every chapter comes back with its times."""
    (page,) = chapter_pages(setup())
    found = webvtt.from_buffer(io.StringIO(page.content.decode()))

    assert [(cue.identifier, cue.start, cue.end) for cue in found] == [
        ("1", "00:00:00.000", "00:01:35.000"),
        ("2", "00:01:35.000", "01:00:00.000"),
        ("3", "01:00:00.000", "01:02:05.000"),
    ]


def test_the_independent_reader_can_find_fault() -> None:
    """A file without its first line is refused."""
    (page,) = chapter_pages(setup())

    with pytest.raises(webvtt.errors.MalformedFileError):
        webvtt.from_buffer(io.StringIO(page.content.decode().removeprefix("WEBVTT")))


def test_the_page_lists_and_links_them() -> None:
    """The episode's chapters stand on the page with their times, and lead to the file, which is there."""
    run = full_run()
    pages, findings = render(site(replace(run, setup=setup())))
    text = next(p for p in pages if p.address == "experiments/first-physalis.html").content.decode()

    assert findings == ()
    assert '<li><time datetime="PT95S">1:35</time> P1 --&gt; the &lt;first&gt; cut</li>' in text
    assert '<time datetime="PT3725S">1:02:05</time>' in text
    assert text.count('href="../chapters/first-physalis-2.vtt" download') == 1
    assert "chapters/first-physalis-2.vtt" in {page.address for page in pages}


def test_without_chapters_no_file() -> None:
    """Nothing is made up where the journal says nothing."""
    assert list(chapter_pages(full_run().setup)) == []
