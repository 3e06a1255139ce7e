"""The episodes of a run on its page, with their chapters, and the files of these read back by an independent reader."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
import webvtt

from sitegen.core.facts.tree import Facts
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Deed
from sitegen.core.records.setup import Chapter, Episode, Prices
from sitegen.core.site.chapters import VTT
from sitegen.core.values.day import Day
from sitegen.measure import measure
from sitegen.render import render
from sitegen.render.story.episodes import chapter_pages, episodes_of
from tests.measure.builders import event
from tests.render.builders import full_run, site

CHAPTERS = (Chapter(0, "Sown & up"), Chapter(95, "P1 --> the <first> cut"), Chapter(3600, "Tasted\n  twice"))
EPISODES = (Episode("Told without"), Episode("In parts", length=3725, chapters=CHAPTERS))
FILMED = (
    event(Deed.CLIP, 0, what="sowing", at=0, line=900),
    event(Deed.CLIP, 36, what="the cut", at=130, line=936),
    event(Deed.CLIP, 60, at=250, line=960),
)


def facts(*episodes: Episode, filmed: bool = False) -> Facts:
    """The facts of a run with some episodes, and with footage of days 0, 36 and 60 if wanted."""
    run = full_run()
    rows = replace(run.rows, events=(*run.rows.events, *FILMED)) if filmed else run.rows
    return measure(replace(run, setup=replace(run.setup, episodes=episodes), rows=rows), Prices())


def page_of(*episodes: Episode, filmed: bool = False) -> str:
    """The section of the page about the run."""
    pages, findings = render(site(facts(*episodes, filmed=filmed).run))
    text = next(p for p in pages if p.address == "experiments/first-physalis.html").content.decode()

    assert findings == ()
    return text[text.index('id="notices"') :].partition("</section>")[0]


def test_the_whole_file() -> None:
    """Each chapter lasts until the next, the last until the end; no sign of a title is taken for a mark."""
    (page,) = chapter_pages(facts(*EPISODES))

    assert (page.address, page.media) == ("chapters/first-physalis-2.vtt", VTT)
    assert page.content.decode() == (
        "WEBVTT\n\n"
        "1\n00:00:00.000 --> 00:01:35.000\nSown &amp; up\n\n"
        "2\n00:01:35.000 --> 01:00:00.000\nP1 --&gt; the &lt;first&gt; cut\n\n"
        "3\n01:00:00.000 --> 01:02:05.000\nTasted twice\n"
    )


def test_an_independent_reader_takes_it() -> None:
    """Every chapter comes back with its times."""
    (page,) = chapter_pages(facts(*EPISODES))
    found = webvtt.from_buffer(io.StringIO(page.content.decode()))

    assert [(cue.identifier, cue.start, cue.end) for cue in found] == [
        ("1", "00:00:00.000", "00:01:35.000"),
        ("2", "00:01:35.000", "01:00:00.000"),
        ("3", "01:00:00.000", "01:02:05.000"),
    ]


def test_the_independent_reader_can_find_fault() -> None:
    """A file without its first line is refused."""
    (page,) = chapter_pages(facts(*EPISODES))

    with pytest.raises(webvtt.errors.MalformedFileError):
        webvtt.from_buffer(io.StringIO(page.content.decode().removeprefix("WEBVTT")))


def test_the_page_lists_and_links_them() -> None:
    """The episode's chapters stand on the page with their times, and lead to the file, which is there."""
    pages, _ = render(site(facts(*EPISODES).run))
    text = page_of(*EPISODES)

    assert '<li><time datetime="PT95S">1:35</time> P1 --&gt; the &lt;first&gt; cut</li>' in text
    assert '<time datetime="PT3725S">1:02:05</time>' in text
    assert text.count('href="../chapters/first-physalis-2.vtt" download') == 1
    assert "chapters/first-physalis-2.vtt" in {page.address for page in pages}


def test_chapters_link_into_the_episode() -> None:
    """A chapter's title links to its moment, as a media fragment (W3C, Media Fragments URI 1.0, 4.2.1)."""
    text = page_of(Episode("In parts", "https://example.org/e2", length=3725, chapters=CHAPTERS))

    assert (
        '<li><time datetime="PT95S">1:35</time> <a href="https://example.org/e2#t=95" rel="noopener">'
        "P1 --&gt; the &lt;first&gt; cut</a></li>"
    ) in text


def test_chapters_from_clips() -> None:
    """Without a list of the author's, clips with a time are the chapters; one without words has its phase's name."""
    filmed = facts(Episode("Under the roof", until=Day.on(64), length=400), filmed=True)
    (view,) = episodes_of(filmed, Wording())
    (page,) = chapter_pages(filmed)

    assert [(each.at, each.title) for each in view.chapters] == [
        (0, "Sowing"),
        (130, "The cut"),
        (250, "Picking"),
    ]
    assert view.file == page.address == "chapters/first-physalis-1.vtt"
    assert "00:04:10.000 --> 00:06:40.000\nPicking" in page.content.decode()


def test_chapters_from_clips_without_a_known_end() -> None:
    """They stand on the page, and there is no file, since nothing says when the last one ends."""
    text = page_of(Episode("Under the roof"), filmed=True)

    assert '<li><time datetime="PT130S">2:10</time> The cut</li>' in text
    assert "vtt" not in text
    assert list(chapter_pages(facts(Episode("Under the roof"), filmed=True))) == []


def test_clips_that_make_no_chapters() -> None:
    """Two clips in an episode are too few for chapters, and the page shows none."""
    (view,) = episodes_of(facts(Episode("To the cut", until=Day.on(50), length=400), filmed=True), Wording())

    assert (view.chapters, view.file) == ((), "")


def test_the_authors_own_chapters_come_first() -> None:
    """Where the author has named the parts, clips change nothing."""
    (view,) = episodes_of(facts(EPISODES[1], filmed=True), Wording())

    assert tuple(Chapter(each.at, each.title) for each in view.chapters) == CHAPTERS


def test_an_episode_that_follows_another() -> None:
    """It stands after the one that it follows, with its own days; one without a last day stands at the end."""
    episodes = (
        Episode("The rest"),
        Episode("The winter", until=Day.on(140)),
        Episode("The autumn", until=Day.on(64)),
    )

    assert [(view.title, view.days) for view in episodes_of(facts(*episodes), Wording())] == [
        ("The autumn", "up to day\u00a064"),
        ("The winter", "from day 65 to day 140"),
        ("The rest", "from day 141 on"),
    ]
    assert page_of(*episodes).index("The winter, from day 65 to day 140") > page_of(*episodes).index(
        "The autumn"
    )


def test_two_episodes_about_the_same_days() -> None:
    """Neither follows the other."""
    views = episodes_of(facts(Episode("A", until=Day.on(64)), Episode("B", until=Day.on(64))), Wording())

    assert [(view.title, view.days) for view in views] == [
        ("A", "up to day\u00a064"),
        ("B", "up to day\u00a064"),
    ]


def test_without_chapters_no_file() -> None:
    """Nothing is made up where the journal says nothing."""
    assert list(chapter_pages(facts(*full_run().setup.episodes))) == []
