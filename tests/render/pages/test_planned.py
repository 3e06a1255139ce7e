"""Runs that are planned: their own page, and their places in lists, tables and feeds."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from functools import lru_cache

import html5lib
import pytest

from sitegen.core.language.wording import NBSP
from sitegen.core.site.content import ExperimentContent
from sitegen.measure import run_arms
from sitegen.render import render
from tests.render.builders import facts, planned_run, site

PAGES = (
    "experiments/next-physalis.html",
    "index.html",
    "seasons/s.html",
    "crops/physalis.html",
    "systems/bucket.html",
    "compare.html",
)


@lru_cache(maxsize=4)
def built(theme: str = "ledger") -> dict[str, str]:
    """The text files of a site with a planned run, by address."""
    whole = site()
    measured = facts(planned_run())
    journal = replace(whole.journal, theme=theme)
    content = ExperimentContent(measured, arms=run_arms(measured))
    pages, findings = render(replace(whole, journal=journal, experiments=(*whole.experiments, content)))
    assert findings == ()
    return {page.address: page.content.decode() for page in pages if not page.address.endswith(".png")}


def words(text: str) -> str:
    """The words of a page or a part of one."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).replace(NBSP, " ").split())


def main_of(address: str, theme: str = "ledger") -> str:
    """The words of the main part of a page."""
    return words(built(theme)[address].partition("<main")[2].partition("</main>")[0].partition(">")[2])


def test_its_page_says_when_what_for_and_with_what() -> None:
    """The page of a planned run is its date, its question, its arms and its set-up, and nothing that is empty."""
    assert main_of("experiments/next-physalis.html") == (
        "Physalis , Amber · Bucket · Spring 2025 Next physalis Question Does an early prune help? Status "
        "Planned: to be sown on 5 March 2026. To be compared Early P1 and P2 Late P3 and P4 The set-up "
        "Plants 4 plants, Amber System Bucket, deep water culture, 4 spots, holds 8 L (2.1 gal), 50 cm (19.7 "
        "in) of room with the lamp at its highest Earlier First physalis"
    )


@pytest.mark.parametrize("theme", ["ledger", "propagator"])
def test_home_lists_it_apart(theme: str) -> None:
    """Home has a section of what is planned, with title, question and date, and nowhere else counts it as grown."""
    page = main_of("index.html", theme)

    assert "Planned Next physalis Does an early prune help? To be sown on 5 March 2026." in page
    assert page.count("Next physalis") == 1


def test_lists_count_it_apart() -> None:
    """A season, a crop and a system say how many runs are planned beside those that were begun."""
    assert "Two runs and one planned; one still growing at the last visit." in main_of("seasons/s.html")
    assert "2 runs, 1 planned, " in main_of("crops/physalis.html")
    assert "2 runs, 1 planned, 1 crop." in main_of("systems/bucket.html")


@pytest.mark.parametrize("address", ["seasons/s.html", "crops/physalis.html", "compare.html"])
def test_tables_mark_it(address: str) -> None:
    """Its row says that it is planned, and no day on which nothing was picked."""
    row = next(
        row for row in re.findall(r"<tr[ >].*?</tr>", built()[address], re.DOTALL) if "Next physalis" in row
    )

    assert "planned" in words(row)
    assert "none by" not in words(row)


@pytest.mark.parametrize("theme", ["ledger", "propagator"])
@pytest.mark.parametrize("address", PAGES)
def test_pages_with_it_are_valid(address: str, theme: str) -> None:
    """Every page that names it parses as HTML5 without one error."""
    parser = html5lib.HTMLParser(strict=True)

    parser.parse(built(theme)[address])

    assert parser.errors == []


def test_feeds_leave_it_out_and_the_search_finds_it() -> None:
    """A feed lists what was grown; the search leads to what is to come as well."""
    listed = [item["title"] for item in json.loads(built()["feed.json"])["items"]]
    index = json.loads(built()["find.js"].removeprefix("window.siteIndex=").rstrip(";\n"))

    assert "Next physalis" not in listed
    assert [entry["s"].replace(NBSP, " ") for entry in index if entry["t"] == "Next physalis"] == [
        "Planned: to be sown on 5 March 2026."
    ]


def test_it_has_no_data_to_take() -> None:
    """Nothing is offered for download where nothing was recorded."""
    assert [address for address in built() if address.startswith("data/next-physalis")] == []
