"""The page for a wrong address, as a host shows it at any depth."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

ROOT = "https://example.org/ropewalk/bench/"  # the address of the demo


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """A window to which the site answers from its folder; any other request, and any complaint, fails the test."""
    found = browser.new_page(viewport={"width": 360, "height": 740})
    found.set_default_timeout(10_000)
    wrong: list[str] = []

    def answer(route: Route) -> None:
        if not route.request.url.startswith(ROOT):
            wrong.append(route.request.url)
            route.abort()
            return
        path = site / route.request.url.removeprefix(ROOT)
        if path.is_file():
            route.fulfill(path=path)
        else:
            route.fulfill(status=404, path=site / "404.html", content_type="text/html")

    found.route("**/*", answer)
    found.on("pageerror", lambda error: wrong.append(str(error)))
    found.on(
        "console", lambda said: None if "404" in said.text else wrong.append(said.text)
    )  # the browser says the status aloud
    yield found
    found.close()
    assert wrong == []


@pytest.mark.parametrize("address", ["nothing.html", "experiments/old/deep/nothing.html"])
def test_find_works_at_any_depth(page: Page, site: Path, address: str) -> None:
    """What is found leads to its page on the site."""
    page.goto(ROOT + address)
    page.get_by_label("Search", exact=True).fill("jars")
    first = page.locator(".found a").first

    expect(first).to_be_visible()
    target = (first.get_attribute("href") or "").partition("#")[0]
    assert target.startswith(ROOT)
    assert (site / target.removeprefix(ROOT)).is_file()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth") is True


def test_the_latest_run_is_a_link_away(page: Page) -> None:
    """The first run offered opens."""
    page.goto(ROOT + "nothing.html")
    offered = page.locator("main li a")
    title = offered.first.inner_text()

    assert offered.count() == 3
    offered.first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(title)


def test_on_a_disk_it_asks_nobody(page: Page, site: Path) -> None:
    """Opened as a file it shows the same words, without find."""
    text = (site / "404.html").read_text("utf-8")
    page.set_content(text)

    expect(page.locator("main li a")).to_have_count(3)
    expect(page.locator(".find")).to_have_count(0)
