"""Runs told from memory: their own page, and their places in lists and tables; in no number and in no feed."""

from __future__ import annotations

import html
import json
import re
from functools import lru_cache

import html5lib
import pytest

from sitegen.core.language.wording import NBSP
from sitegen.core.site.site_map import SiteMap, run_link_of
from sitegen.render import render
from tests.render.builders import full_run, planned_run, remembered_run, site, started_run

LISTS = ("seasons/s.html", "crops/physalis.html", "systems/bucket.html", "compare.html")


@lru_cache(maxsize=2)
def built(*, remembered: bool = True) -> dict[str, str]:
    """The text files of a site, with or without a run told from memory, by address."""
    runs = (full_run("A recap."), started_run(), *((remembered_run(),) if remembered else ()))
    pages, findings = render(site(*runs))
    assert findings == ()
    return {page.address: page.content.decode() for page in pages if not page.address.endswith(".png")}


def words(text: str) -> str:
    """The words of a page or a part of one."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).replace(NBSP, " ").split())


def main_of(address: str) -> str:
    """The words of the main part of a page."""
    return words(built()[address].partition("<main")[2].partition("</main>")[0].partition(">")[2])


def test_its_page_says_what_is_remembered() -> None:
    """The page has the question, what came of it, the verdict and what was grown, and says once where it is from."""
    assert main_of("experiments/sill-physalis.html") == (
        "Physalis , Amber · Bucket · Spring 2025 , sown in 2023 Physalis on the sill Question Does it grow "
        "without a lamp? What came of it A few small fruits. Grow it again? Not again: it leaned. Next time "
        "Hang a lamp over it. Source From memory: no log was kept. What was grown Plants about 4, Amber "
        "System Bucket, deep water culture, 4 spots, holds 8 L (2.1 gal), 50 cm (19.7 in) of room with the "
        "lamp at its highest Earlier Young physalis Later First physalis"
    )


@pytest.mark.parametrize("address", LISTS)
def test_its_row_is_marked(address: str) -> None:
    """A table has its rough values as they were written, beside the words that they are from memory."""
    row = next(
        row for row in re.findall(r"<tr[ >].*?</tr>", built()[address], re.DOTALL) if "on the sill" in row
    )

    assert [word for word in ("from memory", "2023", "a few small fruits") if word not in words(row)] == []


@pytest.mark.parametrize("address", LISTS)
def test_it_changes_no_figure(address: str) -> None:
    """Every figure of the other runs, and what was picked in all, is the same with it and without."""
    figures = r'<(?:a|span)[^>]* data-figure="[^>]*>.*?</(?:a|span)>|Picked in all runs together: [^<]*'

    told, alone = (re.findall(figures, built(remembered=each)[address]) for each in (True, False))

    assert told == alone
    assert len(told) > 3


def test_no_other_page_changes() -> None:
    """The page of another run of the crop says nothing of it beyond its link."""
    told, alone = (built(remembered=each)["experiments/first-physalis.html"] for each in (True, False))
    changed = [line for line in told.splitlines() if line not in alone.splitlines()]

    assert all("sill-physalis.html" in line for line in changed), changed


def test_it_is_no_earlier_run_to_compare_with() -> None:
    """Of the runs of a crop before one, only those with a log are set beside it."""
    site_map = SiteMap([run_link_of(run) for run in (remembered_run(), full_run(), planned_run())])

    assert [link.id for link in site_map.before("next-physalis")] == ["first-physalis"]


def test_it_is_counted_apart() -> None:
    """A season and a crop say how many of their runs are told from memory."""
    assert "Two runs and one from memory; one still growing at the last visit." in main_of("seasons/s.html")
    assert "2 runs, 1 from memory, 1 variety, 1 system " in main_of("crops/physalis.html")


def test_feeds_and_packages_leave_it_out() -> None:
    """It is in no feed and has no data, and the search finds it."""
    listed = [item["title"] for item in json.loads(built()["feed.json"])["items"]]
    index = json.loads(built()["find.js"].removeprefix("window.siteIndex=").rstrip(";\n"))

    assert "Physalis on the sill" not in listed
    assert [address for address in built() if address.startswith("data/sill-physalis")] == []
    assert [entry["s"] for entry in index if entry["t"] == "Physalis on the sill"] == [
        "What came of it: a few small fruits. Not again: it leaned."
    ]


@pytest.mark.parametrize("address", ["experiments/sill-physalis.html", "index.html", *LISTS])
def test_pages_with_it_are_valid(address: str) -> None:
    """Every page that names it parses as HTML5 without one error."""
    parser = html5lib.HTMLParser(strict=True)

    parser.parse(built()[address])

    assert parser.errors == []
