"""Tables of an experiment, and runs side by side."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from markupsafe import Markup

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.quantity import Quantity
from sitegen.measure import measure
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.tables import Table, picks_table, plants_table
from tests.measure.builders import grams, joint, pick, run_of, unweighed
from tests.render.builders import facts, full_run, started_run

BOOK = FigureBook(Wording(), "experiments/first-physalis.html")


def plain(table: Table | None) -> list[list[str]]:
    """The cells of a table as text, its headings first."""
    assert table is not None
    rows = [
        [column.title for column in table.columns],
        *([_text(cell) for cell in row] for row in table.rows),
    ]
    return rows + [[_text(cell) for cell in row] for row in table.foot]


def _text(cell: Markup) -> str:
    return re.sub(r"\s+", " ", cell.striptags()).replace(NBSP, " ")


def test_picks() -> None:
    """Every pick is a row, an unweighed one says so, and the total stands below."""
    assert plain(picks_table(facts(), BOOK)) == [
        ["Day", "Date", "Plants", "Part", "Weight", "Pieces", "Spoilt"],
        ["55", "25 Apr", "P1", "fruit", "84 g (2.96 oz)", "9", "1"],
        ["60", "30 Apr", "P2", "fruit", "not weighed", "", ""],
        ["60", "30 Apr", "P1–P3, together", "fruit", "112 g (3.95 oz)", "", ""],
        ["Total", "", "", "", "at least 196 g (6.9 oz)", "", ""],
    ]


@pytest.mark.parametrize(
    ("spoilt", "weight", "cell"),
    [
        (2, grams(30), "2; 30 g (1.06 oz)"),
        (None, grams(30), "30 g (1.06 oz)"),
        (2, unweighed(), "2; not weighed"),
        (2, None, "2"),
        (None, None, "not recorded"),
    ],
)
def test_spoilt_part_of_a_pick(spoilt: int | None, weight: Quantity | None, cell: str) -> None:
    """The column of what was spoilt has the number, the weight, or both."""
    rows = [
        pick(55, joint("P1"), grams(84), spoilt=spoilt, spoilt_weight=weight),
        pick(56, joint("P1"), grams(84), spoilt=1),
    ]
    table = picks_table(measure(run_of(picks=rows)), BOOK)
    assert table is not None
    spoilt_column = [column.title for column in table.columns].index("Spoilt")
    assert plain(table)[1][spoilt_column] == cell


def test_empty_columns_are_named_below() -> None:
    """A column without a value is left out and named; one that most picks leave empty has blanks, as the note says."""
    table = picks_table(facts(), BOOK)

    assert table is not None
    assert table.note == "Not recorded: grade. An empty cell means: not recorded."


def test_no_picks_no_table() -> None:
    """A run without picks has no table of them."""
    assert picks_table(facts(started_run()), BOOK) is None


def test_plants() -> None:
    """Every plant is a row; what was not kept by plant, and what it never reached, is said."""
    assert plain(plants_table(facts(), BOOK))[1:] == [
        ["P1", "days 39–41", "84–196 g (2.96–6.91 oz)", "standing"],
        ["P2", "days 39–41", "not weighed", "standing"],
        ["P3", "days 39–41", "up to 112 g (3.95 oz)", "standing"],
        ["P4", "lost before that", "0 g", "lost on day 50: snapped"],
    ]


def test_a_plant_without_a_pick_has_no_yield_yet() -> None:
    """A plant that still grows gave nothing yet, which is no weight."""
    run = full_run()
    kept = replace(run, rows=replace(run.rows, picks=run.rows.picks[:1]))
    assert [row[2] for row in plain(plants_table(measure(kept), BOOK))[1:]] == [
        "84 g (2.96 oz)",
        "nothing picked yet",
        "nothing picked yet",
        "0 g",
    ]
