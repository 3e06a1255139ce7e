"""The home page: what still grows, the latest results, every run under its season."""

from __future__ import annotations

import re
from dataclasses import replace

import html5lib
import pytest

from sitegen.core.records.rows import Run
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.values.day import Day
from sitegen.render import render
from tests.pages import words
from tests.render.builders import full_run, planned_run, remembered_run, site, started_run

FILE = PictureFile("photos/one/plant.jpg", "image/jpeg", 960, 640)
PHOTO = Picture("plant.jpg", "Four plants", (FILE,), day=Day.on(60))


def home(*runs: Run, pictures: tuple[Picture, ...] = (PHOTO,)) -> str:
    """The markup of the home page, whose logged runs have these pictures."""
    small = site(*runs)
    shown = tuple(replace(each, pictures=pictures) for each in small.experiments)
    made, findings = render(replace(small, experiments=shown))
    assert findings == ()
    return next(page for page in made if page.address == "index.html").content.decode()


def sections(markup: str) -> dict[str, str]:
    """The words of each section by the id of its heading."""
    tree = html5lib.parse(markup, namespaceHTMLElements=False)
    return {node.get("aria-labelledby"): words(node) for node in tree.iter("section")}


def series(number: int) -> tuple[Run, ...]:
    """Runs that ended, each with its own title."""
    run = full_run()
    return tuple(
        replace(run, setup=replace(run.setup, id=f"run-{n}", title=f"Attempt {n}", was=()))
        for n in range(number)
    )


def test_what_grows_comes_first() -> None:
    """The first picture of the page is that of the run that still grows, and is loaded at once."""
    page = home(full_run(), started_run())

    first = re.search(r"<img [^>]*>", page)
    assert first is not None
    assert 'fetchpriority="high"' in first[0]
    assert page.count('fetchpriority="high"') == 1
    assert next(iter(sections(page))) == "now"
    assert sections(page)["now"].startswith("Still growing Young physalis Day 60")


def test_a_picture_says_its_day_and_date() -> None:
    """With the year, where the run has a date."""
    page = home(full_run())

    assert "Latest result First physalis Day 60, 30 April 2025" in sections(page)["now"].replace(
        "\u00a0", " "
    )


def test_without_a_running_run_the_latest_result_is_first() -> None:
    """It is not told twice."""
    found = sections(home(full_run(), remembered_run()))

    assert found["now"].startswith("Latest result First physalis")
    assert "latest" not in found


def test_results_have_picture_question_answer_and_verdict() -> None:
    """A card says what was asked, what came of it and what the author thinks."""
    page = home(full_run(), started_run())
    card = sections(page)["latest"].replace("\u00a0", " ")

    assert '<li class="card">' in page
    assert card == (
        "Latest results Spring 2025, 64 days First physalis Does it fruit in an attic? "
        "At least 196 g (6.9 oz) of fruit from 4 plants; one pick was not weighed. Again: it fruited."
    )


def test_a_run_without_a_photo_has_its_words_alone() -> None:
    """No empty frame stands for a picture that is not there."""
    page = home(full_run(), started_run(), pictures=())

    assert '<li class="card bare">' in page
    assert "<img" not in page


def test_six_results_are_cards_and_older_ones_lines() -> None:
    """The six latest runs are cards; all have a line under their season, the older ones with their answer."""
    page = home(started_run(), *series(8))
    found = sections(page)

    assert page.count('<li class="card') == 6
    assert [found["seasons"].count(f"Attempt {n}") for n in range(8)] == [1] * 8
    assert found["seasons"].count("At least 196") == 2


@pytest.mark.parametrize("theme", ["ledger", "propagator"])
def test_a_running_run_stands_under_its_season(theme: str) -> None:
    """So does one that ended, and not one that is planned."""
    small = site(full_run(), started_run(), planned_run())
    made, _ = render(replace(small, journal=replace(small.journal, theme=theme)))
    page = next(each for each in made if each.address == "index.html").content.decode()
    under = page[page.index('id="season-s"') :]

    assert under.count("Young physalis") == under.count("First physalis") == 1
    assert "Next physalis" not in under


def test_the_doors_lead_to_everything() -> None:
    """Crops, systems, the comparison, the methods and the cautions are linked, under the number of runs."""
    page = home(full_run(), started_run(), planned_run())
    doors = page[page.index('id="doors"') :]

    assert "Two runs and one planned" in sections(page)["doors"]
    for address in ("crops/physalis", "systems/bucket", "compare", "methods", "cautions"):
        assert f'href="{address}.html"' in doors
