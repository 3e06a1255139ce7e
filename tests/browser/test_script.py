"""What the site's script adds, from a folder on disk: sorting, sifting, finding, paging, values of charts."""

from __future__ import annotations

import re
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
TABLE = """<div class="region"><table class="sorts"><thead><tr><th>Run</th><th>Harvest</th><th>When</th></tr></thead>
  <tbody><tr><th>b10</th><td>about 1.2 kg <span class="also">(2 lb)</span></td><td>4 Oct</td></tr>
  <tr><th>b9</th><td>at least 900 g</td><td>9 Oct</td></tr>
  <tr><th>a</th><td><span class="none">not weighed</span></td><td>1 Nov</td></tr>
  <tr><th>Ä</th><td>60–70 g</td><td>2 Nov</td></tr></tbody></table></div>"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A window of usual size; what goes wrong in it fails the test."""
    found = browser.new_page(viewport={"width": 1280, "height": 900})
    found.set_default_timeout(10_000)
    wrong: list[str] = []
    found.on("pageerror", lambda error: wrong.append(str(error)))
    yield found
    found.close()
    assert wrong == []


def opened(page: Page, site: Path, address: str) -> None:
    """Open a page of the site from its folder."""
    page.goto((site / address).as_uri())


def column(page: Page, number: int) -> list[str]:
    """The cells of a column that can be seen, from top to bottom."""
    cells = page.locator(f"main table.sorts >> nth=0 >> tbody tr:visible > :nth-child({number})")
    return [" ".join(text.split()) for text in cells.all_inner_texts()]


def test_a_table_is_sorted_and_put_back(page: Page, site: Path) -> None:
    """Up, down, as written; amounts by their size in one unit, text as a reader sorts it, what is missing last."""
    opened(page, site, "compare.html")
    page.evaluate("(table) => { document.querySelector('main').innerHTML = table }", TABLE)
    page.evaluate("document.dispatchEvent(new CustomEvent('swapped'))")
    harvest = page.get_by_role("button", name="Harvest")
    heading = page.locator("th", has=harvest)
    seen = []
    for _ in range(3):
        harvest.click()
        seen.append((heading.get_attribute("aria-sort"), column(page, 1)))
    page.get_by_role("button", name="Run").click()

    assert seen == [
        ("ascending", ["Ä", "b9", "b10", "a"]),
        ("descending", ["b10", "b9", "Ä", "a"]),
        ("none", ["b10", "b9", "a", "Ä"]),
    ]
    assert column(page, 1) == ["a", "Ä", "b9", "b10"]
    assert page.get_by_role("button", name="When").count() == 0


def test_the_comparison_is_sorted_by_day(page: Page, site: Path) -> None:
    """The written table itself can be sorted with the keyboard."""
    opened(page, site, "compare.html")
    page.get_by_role("button", name="First pick").focus()
    page.keyboard.press("Enter")

    heads = page.locator("table.arms thead th").all_inner_texts()
    cells = column(page, heads.index("First pick") + 1)
    days = [int(re.findall(r"\d+", text)[0]) for text in cells if re.search(r"\d", text)]
    assert days == sorted(days)
    assert len(days) >= 3


def test_rows_are_sifted(page: Page, site: Path) -> None:
    """Rows that lack a word go, how many are left is said, and all come back."""
    opened(page, site, RECORD)
    rows = column(page, 1)
    page.get_by_label("Only rows with").fill("p3 22")
    expect(page.locator(".sift output")).to_have_text(f"1 of {len(rows)} rows")
    assert column(page, 1) == ["99"]
    page.get_by_label("Only rows with").fill("")
    assert column(page, 1) == rows


def test_rows_that_are_blocks_are_sorted_by_a_choice(page: Page, site: Path) -> None:
    """On a phone the table of all runs has no heads; a choice of columns sorts it, and gives it back as it was."""
    page.set_viewport_size({"width": 360, "height": 740})
    opened(page, site, "compare.html")
    first = "[...document.querySelectorAll('.arms tbody td[data-label=\"First pick\"]')].map((each) => each.innerText)"
    written = page.evaluate(first)
    choice = page.get_by_label("Sorted by")
    choice.select_option(label="First pick")
    rising = [int(found[1]) for text in page.evaluate(first) if (found := re.search(r"(\d+)", text))]
    page.get_by_label("in reverse").check()
    falling = [int(found[1]) for text in page.evaluate(first) if (found := re.search(r"(\d+)", text))]
    choice.select_option(label="as on the page")

    assert len(rising) > 3
    assert rising == sorted(rising)
    assert falling == sorted(rising, reverse=True)
    assert page.evaluate(first) == written


