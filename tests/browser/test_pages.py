"""The written pages in a browser, from a folder on disk: they fit, can be read, and miss nothing without script."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

EXPERIMENT = "experiments/cinder-button-flood.html"
RECORD = "experiments/cinder-button-flood/record.html"
KINDS = (
    "index.html",
    EXPERIMENT,
    RECORD,
    "experiments/cinder-beside-pebble.html",
    "crops/dwarf-tomato.html",
    "systems/flood-tray.html",
    "seasons/2025-autumn.html",
    "compare.html",
    "methods.html",
    "cautions.html",
    "about.html",
    "404.html",
)
WIDTHS = (320, 360, 768, 1280)
NAMELESS = """() => [...document.querySelectorAll("a, button, input, img, svg[role], [role=region], summary, table")]
  .filter((each) => {
    const labels = [...(each.labels ?? [])].map((label) => label.textContent).join("");
    const inside = each.matches("input, img, svg, table, [role=region]") ? "" : each.textContent;
    const image = each.querySelector("img")?.alt ?? "";
    const within = (each.caption ?? each.querySelector("title"))?.textContent ?? "";
    return !(each.getAttribute("aria-label") || labels || each.alt || inside.trim() || image || within);
  }).map((each) => each.outerHTML.slice(0, 120))"""

UNREACHED = """() => [...document.querySelectorAll("main *")].filter((each) =>
  ["auto", "scroll"].includes(getComputedStyle(each).overflowX) && each.scrollWidth > each.clientWidth
  && each.tabIndex < 0 && !each.querySelector("a, button, input")).map((each) => each.outerHTML.slice(0, 120))"""
# Of pictures of four by three, three by two is shown.
STRETCHED = """() => [...document.querySelectorAll(".wall img, .cards img")].filter((each) =>
  Math.abs((each.clientWidth / each.clientHeight) / (each.naturalWidth / each.naturalHeight) - 1) > 0.15)
  .map((each) => each.src)"""
LOWERED = """() => [...document.querySelectorAll(".arms tbody tr")].filter((row) => {
  const cell = document.createRange();
  cell.selectNodeContents(row.cells[1]);
  const [title] = row.querySelector("th a").getClientRects(), [first] = cell.getClientRects();
  return first && Math.abs(title.bottom - first.bottom) > 6;
}).map((row) => row.innerText)"""


def given_up(request: Request) -> bool:
    """Whether a request failed only because the window went on to another page."""
    return request.failure == "net::ERR_ABORTED"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A window; what goes wrong in it fails the test."""
    found = browser.new_page()
    wrong: list[str] = []
    found.on("pageerror", lambda error: wrong.append(str(error)))
    found.on("requestfailed", lambda asked: None if given_up(asked) else wrong.append(asked.url))
    found.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
    yield found
    found.close()
    assert wrong == []


def test_pages_fit_every_width(page: Page, site: Path) -> None:
    """No page is wider than its window, from a small phone to a desk."""
    wide = []
    for address in KINDS:
        page.goto((site / address).as_uri())
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            if page.evaluate("document.documentElement.scrollWidth") > width:
                wide.append((address, width))

    assert wide == []


def test_the_header_leaves_a_phone_to_the_page(page: Page, site: Path) -> None:
    """The name, the search and the pages take at most 15 % of the first screen of a phone (no source)."""
    page.set_viewport_size({"width": 360, "height": 740})
    tall = {}
    for address in KINDS:
        page.goto((site / address).as_uri())
        for header in page.locator(".masthead").all():
            found = header.locator("input").count()
            assert found == (address != "404.html"), address  # that one runs no script on a disk
            tall[address] = header.evaluate("(each) => each.offsetHeight")

    assert tall.keys() >= {"index.html", EXPERIMENT}
    assert [(address, height) for address, height in tall.items() if height > 0.15 * 740] == []


def test_the_search_stands_beside_the_name(page: Page, site: Path) -> None:
    """On a tablet too the pages have the second row to themselves, instead of the search a third."""
    page.set_viewport_size({"width": 768, "height": 1024})
    page.goto((site / EXPERIMENT).as_uri())
    name, search, pages = (
        page.locator(f".masthead {each}").bounding_box() for each in (".site", ".find", "nav")
    )

    assert name is not None
    assert search is not None
    assert pages is not None
    assert search["y"] < name["y"] + name["height"] <= pages["y"] + 1
    assert search["y"] + search["height"] <= pages["y"] + 1


def test_keys_reach_all_that_scrolls(page: Page, site: Path) -> None:
    """What is wider than its place is named and in the order of the tab key, or holds something that is."""
    for address in KINDS:
        page.goto((site / address).as_uri())
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate(UNREACHED) == [], (address, width)


