"""The index that the site's script searches."""

from __future__ import annotations

import json
from functools import lru_cache

from sitegen.render import render
from tests.render.builders import site


@lru_cache(maxsize=1)
def index() -> tuple[str, list[dict[str, str]]]:
    """The script as it is written, and the entries that it assigns."""
    pages, _ = render(site())
    text = next(page for page in pages if page.address == "find.js").content.decode()
    return text, json.loads(text.removeprefix("window.siteIndex=").removesuffix(";\n"))


def test_the_index_is_a_script_that_assigns_one_name() -> None:
    """It can be loaded from a folder on disk: no data file is asked for."""
    assert index()[0].startswith("window.siteIndex=[{")


def test_an_experiment_is_found_by_title_crop_season_and_answer() -> None:
    """An entry has what the result list shows, and leads to the page."""
    entry = next(each for each in index()[1] if each["a"] == "experiments/first-physalis.html")

    assert (entry["t"], entry["k"], entry["s"]) == (
        "First physalis",
        "Physalis, Spring 2025",
        "At least 196 g (6.9 oz) of fruit from 4 plants; one pick was not weighed.",
    )


def test_the_index_leads_only_to_pages_that_are_there() -> None:
    """Every address of the index is a page of the site."""
    pages, _ = render(site())
    there = {page.address for page in pages}

    assert {each["a"].partition("#")[0] for each in index()[1]} <= there
    assert {each["k"] for each in index()[1]} >= {"Crop", "System", "Season", "Page", "Method"}