def test_the_site_is_searched_from_disk(page: Page, site: Path) -> None:
    """The index is read when someone looks; a result says what it is and what came of it, and leads there."""
    opened(page, site, "crops/dwarf-tomato.html")
    assert page.locator("script[src$='find.js']").count() == 0
    page.get_by_label("Search", exact=True).fill("tomato flood")
    result = page.locator(".found li").first

    expect(result).to_contain_text("Cinder Button in the flood tray")
    expect(result).to_contain_text("Dwarf tomato, Autumn 2025")
    expect(result).to_contain_text("of fruit from 4 plants")
    page.keyboard.press("Enter")
    page.wait_for_url((site / EXPERIMENT).as_uri())
    page.get_by_label("Search", exact=True).fill("aubergine")
    expect(page.locator(".found")).to_have_text("0 foundNothing was found.")
    page.keyboard.press("Escape")
    expect(page.locator(".found")).to_be_hidden()


def test_what_was_written_about_a_day_is_found_there(page: Page, site: Path) -> None:
    """A result says on which day the words stand, and leads to it; words that it shows lead to the page."""
    opened(page, site, "index.html")
    search = page.get_by_label("Search", exact=True)
    first = page.locator(".found li").first
    search.fill("leaf mould")
    expect(first.locator(".place")).to_have_text(re.compile(r"^Day.78: leaf mould on the lowest leaves$"))
    expect(first.locator("a")).to_have_attribute("href", re.compile(r"/cinder-beside-pebble\.html#day-78$"))
    search.fill("neighbour lettuce tubs months")
    expect(first.locator(".place")).to_have_text(re.compile(r"^Day.119: P4 is orange"))
    search.fill("quicker weakly")
    expect(first.locator(".place")).to_have_text("Found in the story")
    expect(first.locator("a")).to_have_attribute("href", re.compile(r"#story$"))
    search.fill("pickle jars")
    expect(first.locator(".place")).to_have_count(0)
    expect(first.locator("a")).to_have_attribute("href", re.compile(r"\.html$"))


def test_pictures_are_paged_with_the_keyboard(page: Page, site: Path) -> None:
    """A picture opens large, arrows go on and round, Escape leads back to where the reader was."""
    opened(page, site, EXPERIMENT)
    page.locator(".strip a.shot").first.focus()
    page.keyboard.press("Enter")
    viewer = page.get_by_role("dialog", name="Pictures")
    seen = [viewer.locator("output").inner_text()]
    for key in ("ArrowRight", "ArrowRight", "End", "ArrowRight", "ArrowLeft", "Home"):
        page.keyboard.press(key)
        seen.append(viewer.locator("output").inner_text())
    page.keyboard.press("Escape")

    assert sorted(set(seen)) == ["1 of 4", "2 of 4", "3 of 4", "4 of 4"]
    assert seen[3:] == ["4 of 4", "1 of 4", "4 of 4", "1 of 4"]
    expect(viewer).to_be_hidden()
    assert page.evaluate("document.activeElement.matches('.strip a.shot')") is True


def test_pictures_follow_the_direction_of_the_page(page: Page, site: Path) -> None:
    """Where words run from right to left, so do the pictures."""
    opened(page, site, EXPERIMENT)
    page.evaluate("document.documentElement.dir = 'rtl'")
    page.locator(".strip a.shot").first.focus()
    page.keyboard.press("Enter")
    viewer = page.get_by_role("dialog", name="Pictures")
    page.keyboard.press("Home")
    seen = []
    for key in ("ArrowLeft", "ArrowLeft", "ArrowRight"):
        page.keyboard.press(key)
        seen.append(viewer.locator("output").inner_text())

    assert seen == ["2 of 4", "3 of 4", "2 of 4"]


def test_a_chart_says_its_values(page: Page, site: Path) -> None:
    """On focus and arrow keys, and under a pointer, the value of a mark stands beside it."""
    opened(page, site, EXPERIMENT)
    drawing = page.locator("#chart-height .narrow svg")
    drawing.scroll_into_view_if_needed()
    drawing.focus()
    page.keyboard.press("ArrowRight")
    said = page.locator("#chart-height .narrow .readout")
    first = said.inner_text()
    page.keyboard.press("ArrowRight")
    second = said.inner_text()
    page.keyboard.press("Escape")
    expect(said).to_be_hidden()
    drawing.locator("circle").last.hover(force=True)

    assert first.replace("\u00a0", " ") == "P1, day 36: 9 cm (3.5 in)"
    assert ", day 36: " in second.replace("\u00a0", " ")
    expect(said).to_contain_text(", day ")


def test_a_renewed_page_has_each_control_once(page: Page, site: Path) -> None:
    """The preview renews a page in place: nothing is made twice, and what was lost is made again."""
    opened(page, site, "compare.html")
    count = "document.querySelectorAll('button, input').length"
    before = page.evaluate(count)
    page.evaluate("document.dispatchEvent(new CustomEvent('swapped'))")
    same = page.evaluate(count)
    page.evaluate("document.querySelector('.find').remove()")
    page.evaluate("document.dispatchEvent(new CustomEvent('swapped'))")

    assert before > 5
    assert (same, page.evaluate(count)) == (before, before)
