"""Where the rows behind a figure stand, for a reader."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.source import Source
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Rows
from sitegen.core.values.day import Day
from sitegen.measure import measure
from sitegen.render.numbers.places import Places
from tests.measure.builders import grams, joint, pick
from tests.render.builders import full_run

RECORD = "experiments/a/record.html"
FILE = "seasons/s/a/experiment.yaml"
ROWS = full_run().rows


def shown(rows: Rows, *found: Source, page: str = RECORD) -> str:
    """What a reader sees, as HTML."""
    return str(Places.of(rows).shown(found, RECORD, page, Wording())).replace(NBSP, " ")


def picked(*days: int) -> Rows:
    """A log of picks, each at a line of its own; an entry on each of its days."""
    picks = tuple(replace(pick(day, joint("P1"), grams(10), day), source=Source(FILE, day)) for day in days)
    entries = tuple(replace(ROWS.entries[0], day=Day(day, day), source=Source(FILE, day, 3)) for day in days)
    return Rows(entries=entries, picks=picks)


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ((30,), "day 30"),
        ((41, 30), "day 30 and day 41"),
        ((30, 41, 50), "day 30, day 41 and day 50"),
        ((30, 41, 50, 62), "4 days from day 30 to day 62"),
    ],
)
def test_days_are_named(days: tuple[int, ...], words: str) -> None:
    """Three days and fewer are named, each once; of more, how many and the first and the last."""
    rows = picked(*sorted(days))
    html = shown(rows, *(Source(FILE, day) for day in (*days, *days)))

    assert re.sub("<[^>]+>", "", html) == words


def test_each_day_leads_to_its_visit() -> None:
    """A day leads to the visit of that day on the record, from another page too."""
    assert shown(picked(30), Source(FILE, 30)) == '<a href="#day-30">day 30</a>'
    assert 'href="a/record.html#day-30"' in shown(picked(30), Source(FILE, 30), page="experiments/a.html")


def test_what_no_visit_gave_is_of_the_setup() -> None:
    """A row that is none of the log's is called the set-up, once."""
    assert shown(picked(30), Source(FILE, 3), Source(FILE, 4)) == "the set-up"
    assert shown(picked(30), Source(FILE, 3), Source(FILE, 30)).endswith("</a> and the set-up")
    assert shown(picked(30)) == ""


def test_a_day_of_a_spreadsheet_leads_to_the_nearest_visit() -> None:
    """A reading that was exported from an instrument has no visit: the nearest day of the log is shown."""
    reading = next(iter(ROWS.readings))._replace(entry=None, day=Day(34, 34), source=Source("x/air.csv", 7))
    rows = replace(picked(30, 41), readings=(reading,))

    assert shown(rows, Source("x/air.csv", 7)) == '<a href="#day-30">day 34</a>'


@given(st.sets(st.integers(0, 60), min_size=1), st.integers(-5, 70))
def test_no_visit_is_nearer_than_the_one_led_to(visits: set[int], day: int) -> None:
    """Of all visits in turn; of two that are as near, the earlier."""
    reading = next(iter(ROWS.readings))._replace(entry=None, day=Day(day, day), source=Source("x/air.csv", 7))
    html = shown(replace(picked(*sorted(visits)), readings=(reading,)), Source("x/air.csv", 7))

    assert f'href="#day-{min(visits, key=lambda visit: (abs(visit - day), visit))}"' in html


def test_the_harvest_of_a_run_leads_to_the_days_of_its_picks() -> None:
    """Of a whole run as it is measured, every day on which something was picked is led to."""
    facts = measure(full_run())
    html = str(Places.of(facts.run.rows).shown(facts.harvest.total.rows, RECORD, RECORD, Wording()))

    assert re.findall(r'href="#(day-\d+)"', html) == sorted(
        {f"day-{p.day.first}" for p in facts.run.rows.picks}
    )
