"""The run read day by day: the range over the day axis, the photo of the day, and the axis without script."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

# The demo's run in the flood tray: a pump that died on day 61, the first pick on day 99, photos on days 26, 56 and 106.
RUN = "experiments/cinder-button-flood.html"
LAST = 168
MARKED = "[...document.querySelectorAll('.by-day .on')].map((each) => each.dataset.day)"


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """The run's page on a desk; what goes wrong in it fails the test."""
    found = browser.new_page(viewport={"width": 1280, "height": 900})
    found.set_default_timeout(10_000)
    wrong: list[str] = []
    found.on("pageerror", lambda error: wrong.append(str(error)))
    found.goto((site / RUN).as_uri())
    yield found
    found.close()
    assert wrong == []


def said(page: Page) -> str:
    """What is said of the day, with plain spaces."""
    return page.locator(".days output").inner_text().replace("\u00a0", " ")


def test_arrow_keys_move_the_day(page: Page) -> None:
    """Each day is said in words that a screen reader hears too; a day between visits tells of the one before."""
    day = page.get_by_role("slider", name="Day of the run", exact=True)
    day.focus()
    page.keyboard.press("Home")
    first = said(page)
    for _ in range(61):
        page.keyboard.press("ArrowRight")
    pump = said(page)
    heard = day.get_attribute("aria-valuetext") or ""
    page.keyboard.press("End")
    end = said(page)
    page.keyboard.press("ArrowLeft")

    assert first.startswith("Day 0, ")
    assert re.match(r"Day 61, \d+ \w+ 2025\. Trouble: flood pump dead", pump)
    assert re.search(r"So far: nothing picked, about [\d.]+ L of water\.$", pump)
    assert heard.replace("\u00a0", " ") == pump
    assert end.startswith(f"Day {LAST}, ")
    assert said(page).startswith(f"Day {LAST - 1}. The visit before, day ")


def test_the_mouse_moves_the_day(page: Page) -> None:
    """The day under the pointer is said, from the first to the last."""
    axis = page.locator(".day-axis")
    axis.scroll_into_view_if_needed()
    box = axis.bounding_box()
    assert box is not None
    days = []
    for share in (0, 99 / LAST, 1):
        page.mouse.move(box["x"] + share * (box["width"] - 0.1), box["y"] + 20)
        days.append(said(page).split(",")[0])

    assert days == ["Day 0", "Day 99", f"Day {LAST}"]


def test_the_nearest_photo_is_marked(page: Page) -> None:
    """One day's photos at a time, the nearest before or after."""
    day = page.get_by_role("slider", name="Day of the run", exact=True)
    marked = []
    for number in ("0", "56", "80", "82", "168"):
        day.evaluate("(range, day) => { range.value = day; range.dispatchEvent(new Event('input')) }", number)
        marked.append(page.evaluate(MARKED))

    shown = page.evaluate(
        "[...document.querySelectorAll('.by-day [data-day]')].map((each) => +each.dataset.day)"
    )
    nearest = [[str(min(shown, key=lambda each: abs(each - day)))] for day in (0, 56, 80, 82, 168)]
    assert marked == nearest
    assert len({each[0] for each in marked}) >= 3


def test_the_stage_shows_the_photo_of_the_day(page: Page) -> None:
    """Where a theme has one, it is the photo that is marked below."""
    day = page.get_by_role("slider", name="Day of the run", exact=True)
    day.focus()
    page.keyboard.press("Home")
    stage = page.locator(".stage img")
    if stage.count() == 0:
        pytest.skip("the theme has no stage")
    first = stage.get_attribute("src")
    page.keyboard.press("End")

    expect(page.locator(".stage")).to_be_visible()
    assert first != stage.get_attribute("src")
    assert stage.get_attribute("src") == page.locator(".by-day .on img").last.get_attribute("src")


