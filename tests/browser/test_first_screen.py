"""A phone lays out the first screen first and the rest in slices: then the page is as if it had come whole."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

EXPERIMENT = "experiments/cinder-button-flood.html"
RECORD = "experiments/cinder-button-flood/record.html"
PHONE = {"width": 360, "height": 800}
DESK = {"width": 1280, "height": 900}
# How many parts of a page are put off when its first screen is drawn, and how far things move by themselves.
WATCHED = """window.putOff = null; window.moved = 0;
new PerformanceObserver((list) => list.getEntries().forEach((each) => (window.moved += each.value)))
  .observe({ type: "layout-shift", buffered: true });
addEventListener("DOMContentLoaded", () => (window.putOff = [...document.querySelectorAll("main *")]
  .filter((each) => getComputedStyle(each).contentVisibility === "auto").length));"""
PLACES = """(scrollTo(0, 0), [...document.querySelectorAll("main, main *")]
  .filter((each) => each.checkVisibility()).map((each) => each.getBoundingClientRect())
  .map((box) => [box.x, box.y, box.width, box.height].map(Math.round).join(" ")))"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A phone that notes what is put off."""
    found = browser.new_page(viewport=PHONE)
    found.set_default_timeout(10_000)
    found.add_init_script(WATCHED)
    yield found
    found.close()


def whole(page: Page, address: str) -> list[str]:
    """Open a page and wait until all of it is laid out; where everything lies."""
    page.goto("about:blank")
    page.goto(address)
    expect(page.locator(".below")).to_have_count(0)
    return page.evaluate(PLACES)


@pytest.mark.parametrize("address", [EXPERIMENT, RECORD, "compare.html", "index.html"])
def test_what_was_put_off_lies_where_it_would(page: Page, site: Path, address: str) -> None:
    """Parts below the first screen come later, nothing moves in sight, and all lies as on a page that came at once."""
    later = whole(page, (site / address).as_uri())
    put_off, moved = page.evaluate("[window.putOff, window.moved]")
    at_once = whole(page, (site / address).as_uri() + "#main")

    assert put_off > 0
    assert moved == 0
    assert later == at_once


@pytest.mark.parametrize("anchor", ["story", "day-99"])
def test_a_place_in_a_page_is_reached(page: Page, site: Path, anchor: str) -> None:
    """Whoever comes to a place gets the whole page at once, and the place in sight."""
    page.goto((site / EXPERIMENT).as_uri() + f"#{anchor}")

    assert page.evaluate("window.putOff") == 0
    top = page.evaluate("(id) => document.getElementById(id).getBoundingClientRect().top", anchor)
    assert 0 <= top < PHONE["height"]


def test_who_comes_back_gets_the_whole_page(page: Page, site: Path) -> None:
    """A page that is loaded again is not put together anew under the hand that left it."""
    whole(page, (site / EXPERIMENT).as_uri())
    page.reload()

    assert page.evaluate("window.putOff") == 0


def test_a_desk_and_a_printer_get_the_whole_page(page: Page, site: Path) -> None:
    """Only a narrow screen puts anything off."""
    counts = []
    page.set_viewport_size(DESK)
    whole(page, (site / EXPERIMENT).as_uri())
    counts.append(page.evaluate("window.putOff"))
    page.set_viewport_size(PHONE)
    page.emulate_media(media="print")
    whole(page, (site / EXPERIMENT).as_uri())
    counts.append(page.evaluate("window.putOff"))

    assert counts == [0, 0]


@pytest.mark.parametrize("address", [EXPERIMENT, RECORD, "seasons/2025-autumn.html"])
def test_who_scrolls_at_once_sees_nothing_move(page: Page, site: Path, address: str) -> None:
    """With the first scrolling all of the page is there, so that nothing moves under the eye that follows it."""
    page.add_init_script(
        """addEventListener('load', () => [200, 900, 2500, 1200]
        .forEach((y, i) => setTimeout(() => scrollTo(0, y), 30 * i)))"""
    )
    page.goto((site / address).as_uri())
    page.wait_for_timeout(600)

    assert page.evaluate("window.moved") == 0
    assert page.locator(".below").count() == 0
