"""Drawings in a browser, at the widths of phones, tablets and desks: words lie on nothing, focus covers no axis."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from sitegen.core.site.chart import CHARTS, Chart, Drawing
from sitegen.render.templates.themes import theme_names
from tests.plot.builders import charts, two_tubs, whole_run

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Chromium"),
]

THEMES = Path(__file__).parents[2] / "themes"
WIDTHS = (320, 360, 768, 1280)
OVERLAPS = (Path(__file__).parent / "overlaps.js").read_text("utf-8")
SHOWN = "[...document.querySelectorAll('.chart svg')].filter((each) => each.getBoundingClientRect().width)"
FOUND = f"() => {SHOWN}.map((each) => [each.closest('.chart').id, ({OVERLAPS})(each)])"
# Each mark with a value is lit in turn, as it is on focus; found are the words of the axes that it reaches.
LIT = """() => {
  const axis = ["days", "numbers", "dates", "unit"].map((name) => `text[class=${name}], [class=${name}] text`);
  return SHOWN.flatMap((drawing) => {
    const texts = [...drawing.querySelectorAll(axis)].map((each) => [each.textContent, each.getBoundingClientRect()]);
    return [...drawing.querySelectorAll(":has(> title)")].flatMap((mark) => {
      mark.classList.add("lit");
      const box = mark.getBoundingClientRect(), half = parseFloat(getComputedStyle(mark).strokeWidth) / 2;
      mark.classList.remove("lit");
      return texts.filter(([, other]) => {
        const high = other.height / 4; // above and below the ink of a line
        return box.left - half < other.right && other.left < box.right + half &&
          box.top - half < other.bottom - high && other.top + high < box.bottom + half;
      }).map(([words]) => [words, mark.textContent]);
    });
  });
}""".replace("SHOWN", SHOWN)


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A window."""
    found = browser.new_page()
    yield found
    found.close()


def _svg(drawn: Drawing, frame: str) -> str:
    box = f'viewBox="0 0 {drawn.width} {drawn.height}"'
    return f'<div class="{frame}"><svg class="{frame}" {box}>{drawn.elements()}</svg></div>'


def _figure(run: str, chart: Chart) -> str:
    both = _svg(chart.wide, "wide") + _svg(chart.narrow, "narrow")
    return f'<figure class="chart" id="{run}-{chart.name}">{both}</figure>'


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """For each theme a page with every kind of chart: of a run with every flag, and of one with two tubs."""
    folder = tmp_path_factory.mktemp("sheets")
    drawn = {"whole": charts(whole_run()), "tubs": charts(two_tubs())}
    assert tuple(drawn["whole"]) == CHARTS
    figures = "".join(_figure(run, chart) for run, each in drawn.items() for chart in each.values())
    for theme in theme_names():
        style = (THEMES / theme / "assets" / "style.css").as_uri()
        head = f'<!DOCTYPE html><html lang="en"><meta charset="utf-8"><link rel="stylesheet" href="{style}">'
        (folder / f"{theme}.html").write_text(f"{head}<main>{figures}</main>", "utf-8")
    return {theme: folder / f"{theme}.html" for theme in theme_names()}


@dataclass(frozen=True)
class Seen:
    """The faults of a page at one width: words that lie on something, and words of an axis that a lit mark reaches."""

    words: dict[str, list[list[str]]]
    lit: list[list[str]]


def overlaps(page: Page) -> dict[str, list[list[str]]]:
    """What the words of each drawing lie on, by the drawing; some are shown."""
    found: list[tuple[str, list[list[str]]]] = page.evaluate(FOUND)
    assert found
    return {f"{n} {name}": faults for n, (name, faults) in enumerate(found) if faults}


def seen(page: Page, place: Path) -> Iterator[tuple[str, Seen]]:
    """A page at each width, loaded once."""
    page.goto(place.as_uri())
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        yield f"{place.stem} {width}", Seen(overlaps(page), page.evaluate(LIT))


