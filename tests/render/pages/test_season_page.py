"""The pages of a season and of a system: its runs as pictures with their answer."""

from __future__ import annotations

from dataclasses import replace

import html5lib

from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Season
from sitegen.render import render
from tests.pages import words
from tests.render.builders import full_run, planned_run, remembered_run, site, started_run


def page_of(address: str, *runs: Run, summary: str = "Under the roof.") -> tuple[str, dict[str, str]]:
    """The markup of a page of a site, and the words of its header and of each section, by its heading."""
    small = replace(site(*runs), seasons=(Season("s", "Spring 2025", summary),))
    made, findings = render(small)
    assert findings == ()
    markup = next(page for page in made if page.address == address).content.decode()
    tree = html5lib.parse(markup, namespaceHTMLElements=False)
    (main,) = tree.iter("main")
    parts = {node.get("aria-labelledby") or node.tag: words(node).replace("\u00a0", " ") for node in main}
    return markup, parts


def test_a_season_says_its_author_s_words_and_what_was_grown() -> None:
    """The author's sentence, the number of runs, the crops and the systems."""
    _, parts = page_of("seasons/s.html", full_run(), started_run())

    assert parts["header"] == (
        "Season Spring 2025 Under the roof. Two runs; one still growing at the last visit. "
        "Grown: physalis. In: bucket."
    )


def test_a_season_has_its_runs_as_cards() -> None:
    """One that ended has its dates and its answer, one that still grows its state, one to come its date, last of all."""
    markup, parts = page_of("seasons/s.html", planned_run(), full_run(), started_run())

    assert markup.count('<li class="card') == 3
    assert parts["runs"] == (
        "What was tried 1 March to 4 May 2025, 64 days First physalis Does it fruit in an attic? "
        "At least 196 g (6.9 oz) of fruit from 4 plants; one pick was not weighed. Again: it fruited. "
        "Day 0, last visit Young physalis Nothing had been picked by the last visit, on day 0. "
        "To be sown on 5 March 2026 Next physalis Does an early prune help?"
    )


def test_a_season_to_come_has_no_numbers() -> None:
    """Its runs stand under what is planned; no table of nothing follows."""
    _, parts = page_of("seasons/s.html", planned_run())

    assert parts["runs"].startswith("Planned To be sown on 5 March 2026 Next physalis")
    assert "numbers" not in parts


def test_a_run_from_memory_stands_with_its_year() -> None:
    """A date is said as far as it is known."""
    _, parts = page_of("seasons/s.html", full_run(), remembered_run())

    assert "Sown in 2023 Physalis on the sill" in parts["runs"]


def test_the_figures_of_a_season_are_folded() -> None:
    """The table of all figures is there, behind the line that names it."""
    markup, parts = page_of("seasons/s.html", full_run())

    assert "<summary>All figures of these runs, side by side</summary>" in markup
    assert parts["numbers"].startswith("In numbers Picked in all runs together: at least 196 g (6.9 oz).")
    assert "First physalis" in parts["numbers"]


def test_a_system_says_what_it_is_once() -> None:
    """Its name and kind stand in the title, its measures below; then come its runs."""
    _, parts = page_of("systems/bucket.html", full_run(), started_run())

    assert parts["header"].count("Bucket") == 1
    assert parts["runs"].startswith("The runs in it 1 March to 4 May 2025, 64 days First physalis")


def test_a_system_with_many_runs_shows_the_latest_six() -> None:
    """Of seven runs six are cards; the lines of days have all of them."""
    run = full_run()
    runs = tuple(
        replace(run, setup=replace(run.setup, id=f"run-{n}", title=f"Attempt {n}", was=())) for n in range(7)
    )
    markup, parts = page_of("systems/bucket.html", *runs)

    assert markup.count('<li class="card') == 6
    assert parts["runs"].startswith("The latest runs in it")
    assert all(f"Attempt {n}" in parts["days"] for n in range(7))