def test_an_address_of_a_day_moves_the_axis(page: Page, site: Path) -> None:
    """Also of a day without a visit, which has no anchor; on arrival, and on the page itself."""
    page.goto("about:blank")
    page.goto((site / RUN).as_uri() + "#day-98")

    assert said(page).startswith("Day 98. The visit before, day ")
    expect(page.locator(".day-axis")).to_be_in_viewport()

    # Not by keys: the browser scrolls when it gets to it, which may be after what a script does next.
    page.evaluate("scrollTo({top: 0, behavior: 'instant'})")
    page.wait_for_function("scrollY === 0")
    page.evaluate("location.hash = '#day-100'")
    expect(page.locator(".days output")).to_contain_text("Day 100.")
    expect(page.locator(".day-axis")).to_be_in_viewport()


def test_a_renewed_page_has_one_range(page: Page) -> None:
    """The preview renews a page in place: nothing is made twice."""
    page.evaluate("document.dispatchEvent(new CustomEvent('swapped'))")

    assert page.locator(".day-axis .scrub").count() == 1
    assert page.locator(".days output").count() == 1


def test_nothing_moves_by_itself(browser: Browser, site: Path) -> None:
    """A reader who asked for less motion sees none: the day and the photo change at once."""
    page = browser.new_page(reduced_motion="reduce")
    page.goto((site / RUN).as_uri())
    page.get_by_role("slider", name="Day of the run", exact=True).focus()
    page.keyboard.press("Home")

    assert page.evaluate("document.getAnimations().length") == 0
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
    page.close()


def test_without_script_the_strip_is_plain(browser: Browser, site: Path) -> None:
    """The photos stand in the order of days, each visit of the axis leads on, and nothing stands dead or empty."""
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto((site / RUN).as_uri())
    days = [int(each.get_attribute("data-day") or "") for each in page.locator(".by-day [data-day]").all()]

    assert page.locator(".in-pictures :is(input, output, button)").count() == 0
    assert page.locator(".in-pictures .stage:visible").count() == 0
    assert page.locator(".in-pictures .stage:not(:has(img[alt]))").count() == 0
    assert days == sorted(days)
    assert page.locator(".day-axis a.visit[href*='#day-']").count() > 10
    page.context.close()


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_the_axis_fits_the_smallest_phone(page: Page, direction: str) -> None:
    """Nothing is wider than 320 px, labels keep apart, and days run from left to right in every script."""
    page.evaluate("(direction) => (document.documentElement.dir = direction)", direction)
    page.set_viewport_size({"width": 320, "height": 700})
    labels = page.evaluate(
        """() => [...document.querySelectorAll(".day-axis .foot text")].filter((each) => each.checkVisibility())
          .map((each) => each.getBoundingClientRect()).map(({left, right, top}) => [left, right, Math.round(top)])"""
    )
    photos = page.evaluate(
        "[...document.querySelectorAll('.by-day li')].slice(0, 2).map((each) => each.getBoundingClientRect().left)"
    )
    by_row = sorted(labels, key=lambda each: (each[2], each[0]))
    touching = [
        (one, other) for one, other in pairwise(by_row) if one[2] == other[2] and one[1] + 3 > other[0]
    ]

    assert page.evaluate("document.documentElement.scrollWidth") == 320
    assert len(labels) >= 6
    assert touching == []
    assert photos == sorted(photos)


def test_the_lead_chart_is_read_by_days(page: Page) -> None:
    """A range over the leading chart says what was done by a day and what there was so far; its ends are the chart's."""
    chart = page.locator("#chart-harvest > .wide")
    day = chart.get_by_role("slider", name="Harvest so far, g. Day of the run")
    day.focus()
    page.keyboard.press("End")
    heard = (day.get_attribute("aria-valuetext") or "").replace("\u00a0", " ")

    assert page.locator("#chart-harvest output:visible").count() == 1
    assert heard.startswith(f"Day {LAST}")
    assert "So far: " in heard
    assert heard.endswith(" L of water.")
    box, whole = (each.bounding_box() or {} for each in (day, chart))
    assert whole["x"] < box["x"] < box["x"] + box["width"] <= whole["x"] + whole["width"] + 12
