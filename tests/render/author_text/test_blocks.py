"""Charts, photos and strips where the author's text wants them, and nowhere else on the page."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Photo, Run
from sitegen.core.site.blocks import KINDS
from sitegen.core.site.content import ExperimentContent, Picture, PictureFile
from sitegen.core.values.day import Day
from sitegen.render import render
from tests.measure.builders import joint
from tests.render.builders import chart, facts, full_run, site

EARLY, LATE, BOTH = "early.jpg", "late.jpg", "both.jpg"
DAYS = {EARLY: 30, LATE: 55, BOTH: 60}
PLANTS = {EARLY: ("P1",), LATE: ("P1",), BOTH: ("P1", "P2")}


def run_with(recap: str) -> Run:
    """A run with three photos in its log."""
    run = full_run(recap)
    rows = tuple(
        Photo(file, Day.on(day), 0, Source("e.yaml"), which=joint(*PLANTS[file]))
        for file, day in DAYS.items()
    )
    files = tuple(PhotoFile(file, Day.on(day)) for file, day in DAYS.items())
    return replace(run, rows=replace(run.rows, photos=rows), photo_files=files)


def picture(file: str) -> Picture:
    """A photo with one file."""
    size = PictureFile(f"photos/{file}", "image/jpeg", 400, 300)
    return Picture(file, f"Drawn: {file}", (size,), f"Day {DAYS[file]}", Day.on(DAYS[file]), PLANTS[file])


def page_with(recap: str, theme: str = "ledger") -> str:
    """The experiment's page."""
    given = site(run_with(recap))
    written = ExperimentContent(facts(run_with(recap)), (chart(),), tuple(map(picture, DAYS)))
    journal = replace(given.journal, theme=theme)
    pages, findings = render(replace(given, journal=journal, experiments=(written,)))
    assert findings == ()
    return next(p.content.decode() for p in pages if p.address == "experiments/first-physalis.html")


def test_a_chart_stands_in_the_text_and_once() -> None:
    """Further down the page leads back to it."""
    html = page_with("Before.\n\n```chart\nheight\n```\n\nAfter.")

    assert html.count('<figure class="chart" id="chart-height">') == 1
    assert html.index("<p>Before.</p>") < html.index('id="chart-height"') < html.index("<p>After.</p>")
    assert (
        '<p class="elsewhere"><a href="#chart-height">Height, cm</a>: drawn where it is written about</p>'
        in html
    )


def test_a_photo_stands_with_its_day_and_caption() -> None:
    """A caption may hold a value, and is no markup."""
    html = page_with("```photo\nearly.jpg\nFirst <leaf>, {{ facts.visits }} visits\n```")

    figure = re.search(r'<figure class="photo" id="photo-3c4950f8">.*?</figure>', html, re.DOTALL)
    assert figure is not None
    caption = re.sub(r"</?(?:a|span)\b[^>]*>", "", figure[0][figure[0].index("<figcaption>") :])
    assert caption.startswith("<figcaption>Day\u00a030, P1: First &lt;leaf&gt;, 12 visits</figcaption>")
    assert html.count('src="../photos/early.jpg"') == 1


def test_a_strip_shows_one_plant_day_by_day() -> None:
    """Photos of other plants beside it are not among them; the gallery has what is left."""
    html = page_with("```strip\nP1\n```")

    strip = re.search(r'<figure class="of-strip" id="strip-p1">.*?</ol>', html, re.DOTALL)
    assert strip is not None
    assert re.findall(r'src="../photos/(\w+)\.jpg"', strip[0]) == ["early", "late"]
    assert "<figcaption>P1, day by day</figcaption>" in html
    assert html.count('src="../photos/early.jpg"') == 1


def test_a_group_and_everything() -> None:
    """A group's strip holds photos of any of its plants, `all` every photo."""
    group, everything = page_with("```strip\nearly\n```"), page_with("```strip\nall\n```")

    assert "<figcaption>Group early, day by day</figcaption>" in group
    # Three, and the picture at the head.
    assert [html.count(' src="../photos/') for html in (group, everything)] == [4, 4]


def test_the_other_theme_leaves_out_the_same() -> None:
    """Its pictures stand above the text, its charts below."""
    html = page_with("```chart\nheight\n```\n\n```photo\nearly.jpg\n```", "propagator")

    assert html.count('<figure class="chart" id="chart-height">') == 1
    assert html.count('src="../photos/early.jpg"') == 1
    assert re.findall(r'<p class="elsewhere"><a href="#([\w-]+)">', html) == ["chart-height"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_block_can_be_rendered(kind: str) -> None:
    """A block of any kind leaves its text on the page where its name is unknown."""
    assert "Mind the step" in page_with(f"```{kind}\nMind the step\n```")


def test_other_code_stays_code() -> None:
    """So does a block that names nothing that is there."""
    html = page_with("```chart\nweather\n```\n\n```\nchart\n```")

    assert '<pre><code class="language-chart">weather' in html
    assert "<pre><code>chart" in html
