"""Where pages say what is to come in a run."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

import html5lib
import pytest

from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.values.day import Day, Start
from sitegen.render import render
from tests.measure.builders import event, grams, joint, pick, run_of, seeds, setup_of
from tests.pages import words
from tests.render.builders import JOURNAL, site

EXPECTED = (
    "First pick: days 55–64, as in the three physalis runs before (a chance of one in two if grown the "
    "same way). Harvest per spot: 20–25 g (0.71–0.88 oz), as in the three physalis runs before (a chance "
    "of one in two if grown the same way)."
)


def run_of_year(year: int, picked: int | None = None, weight: int = 0) -> Run:
    """A run that ended after its one pick, or that still grows."""
    claims = Claims(days=Day(60, 60), counted_from="sowing")
    setup = replace(
        setup_of(4, start=Start(dt.date(year, 3, 1), "day")),
        id=f"run-{year}",
        title=f"The run of {year}",
        seed=Seed("a swap", "2024", claims=claims),
    )
    rows = (seeds(0, 1, "P1", "P2", "P3", "P4"), event(Deed.NOTE, 30, what="quiet"))
    if picked is None:
        return run_of(setup, events=rows)
    ended = event(Deed.END, 90, what="slow now", kept=True)
    picks = (pick(picked, joint("P1"), grams(weight)),)
    return run_of(setup, events=(*rows, ended), picks=picks)


RUNS = (
    run_of_year(2021, 55, 80),
    run_of_year(2022, 64, 100),
    run_of_year(2023, 58, 92),
    run_of_year(2024),
)


def pages(theme: str, runs: Iterable[Run] = RUNS) -> dict[str, str]:
    """The text of each page, with plain spaces."""
    made, _ = render(site(*runs, journal=replace(JOURNAL, theme=theme)))
    return {
        page.address: words(html5lib.parse(page.content.decode()))
        for page in made
        if page.address.endswith(".html")
    }


@pytest.mark.parametrize("theme", ["ledger", "propagator"])
def test_own_page_and_home(theme: str) -> None:
    """The page of a run that grows and the home page say what is to come, with the days claimed; no other page does."""
    made = pages(theme)
    saying = {address for address, text in made.items() if EXPECTED in text}
    assert saying == {"index.html", "experiments/run-2024.html"}
    for address in saying:
        claimed = f"{EXPECTED} Going by the days claimed for the seed, the first pick is due on day 60"
        assert claimed in made[address]


@pytest.mark.parametrize("theme", ["ledger", "propagator"])
def test_later_runs_say_nothing(theme: str) -> None:
    """Only runs that began before are asked: of the first run that grows nothing is said."""
    first = run_of_year(2020)
    made = pages(theme, (*RUNS[:3], first))
    assert not any("runs before" in text or "not enough runs" in text for text in made.values())
