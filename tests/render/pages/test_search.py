"""The index that the site's script searches."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.render import render
from sitegen.render.pages.search import further_words, searched_run
from tests.ingest.builders import read
from tests.render.builders import facts, full_run, planned_run, remembered_run, site
from tests.render.metadata.builders import summary

RECAP = """## How it went

It grew, and *slowly*: {{ facts.harvest.total }} of fruit. [Elsewhere](first-physalis) nothing did.

```photo
day-60.jpg
```

Slowly, again.
"""


@lru_cache(maxsize=1)
def index() -> tuple[str, list[dict[str, Any]]]:
    """The script as it is written, and the entries that it assigns."""
    pages, _ = render(site())
    text = next(page for page in pages if page.address == "find.js").content.decode()
    return text, json.loads(text.removeprefix("window.siteIndex=").removesuffix(";\n"))


def test_the_index_is_a_script_that_assigns_one_name() -> None:
    """It can be loaded from a folder on disk: no data file is asked for."""
    assert index()[0].startswith("window.siteIndex=[{")


def test_an_experiment_is_found_by_title_crop_season_and_answer() -> None:
    """An entry has what the result list shows, the verdict with it, and leads to the page."""
    entry = next(each for each in index()[1] if each["a"] == "experiments/first-physalis.html")

    assert (entry["t"], entry["k"], entry["s"]) == (
        "First physalis",
        "Physalis, Spring 2025",
        "At least 196\u00a0g (6.9\u00a0oz) of fruit from 4 plants; one pick was not weighed. Again: it fruited.",
    )


def test_notes_trouble_taste_and_loss_are_kept_with_their_day() -> None:
    """Each as it was written, with the anchor and the words of its day."""
    entry = next(each for each in index()[1] if each["a"] == "experiments/first-physalis.html")

    assert [(anchor, day.replace("\u00a0", " "), text) for anchor, day, text in entry["n"]] == [
        ("day-36", "day 36", "lower leaves"),
        ("day-37", "day 37", "mould on the plug"),
        ("day-50", "day 50", "snapped"),
        ("day-60", "day 60", "sharp <b>"),
        ("day-60", "day 60", "Weighed & eaten: {{ nothing }}"),
        ("day-64", "day 64", "slow now"),
    ]


def _in_every_form(root: Path, key: str) -> Iterator[Run]:
    """A run for each form of a value in which a key takes a word."""
    forms = ("{}", "4/5, {}", "{{what: {}}}", "{{why: {}}}", "{{P1: {}}}", "{{product: syrup, what: {}}}")
    for number, form in enumerate(forms):
        log = f"  - day: 0\n    sow: 3 a spot\n  - day: 9\n    {key}: {form.format('zyzzyva')}\n"
        run, findings = read(root / str(number), log)
        if run is not None and not findings:
            yield run


@pytest.mark.parametrize("key", [key for key in LOG_KEYS if key not in {"private", "clip"}])
def test_words_of_every_kind_of_event_are_searched(key: str, tmp_path: Path) -> None:
    """Wherever a record keeps words of its author they are found; private ones and those of footage are on no page."""
    for run in _in_every_form(tmp_path, key):
        kept = {event.what for event in run.rows.events if "zyzzyva" in event.what}
        days = searched_run(summary(run), run, Wording())["days"]
        assert {text for anchor, _, text in days if anchor == "day-9"} == kept


def test_footage_and_private_text_are_not_searched(tmp_path: Path) -> None:
    """No page shows them."""
    runs = [run for key in ("private", "clip") for run in _in_every_form(tmp_path / key, key)]

    assert runs
    assert not any(searched_run(summary(run), run, Wording())["days"] for run in runs)


def test_the_story_has_each_word_once() -> None:
    """Without markup, blocks and names of figures, and without the words that stand elsewhere in the entry."""
    run = full_run(RECAP)
    found = searched_run(summary(run), run, Wording())

    assert found["story"] == "How went grew and slowly Elsewhere did"


def test_no_word_stands_twice_among_those_that_are_not_shown() -> None:
    """What is only searched has each word once, and none that the entry shows."""
    for entry in index()[1]:
        words = re.findall(r"[^\W_]+(?:['’-][^\W_]+)*", entry.get("w", "").casefold())
        shown = f"{entry['t']} {entry['k']} {entry.get('s', '')}".casefold()
        assert len(words) == len(set(words))
        assert set(words).isdisjoint(re.findall(r"[^\W_]+(?:['’-][^\W_]+)*", shown))


def test_further_words() -> None:
    """The first way of writing stays; single letters are no words to search for."""
    assert further_words("Mould, mould and a root-rot", "Root") == "Mould and root-rot"


def test_a_run_without_a_log_is_found_by_its_words() -> None:
    """One from memory by its answer and its change, one to come by its question."""
    memory, plan = (searched_run(summary(run), run, Wording()) for run in (remembered_run(), planned_run()))

    assert memory["sentence"] == "What came of it: a few small fruits. Not again: it leaned."
    assert memory["more"] == "Amber Bucket Does grow without lamp From memory hang over"
    assert plan["sentence"] == "Planned: to be sown on 5\u00a0March 2026."
    assert "early" in plan["more"]
    assert memory["days"] == plan["days"] == []


def test_the_index_leads_only_to_pages_that_are_there() -> None:
    """Every address of the index is a page of the site, and every day an anchor of it."""
    pages, _ = render(site())
    there = {page.address: page for page in pages}

    assert {each["a"].partition("#")[0] for each in index()[1]} <= there.keys()
    assert {each["k"] for each in index()[1]} >= {"Crop", "System", "Season", "Page", "Method"}
    for entry in index()[1]:
        for anchor, _, _ in entry.get("n", ()):
            assert f'id="{anchor}"' in there[entry["a"]].content.decode()


def test_the_facts_are_not_read() -> None:
    """What the search knows comes from the summary and the records alone."""
    run = full_run()

    assert searched_run(summary(run), facts(run).run, Wording()) == searched_run(summary(run), run, Wording())