@pytest.fixture(scope="module")
def demo(browser: Browser, demo_site: Path) -> dict[str, Seen]:
    """Every page of the demo that holds drawings, at each width."""
    places = sorted(demo_site.glob("experiments/*.html"))
    drawn = [place for place in places if 'class="chart"' in place.read_text("utf-8")]
    with browser.new_page() as page:
        return {name: found for place in drawn for name, found in seen(page, place)}


@pytest.fixture(scope="module")
def kinds(browser: Browser, sheets: dict[str, Path]) -> dict[str, Seen]:
    """Every kind of chart, also those of which the demo draws none, in the face of each theme."""
    with browser.new_page() as page:
        return {name: found for place in sheets.values() for name, found in seen(page, place)}


def test_words_lie_on_nothing_in_the_demo(demo: dict[str, Seen]) -> None:
    """No words of any drawing lie on other words, on a mark or on a line; days and dates keep apart."""
    assert len(demo) > 10 * len(WIDTHS)
    assert {name: found.words for name, found in demo.items() if found.words} == {}


def test_words_lie_on_nothing_in_any_kind_of_chart(kinds: dict[str, Seen]) -> None:
    """Nor do they in kinds of which the demo draws none, in the face of each theme."""
    assert len(kinds) == len(theme_names()) * len(WIDTHS)
    assert {name: found.words for name, found in kinds.items() if found.words} == {}


def test_a_lit_mark_covers_no_axis(demo: dict[str, Seen], kinds: dict[str, Seen]) -> None:
    """The outline of a mark that has the focus stays off days, dates and numbers."""
    assert {name: found.lit for name, found in {**demo, **kinds}.items() if found.lit} == {}


def _words(text: str, layer: str = "labels", x: float = 50, y: float = 50) -> str:
    return f'<text class="{layer}" x="{x}" y="{y}" font-size="13">{text}</text>'


def _line(layer: str, path: str, width: int = 1) -> str:
    return f'<path class="{layer}" d="{path}" stroke="#000" stroke-width="{width}" fill="none"/>'


def shown(page: Page, elements: str) -> None:
    """A drawing alone on a page, as broad as the window."""
    drawing = f'<svg viewBox="0 0 360 200" width="100%">{elements}</svg>'
    page.set_content(f'<div class="chart" id="one">{drawing}</div>')


# Drawings with one fault: their elements, and the fault that must be found.
FAULTS = {
    "a label on a label": (_words("basil") + _words("thyme", x=60, y=54), ["basil", "words", "thyme"]),
    "a date too near to the next": (
        f'<g text-anchor="end">{_words("1 May", "dates")}</g>{_words("8 May", "dates", 50.5)}',
        ["1 May", "words", "8 May"],
    ),
    "a label on a dot": (
        f'<circle class="points" cx="60" cy="46" r="3" fill="#000"/>{_words("basil")}',
        ["basil", "a mark", "points"],
    ),
    "a label on a slanting line": (
        _line("steps", "M0,0L120,92") + _words("basil"),
        ["basil", "a mark", "steps"],
    ),
    "a label on the edge of a broad line": (
        _line("runs", "M0,58L120,58", 18) + _words("basil"),
        ["basil", "a mark", "runs"],
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_words_on_something_are_found(page: Page, fault: str) -> None:
    """A drawing with one fault has that fault and no other, at each width."""
    elements, expected = FAULTS[fault]
    shown(page, elements)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        assert overlaps(page) == {"0 one": [expected]}, width


def test_words_beside_a_mark_are_none(page: Page) -> None:
    """Neither near a line, nor in the corner of the box around one, do they lie on it."""
    shown(page, _words("basil") + _line("steps", "M0,0L120,20 M0,53L120,53 M20,20L20,90L120,90"))

    assert overlaps(page) == {}


def test_a_lit_mark_on_an_axis_is_found(page: Page) -> None:
    """A mark whose outline reaches a number is a fault."""
    mark = '<circle class="points" cx="60" cy="50" r="3"><title>Day 9</title></circle>'
    shown(
        page, f'<g class="numbers" text-anchor="end"><text x="58" y="50" font-size="13">20</text></g>{mark}'
    )

    assert page.evaluate(LIT) == [["20", "Day 9"]]