def test_home_shows_a_picture_once_and_whole(page: Page, site: Path) -> None:
    """The run that the page begins with has no second picture among its season, and each shows most of itself."""
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto((site / "index.html").as_uri())
    for image in page.locator("main img").all():
        image.scroll_into_view_if_needed()
    page.wait_for_function("[...document.images].every((each) => each.naturalWidth)")
    shown = page.evaluate(
        "[...document.querySelectorAll('main img')].map((each) => each.getAttribute('src'))"
    )

    assert len(shown) > 2
    assert len(set(shown)) == len(shown)
    assert page.evaluate(STRETCHED) == []


def test_the_cells_of_a_row_begin_on_one_line(page: Page, site: Path) -> None:
    """A title that takes three lines does not push its values down to the last of them."""
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto((site / "compare.html").as_uri())

    assert page.locator(".arms tbody tr").count() > 2
    assert page.evaluate(LOWERED) == []


def test_a_story_has_the_whole_width(page: Page, site: Path) -> None:
    """What was before the run stands above it: beside two columns it would leave them room for few words each."""
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto((site / "experiments/cinder-beside-pebble.html").as_uri())
    widths = "[...document.querySelectorAll('.story, .story > .text')].map((each) => each.clientWidth)"
    section, text = page.evaluate(widths)

    assert page.locator(".story > .aside").count() == 1
    assert text >= 0.9 * section


def test_what_can_be_used_has_a_name(page: Page, site: Path) -> None:
    """Links, controls, pictures, drawings, tables and regions say what they are; ids are given once."""
    for address in KINDS:
        page.goto((site / address).as_uri())
        ids = page.evaluate("[...document.querySelectorAll('[id]')].map((each) => each.id)")

        assert page.evaluate(NAMELESS) == [], address
        assert len(ids) == len(set(ids)), address


def test_headings_skip_no_level(page: Page, site: Path) -> None:
    """One heading of the first level; below it each is at most one level deeper than the one before."""
    for address in KINDS:
        page.goto((site / address).as_uri())
        levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4')].map((h) => +h.tagName[1])")

        assert levels.count(1) == 1, address
        assert all(later <= earlier + 1 for earlier, later in pairwise(levels)), (address, levels)


def test_the_first_picture_comes_at_once_and_the_others_when_they_are_near(page: Page, site: Path) -> None:
    """One picture of a page is not lazy, all keep their place, and each has its own colour until it is there."""
    page.goto((site / EXPERIMENT).as_uri())
    images = page.locator("main figure:not(.stage) img")
    eager = page.locator("main img:not([loading=lazy])")

    assert (images.count() > 4, eager.count()) == (True, 1)
    assert page.locator("main figure:not(.stage) img[width][height]").count() == images.count()
    assert page.locator("a.shot .ground rect[fill^='#']").count() == images.count()


def test_ready_stands_beside_what_was_not(page: Page, site: Path) -> None:
    """Pictures that say how far the crop was stand in the strip, each under its day and its word."""
    page.goto((site / EXPERIMENT).as_uri())

    captions = page.locator(".by-day figcaption").all_inner_texts()
    assert [text for text in captions if "ready" in text] == [
        "Day\u00a056, not ready",
        "Day\u00a0106, ready",
    ]


def test_nothing_is_missing_without_script(browser: Browser, site: Path) -> None:
    """All text, drawings and pictures are there, no control stands dead, and each picture leads to its file."""
    page = browser.new_context(java_script_enabled=False).new_page()
    for address in KINDS:
        page.goto((site / address).as_uri())
        assert page.locator("button, input, select, dialog").count() == 0, address
    page.goto((site / EXPERIMENT).as_uri())
    shots = [each.get_attribute("href") or "" for each in page.locator("a.shot").all()]

    assert shots
    assert all((site / EXPERIMENT).parent.joinpath(shot).is_file() for shot in shots)
    assert page.locator(".chart svg").count() > 4
    page.goto((site / RECORD).as_uri())
    assert page.locator(".entry").count() > 10
    page.context.close()


def test_on_paper_the_picture_is_as_on_the_screen(page: Page, site: Path) -> None:
    """Its frame is filled to the bottom, and shows as much of the picture as on a phone (A4 is 794 pixels wide)."""
    page.set_viewport_size({"width": 794, "height": 1123})
    page.goto((site / EXPERIMENT).as_uri())
    page.emulate_media(media="print")
    frame, image = (page.locator(f".hero {each}").first.bounding_box() for each in (".shot", "img"))

    assert frame is not None
    assert frame == image
    assert round(frame["width"] / frame["height"], 2) == 1.5
    assert frame["height"] < 310  # 8 cm and less than a third of the sheet


def test_print_is_black_on_white(page: Page, site: Path) -> None:
    """On paper there are no controls, and the ground is white in the dark theme too."""
    page.goto((site / EXPERIMENT).as_uri())
    page.emulate_media(media="print", color_scheme="dark")

    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
    assert page.locator("input:visible, nav:visible, p > button:visible").count() == 0
