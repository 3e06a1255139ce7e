"""Spreadsheets and the log, where both give a value."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.readings.sheets import sheet_and_log
from tests.judge.builders import by, everyone, height, read, run, sown

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
    """One value of the log that several cells contradict is said once, with how many more."""
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
    """Values within their steps, estimates within a tenth, and what is about something else agree."""
    assert by(sheet_and_log, run(sown(), height(20, 9, "P1"), other)) == []


def test_one_of_two_values_is_enough() -> None:
    """A plant measured twice on a day agrees with a spreadsheet that has one of the values."""
    made = run(sown(), height(20, 9, "P1"), height(20, 14, "P1"), cell("P1", tall(14)))

    assert by(sheet_and_log, made) == []


def test_measured_to_another_place() -> None:
    """A height that was taken to something else is another value."""
    made = run(sown(), height(20, 9, "P1", at="lowest leaf"), cell("P1", tall(14)))

    assert by(sheet_and_log, made) == []
