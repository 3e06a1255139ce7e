"""Arms of several runs side by side."""

from __future__ import annotations

import re
from dataclasses import replace

from markupsafe import Markup

from sitegen.core.facts.figure import remark
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.measure import run_arms
from sitegen.render.numbers.arms_table import ArmsTable, arms_table
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.pages.summary import RunSummary, summary_of
from tests.render.builders import facts, full_run, started_run

BOOK = FigureBook(Wording(), "compare.html")


def whole() -> Run:
    """A run that compares nothing."""
    run = full_run()
    plants = tuple(replace(plant, groups=()) for plant in run.setup.plants)
    return replace(run, setup=replace(run.setup, groups=(), plants=plants))


def summarised(run: Run) -> RunSummary:
    """The summary of a run, with its arms."""
    return summary_of(facts(run), (), run_arms(facts(run)))


def _text(cell: Markup) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", cell)).strip().replace(NBSP, " ")


def said(table: ArmsTable) -> list[dict[str, str]]:
    """Each row's cells as text, by the heading of their column."""
    titles = [column.title for column in table.columns]
    return [dict(zip(titles, map(_text, row), strict=True)) for row in table.rows]


def test_a_run_that_compares_nothing_is_one_row() -> None:
    """Its figures are those of the run; a range stays one, a bound has its words."""
    table = arms_table([summarised(whole())], BOOK)
    (row,) = said(table)

    assert row["Run"] == "First physalis"
    assert (row["Variety"], row["System"], row["Sown"]) == ("Amber", "Bucket", "Mar 2025")
    assert row["First pick"] == "day 55"
    assert row["Harvest per spot"] == "at least 49 g (1.73 oz)"
    assert row["Harvest in all"] == "at least 196 g (6.9 oz)"
    assert row["Grow it again?"] == "again"


def test_each_arm_is_a_row_of_its_own() -> None:
    """Arms stand one below the other under the name of their run, each with a capital like any heading."""
    rows = said(arms_table([summarised(full_run())], BOOK))

    assert [row["Run"] for row in rows] == ["First physalis Early", "First physalis Late"]
    assert [row["Harvest in all"] for row in rows] == ["at least 84 g (2.96 oz)", "up to 112 g (3.95 oz)"]


def test_a_yield_that_counts_a_plant_of_no_arm_says_so() -> None:
    """What a whole tub gave for its ground is more than the plants of the row gave: the plant beside them is named."""
    summary = summarised(full_run())
    assert summary.arms is not None
    whole_tub = remark("whole_tub_with_moves", plants=("P3",))
    yielded = replace(summary.arms.arms[0].figures.total, name="picks.square_metre", remarks=(whole_tub,))
    arms = replace(
        summary.arms,
        arms=tuple(
            replace(arm, figures=replace(arm.figures, square_metre=yielded)) for arm in summary.arms.arms
        ),
    )
    rows = said(arms_table([replace(summary, arms=arms)], BOOK))
    assert rows[0]["Harvest for the floor space used"].endswith("the whole tub, with P3 while it was there")
    assert "whole tub" not in rows[0]["Harvest in all"]


def test_a_run_that_has_hardly_begun_says_what_is_missing() -> None:
    """No cell is blank where something could have been recorded, and the run says that it still grows."""
    row = said(arms_table([summarised(whole()), summarised(started_run())], BOOK, crops=True))[1]

    assert row["Run"] == "Young physalis still growing"
    assert (row["Sown"], row["First pick"]) == ("not recorded", "none yet on day 0")
    assert row["Harvest per spot"] == "no harvest was logged"


def test_each_heading_is_understood_alone() -> None:
    """What a number is of, and what it was divided by, stands in its heading: a phone shows only some."""
    titles = [column.title for column in arms_table([summarised(whole())], BOOK).columns]
    assert titles == [
        "Run",
        "Variety",
        "System",
        "Sown",
        "Came up",
        "First flower",
        "Plants that reached that stage",
        "First pick",
        "Harvest per spot",
        "Harvest for the floor space used",
        "Harvest in all",
        "Taste",
        "Grow it again?",
    ]


def test_columns_that_say_nothing_are_named_below() -> None:
    """A column in which nothing was recorded of any run is left out, and a note says so."""
    table = arms_table([summarised(started_run())], BOOK)

    assert "Sown" not in said(table)[0]
    assert table.note.startswith("Not recorded for any run: sown, came up, first flower")


def test_the_page_of_a_system_shows_its_own_arms_only() -> None:
    """Arms in other systems are left out, and so is the column that would say the same in each row."""
    summary = summarised(whole())

    assert "System" not in said(arms_table([summary], BOOK, system="bucket"))[0]
    assert arms_table([summary], BOOK, system="tray").rows == ()


def test_the_date_of_sowing_sorts_by_its_year() -> None:
    """A cell that says a month also has it in the order of the calendar, for the script that sorts."""
    table = arms_table([summarised(whole())], BOOK)

    assert '<time datetime="2025-03">' in table.rows[0][3]
