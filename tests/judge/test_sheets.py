"""Spreadsheets and the log, where both give a value."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.plant_readings import sheet_and_log, sheet_day_twice
from tests.judge.builders import by, checked, everyone, height, place, read, run, sown

TALL = exactly(9, Dimension.LENGTH, 1)


def cell(plant: str, value: Quantity, *, name: str = "height", day: int | Day = 20, line: int = 4) -> Reading:
    """A cell of a spreadsheet."""
    on = Day.on(day) if isinstance(day, int) else day
    return Reading(name, on, None, Source("spring/sheet.csv", line, 9, 2), value, (plant,))


def tall(cm: float, step: float = 0.1, *, about: bool = False) -> Quantity:
    """A height."""
    return Quantity(cm, cm, Dimension.LENGTH, step=step, about=about)


def test_sheet_and_log() -> None:
    """A value of the log that a spreadsheet does not share is an error there, and names the cell."""
    made = run(sown(), height(20, 9, "P1"), cell("P1", tall(12.4)))

    assert by(sheet_and_log, made) == [
        (
            "e.yaml:120:5: error[sheet-and-log]: `height` of `P1` on day 20 is 9 cm here and 12.4 cm in line 4 "
            "of `sheet.csv` (correct the one that is wrong, or keep the value in one of the two)"
        )
    ]


def test_said_once_for_a_value_of_several() -> None:
    """One value of the log that several cells contradict is one finding, with the number of further plants."""
    made = run(sown(), read("height", 20, TALL, everyone()), *(cell(p, tall(14)) for p in ("P3", "P1", "P2")))

    assert by(sheet_and_log, made) == [
        (
            "e.yaml:120:5: error[sheet-and-log]: `height` of `P1` on day 20 is 9 cm here and 14 cm in line 4 "
            "of `sheet.csv` (2 more plants likewise) (correct the one that is wrong, or keep the value in one of the two)"
        )
    ]


@pytest.mark.parametrize(
    "other",
    [
        cell("P1", tall(9.9)),
        cell("P1", tall(10, 1)),
        cell("P1", tall(10.8, about=True)),
        cell("P1", Quantity(7, None, Dimension.LENGTH, open=1)),
        cell("P1", unknown(Dimension.LENGTH)),
        cell("P2", tall(14)),
        cell("P1", tall(14), day=21),
        cell("P1", tall(14), day=Day(20, 22)),
        cell("P1", tall(14), day=Day(20, 20, about=True)),
        cell("P1", tall(14), name="spread"),
    ],
)
def test_agreeing(other: Reading) -> None:
    """Values within their steps, estimates within a tenth, and values of other plants or days agree."""
    assert by(sheet_and_log, run(sown(), height(20, 9, "P1"), other)) == []


def test_one_of_two_values_is_enough() -> None:
    """A plant measured twice on a day agrees with a spreadsheet that has one of the values."""
    made = run(sown(), height(20, 9, "P1"), height(20, 14, "P1"), cell("P1", tall(14)))

    assert by(sheet_and_log, made) == []


def test_measured_to_another_place() -> None:
    """A height that was taken to something else is another value."""
    made = run(sown(), height(20, 9, "P1", at="lowest leaf"), cell("P1", tall(14)))

    assert by(sheet_and_log, made) == []


def unlike(line: int, mine: str, theirs: str, *, cell_line: int = 4, more: str = "") -> Finding:
    """A cell that says otherwise than the log of the height of P1."""
    where = f"line {cell_line} of `sheet.csv`{more}"
    message = f"`height` of `P1` on day {line - 100} is {mine} here and {theirs} in {where}"
    mend = "correct the one that is wrong, or keep the value in one of the two"
    return Finding("sheet-and-log", place(line), message, mend, mine, theirs)


@pytest.mark.parametrize(
    ("other", "theirs"),
    [
        (tall(10), ""),
        (tall(10.01), "10 cm"),
        (tall(8), ""),
        (tall(7.9), "7.9 cm"),
        (tall(12, 3), ""),
        (tall(12.1, 3), "12.1 cm"),
        (tall(11.1, about=True), ""),
        (tall(11.2, about=True), "about 11.2 cm"),
        (replace(tall(11.1), by_eye=True), ""),
        (replace(tall(11.2), by_eye=True), "11.2 cm"),
        (tall(7.1, about=True), ""),
        (tall(7, about=True), "about 7 cm"),
        (Quantity(4, 8, Dimension.LENGTH, step=1), ""),
        (Quantity(4, 7.9, Dimension.LENGTH, step=1), "4-7.9 cm"),
        (Quantity(10, 20, Dimension.LENGTH, step=1), ""),
        (Quantity(10.1, 20, Dimension.LENGTH, step=1), "10.1-20 cm"),
        (Quantity(11, None, Dimension.LENGTH, open=1), "at least 11 cm"),
    ],
)
def test_steps_of_two_values(other: Quantity, theirs: str) -> None:
    """Two values may differ by the coarser step, and by a tenth of the larger one where one is an estimate."""
    made = run(sown(), height(20, 9, "P1"), cell("P1", other))

    assert checked(sheet_and_log, made) == ([unlike(120, "9 cm", theirs)] if theirs else [])


def test_several_cells() -> None:
    """Each value of the log that is contradicted is a finding, with the first cell by line and plant."""
    made = run(
        sown(),
        height(20, 9, "P1", "P2"),
        height(21, 9, "P1"),
        height(22, 9, "P1"),
        height(22, 8, "P1"),
        *(cell("P2", tall(14), line=3), cell("P1", tall(14), line=3), cell("P1", tall(9), day=21)),
        cell("P1", tall(20), day=22, line=5),
    )

    assert checked(sheet_and_log, made) == [
        unlike(120, "9 cm", "14 cm", cell_line=3, more=" (1 more plant likewise)"),
        unlike(122, "9 cm", "20 cm", cell_line=5),
    ]


def test_several_cells_of_a_plant() -> None:
    """Of several cells of a plant the first that contradicts is named, and no plant is counted twice."""
    cells = cell("P1", tall(15), line=6), cell("P1", tall(14), line=5), cell("P1", tall(9), line=3)

    assert checked(sheet_and_log, run(sown(), height(20, 9, "P1"), *cells)) == [
        unlike(120, "9 cm", "14 cm", cell_line=5)
    ]


@pytest.mark.parametrize(
    "other",
    [
        height(20, 9, "P1")._replace(together=True),
        height(20, 9, "P1")._replace(day=Day(20, 21)),
        height(20, 9, "P1")._replace(day=Day(20, 20, about=True)),
        height(20, 9, "P1")._replace(what="nodes"),
        height(20, 9, "P1")._replace(plants=()),
    ],
)
def test_values_that_are_not_compared(other: Reading) -> None:
    """A value of plants together, of an uncertain day, of another count or of no plant is compared with no cell."""
    assert checked(sheet_and_log, run(sown(), other, cell("P1", tall(14)))) == []
    assert len(checked(sheet_and_log, run(sown(), height(20, 9, "P1"), other, cell("P1", tall(14))))) == 1


def test_cells_of_a_group() -> None:
    """A cell of several plants together is compared with no value."""
    together = cell("P1", tall(14))._replace(together=True)

    assert checked(sheet_and_log, run(sown(), height(20, 9, "P1"), together)) == []


def test_day_twice() -> None:
    """A second row for a day with another value is a warning at the row, once for all of its cells."""
    rows = [cell(plant, tall(cm), line=line) for line, cm in ((4, 9), (6, 14)) for plant in ("P1", "P2")]

    assert by(sheet_day_twice, run(sown(), *rows)) == [
        (
            "spring/sheet.csv:6:9: warning[sheet-day-twice]: a second row for day 20; the first is in line 4 "
            "(check the day of both rows, or keep one of them)"
        )
    ]


def test_day_in_two_rows() -> None:
    """Two rows for a day that hold the same value, or those of other plants, are none."""
    rows = [cell("P1", tall(9), line=4), cell("P1", tall(9), line=5), cell("P2", tall(14), line=6)]

    assert by(sheet_day_twice, run(sown(), *rows)) == []
