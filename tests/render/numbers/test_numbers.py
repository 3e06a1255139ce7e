"""All numbers of a run."""

from __future__ import annotations

import re

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.numbers import numbers, rarer
from tests.render.builders import facts, full_run, started_run


def said(run: Run) -> dict[str, list[str]]:
    """The numbers of a run by subject, as text."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    return {
        item.name: [re.sub(r"\s+", " ", line.striptags()).replace(NBSP, " ") for line in item.lines]
        for item in numbers(facts(run), book)
    }


def test_the_run() -> None:
    """Length and last entry come first."""
    assert said(full_run())["The run"] == ["Length: 64 days", "Last visit: day 64"]


def test_what_every_run_is_asked_for_is_never_left_out() -> None:
    """A run without readings has the line all the same, and it says so."""
    found = said(started_run())

    assert found["Growth"][:2] == ["Tallest: not recorded", "Widest: not recorded"]
    assert found["Air and light"][:2] == ["Air: not recorded", "Humidity of the air: not recorded"]
    assert found["Harvest"][0] == "Harvest: not recorded"


def test_a_stage_is_one_line() -> None:
    """First day, share and median of a stage stand together."""
    (line,) = said(full_run())["Stages"]

    assert line.startswith(
        "First flower: first seen day 41 (not yet on day 38); 3 of 4 (95 % interval 30–95 %) got there"
    )


def test_a_lone_part_is_not_said_twice() -> None:
    """Where all picks are of one part, tub or variety, only the total stands."""
    lines = said(full_run())["Harvest"]

    assert [line for line in lines if line.startswith("Harvest, ")] == [
        # The lower bound stays one in ounces: 84 g are 2.96 oz.
        "Harvest, early: at least 84 g (2.96 oz); one pick was not weighed; one pick was weighed together with P3",
        "Harvest, late: up to 112 g (3.95 oz); one pick was weighed together with P1 and P2",
        "Harvest, not split between these: 112 g (3.95 oz)",
    ]


def test_a_stage_of_a_group_is_one_line() -> None:
    """How far the plants of each group came stands with the sets: numbers, median, days of each."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    lines = {item.name: item.lines for item in rarer(facts(full_run()), book)}["Groups, varieties and tubs"]
    found = [re.sub(r"\s+", " ", line.striptags()).replace(NBSP, " ") for line in lines]

    assert [line for line in found if "first flower" in line] == [
        (
            "Early, first flower: 2 got there; that is all 2 (95 % interval 34–100 %); half the plants by days "
            "39–41 (from 2 plants); plant by plant, after 39–41 days (2 plants alike)"
        ),
        (
            "Late, first flower: 1 got there; that is 1 of 2 (95 % interval 9–91 %); 1 lost before that; half "
            "the plants by days 39–41 (from 2 plants; one plant was lost before that); plant by plant, after 39–41 days"
        ),
    ]
