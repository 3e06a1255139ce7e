"""A site in a language that runs from right to left, in a browser."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from sitegen.app.main import status_of
from sitegen.render.templates.themes import theme_names
from sitegen.words.extraction import all_messages, catalogue_of
from tests.browser.conftest import TODAY, journal_with
from tests.words.pseudo import hebrew, pseudo_catalogue

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

PAGES = (
    "index.html",
    "experiments/cinder-button-flood.html",
    "experiments/cinder-beside-pebble.html",
    "seasons/2025-autumn.html",
    "compare.html",
    "methods.html",
    "cautions.html",
    "404.html",
)
# A page has more to its left than can be scrolled to, where something is wider than it.
WIDER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
RUNS = """() => [document.dir, getComputedStyle(document.querySelector("h1")).direction,
  ...[...document.querySelectorAll("svg")].slice(0, 1).map((each) => getComputedStyle(each).direction)]"""
# Where the first figure's number stands, and its unit: Latin letters stay to the right of the digits before them.
FIGURE = """() => {
  const figures = [...document.querySelectorAll("a[data-figure], [data-figure] > a")];
  const node = figures.find((each) => /^[\\d–.]+\\sg/.test(each.textContent)).firstChild;
  const place = (from, to) => {
    const range = document.createRange();
    range.setStart(node, from);
    range.setEnd(node, to);
    return range.getBoundingClientRect().left;
  };
  const unit = node.textContent.indexOf("g");
  return place(0, 1) < place(unit, unit + 1);
}"""


@pytest.fixture(scope="module", params=theme_names())
def site(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A few experiments of the demo with all words of the site in Hebrew letters."""
    home = tmp_path_factory.mktemp(f"leftward-{request.param}")
    journal = journal_with(home / "journal", request.param)
    head = journal / "journal.yaml"
    head.write_text(re.sub(r"(?m)^language:.*$", "language: he", head.read_text("utf-8")), "utf-8")
    words = journal / "look" / "words" / "he.po"
    words.parent.mkdir(parents=True)
    words.write_text(pseudo_catalogue(catalogue_of(all_messages()), hebrew), "utf-8")
    assert status_of(["write", str(journal), "-o", str(home / "site"), "--today", TODAY]) == 0
    return home / "site"


def test_a_site_runs_from_right_to_left(browser: Browser, site: Path) -> None:
    """Pages say so, fit a phone and a desk, and their drawings keep the days from left to right."""
    page = browser.new_page()
    wide, runs = [], set()
    for address in PAGES:
        page.goto((site / address).as_uri())
        runs.add(tuple(page.evaluate(RUNS)))
        for width in (320, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            if page.evaluate(WIDER) > 0:
                wide.append((address, width))
    page.close()

    assert (wide, runs) == ([], {("rtl", "rtl", "ltr"), ("rtl", "rtl")})  # the last stands alone


def test_a_number_keeps_its_order(browser: Browser, site: Path) -> None:
    """`205 g` reads as it is written, whatever stands around it."""
    page = browser.new_page()
    page.goto((site / "experiments/cinder-button-flood.html").as_uri())
    kept = page.evaluate(FIGURE)
    page.close()

    assert kept
