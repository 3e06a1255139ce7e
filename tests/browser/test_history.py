"""Going back: out of the photo viewer, and to a number's working without a ride past the whole page."""

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


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """A phone that came from the home page to the page of a run."""
    found = browser.new_page(viewport={"width": 360, "height": 740})
    found.set_default_timeout(10_000)
    for address in ("index.html", EXPERIMENT):
        found.goto((site / address).as_uri())
    yield found
    found.close()


def opened(page: Page) -> None:
    """Open a picture of the strip."""
    page.locator(".strip a.shot").first.click()
    expect(page.get_by_role("dialog", name="Pictures")).to_be_visible()


def test_back_closes_the_viewer(page: Page, site: Path) -> None:
    """It leads to the page of the run where the reader was; once more leads home."""
    opened(page)
    before = page.evaluate("scrollY")

    page.go_back()
    expect(page.get_by_role("dialog", name="Pictures")).to_be_hidden()
    assert page.url == (site / EXPERIMENT).as_uri()
    assert page.evaluate("scrollY") == before > 0
    page.go_back()
    assert page.url == (site / "index.html").as_uri()


@pytest.mark.parametrize("way", ["button", "Escape"])
def test_a_viewer_closed_by_hand_leaves_no_dead_entry(page: Page, site: Path, way: str) -> None:
    """Back then leads to the page before at once."""
    opened(page)
    if way == "button":
        page.get_by_role("button", name="Close").click()
    else:
        page.keyboard.press("Escape")
    expect(page.get_by_role("dialog", name="Pictures")).to_be_hidden()
    page.wait_for_function("history.state === null")

    page.go_back()
    assert page.url == (site / "index.html").as_uri()


def test_forward_opens_it_again(page: Page) -> None:
    """The entry after a viewer that back has closed is that viewer."""
    opened(page)
    page.go_back()
    expect(page.get_by_role("dialog", name="Pictures")).to_be_hidden()

    page.go_forward()
    expect(page.get_by_role("dialog", name="Pictures")).to_be_visible()


def test_a_page_loaded_again_leaves_the_entry_of_its_viewer(page: Page, site: Path) -> None:
    """After a reload no viewer is open, and back leads to the page before."""
    opened(page)
    page.reload()
    page.wait_for_function("history.state === null")

    page.go_back()
    assert page.url == (site / "index.html").as_uri()


def test_a_link_within_a_page_jumps(page: Page, site: Path) -> None:
    """The target is there at once, however far down it stands, also where motion is welcome."""
    page.emulate_media(reduced_motion="no-preference")
    page.goto((site / "methods.html").as_uri())
    away = page.evaluate(
        """() => {
            const last = [...document.querySelectorAll("main [id]")].at(-1);
            const from = last.getBoundingClientRect().top;
            location.hash = last.id;
            return [from, last.getBoundingClientRect().top];
        }"""
    )

    assert away[0] > 5000
    assert away[1] < 740
