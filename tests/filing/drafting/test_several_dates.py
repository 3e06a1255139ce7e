"""Sheets with several columns of dates, and cells that say more than a number: nothing is dropped, each choice is said.

All sheets are invented; the expected logs are theirs, by hand.
"""

# ruff: noqa: E501 - a line of a draft stays whole

from __future__ import annotations

import datetime as dt

import pytest

from tests.filing.drafting.builders import drafted, found_in, workbook


def on(day: int) -> dt.date:
    """A date, so many days after the first of March."""
    return dt.date(2026, 3, 1) + dt.timedelta(days=day)


SOWN = "days of sowing, each in the log as `sow`, of seeds that were not counted; the first is day 0"
WORDS = "words beside a number in a cell are a note of its entry"
TABLES = [
    pytest.param(
        [["Plant", "Sown", "Picked on", "Weight (g)", "Notes"], ["P1", on(0), on(40), 9, "first"], ["P2", on(0), on(47), 12, None], ["P3", on(2), on(47), 11, None], ["P4", on(2), None, None, None]],
        ["  - date: 2026-03-01", "    sow: {plants: [P1, P2], seeds: not kept}", "  - date: 2026-03-03", "    sow: {plants: [P3, P4], seeds: not kept}", "  - date: 2026-04-10", "    harvest: {P1: 9 g}", "    note: 'P1: first'", "  - date: 2026-04-17", "    harvest: {P2: 12 g, P3: 11 g}"],
        ["each row is of the date under `Picked on`, since the weights of a row are of it; not of `Sown`", f"`Sown`: {SOWN}"],
        id="weights are of the day of the pick; a plant without one keeps its day of sowing",
    ),
    pytest.param(
        [["Date", "Sown", "Transplanted", "Plant", "Height cm", "Remarks"], [on(10), on(0), on(5), "P1", 4, None], [on(17), on(0), on(5), "P1", 8, "bushy"]],
        ["  - date: 2026-03-01", "    sow: {plants: [P1], seeds: not kept}", "  - date: 2026-03-06", "    transplant: [P1]", "  - date: 2026-03-11", "    height: {P1: 4 cm}", "  - date: 2026-03-18", "    height: {P1: 8 cm}", "    note: 'P1: bushy'"],
        ["each row is of the date under `Date`, which names the day of a row; not of `Sown`, `Transplanted`", f"`Sown`: {SOWN}", "`Transplanted`: days of planting out, each in the log as `transplant`"],
        id="a date that each row repeats is said once",
    ),
    pytest.param(
        [["Date", "Plant", "Height cm", "Picked on", "Weight g"], [on(30), "P1", 14, on(33), 9], [on(37), "P1", 15, on(38), None]],
        ["  - date: 2026-03-31", "    height: {P1: 14 cm}", "  - date: 2026-04-03", "    harvest: {P1: 9 g}", "  - date: 2026-04-07", "    height: {P1: 15 cm}", "  - date: 2026-04-08", "    note: 'P1: Picked on'"],
        ["each row is of the date under `Date`, which names the day of a row; not of `Picked on`", "`Picked on`: the days of what was picked in the rows; without a weight, each a note of its day"],
        id="a weight goes to the day of its pick, all else to that of the visit",
    ),
    pytest.param(
        [["Plant", "Gesät am", "Gekeimt", "Erste Blüte", "Geerntet", "Gewicht"], ["P1", on(0), on(6), on(30), on(60), "9 g"], ["P2", on(0), on(7), on(30), on(60), "12 g"]],
        ["  - date: 2026-03-01", "    sow: {plants: [P1, P2], seeds: not kept}", "  - date: 2026-03-07", "    note: 'P1: Gekeimt'", "  - date: 2026-03-08", "    note: 'P2: Gekeimt'", "  - date: 2026-03-31", "    note: 'P1, P2: Erste Blüte'", "  - date: 2026-04-30", "    harvest: {P1: 9 g, P2: 12 g}"],
        ["each row is of the date under `Geerntet`, since the weights of a row are of it; not of `Gesät am`, `Gekeimt`, `Erste Blüte`", f"`Gesät am`: {SOWN}", "`Gekeimt`: days on which seedlings came up, each a note of its day", "`Erste Blüte`: days of flowers, each a note of its day"],
        id="a row a plant, with all its days, in German",
    ),
    pytest.param(
        [["Date", "P1 weight g", "Next check"], [on(40), 9, on(47)], [on(47), 8, "soon"]],
        ["  - date: 2026-04-10", "    harvest: {P1: 9 g}", "    note: 'Next check: 2026-04-17'", "  - date: 2026-04-17", "    harvest: {P1: 8 g}", "    note: 'Next check: soon'"],
        [],
        id="a date that no heading explains",
    ),
    pytest.param(
        [["Date", "Plant", "Weight (g)", "EC", "Height"], [on(40), "P1", "9 (split)", "1.5 after refill", "ca. 12 cm leaning"], [on(41), "P2", "12 g, two soft", "1.6 mS/cm (old probe)", "13 weeks"], [on(42), "P2", "9 g (2 split)", None, "14+ (tied)"]],
        ["  # D2: P1: EC: 1.5 after refill", "  - date: 2026-04-10", "    height: {P1: about 12 cm}", "    harvest: {P1: 9 g}", "    note: 'P1: split; P1: height: leaning'", "  # E3: P2: Height: 13 weeks", "  - date: 2026-04-11", "    ec: {P2: 1.6 mS/cm}", "    harvest: {P2: 12 g}", "    note: 'P2: two soft; P2: ec: old probe'", "  - date: 2026-04-12", "    height: {P2: 14+ cm}", "    harvest: {P2: 9 g}", "    note: 'P2: 2 split; P2: height: tied'"],
        [WORDS],
        id="words beside numbers",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("rows", "log", "assumed"), TABLES)
def test_a_table(rows: list[list[object]], log: list[str], assumed: list[str]) -> None:
    """Values have the right day, other dates are what they are or notes, words beside numbers are notes; it is said."""
    readings, lines, said = drafted("old.xlsx", workbook(("Sheet1", rows, ())))

    assert (readings, lines) == ([], log)
    assert [line for line in assumed if line not in said] == []


def test_the_first_day_of_sowing_is_day_0() -> None:
    """A column of days of sowing says when the run began."""
    rows: list[list[object]] = [
        ["Plant", "Sown", "Picked on", "Weight (g)"],
        ["P1", on(2), on(40), 9],
        ["P2", on(0), on(47), 12],
    ]
    found, _ = found_in("old.xlsx", workbook(("Sheet1", rows, ())))

    assert found.starts == [(on(0), "B3"), (on(2), "B2")]


def test_one_column_shows_the_order_of_the_dates_of_all() -> None:
    """`4/5/2026` is the fifth of April where another column has `4/17/2026`."""
    sheet = "Plant,Sown,Picked on,Weight (g)\nP1,3/1/2026,4/5/2026,9\nP2,3/2/2026,4/17/2026,8\n"
    _, lines, _ = drafted("old.csv", sheet)

    assert lines == [
        "  - date: 2026-03-01",
        "    sow: {plants: [P1], seeds: not kept}",
        "  - date: 2026-03-02",
        "    sow: {plants: [P2], seeds: not kept}",
        "  - date: 2026-04-05",
        "    harvest: {P1: 9 g}",
        "  - date: 2026-04-17",
        "    harvest: {P2: 8 g}",
    ]


def test_a_sheet_in_utf16() -> None:
    """A CSV that was saved as UTF-16 with its mark is read, and that is said."""
    sheet = "Date;Plant;Weight (g);Bemerkung\n2026-04-10;P1;9,5;süß\n"
    _, lines, said = drafted("old.csv", sheet.encode("utf-16"))

    assert lines == ["  - date: 2026-04-10", "    harvest: {P1: 9.5 g}", "    note: 'P1: süß'"]
    assert said == ["the file is not UTF-8: read as UTF-16"]


def test_a_sheet_without_plants_sows_all() -> None:
    """A day of sowing that no plant is named for is said once, of all."""
    rows: list[list[object]] = [
        ["Date", "Sown", "Height cm", "Remarks"],
        [on(10), on(0), "4 (leggy)", "ok"],
        [on(17), on(0), 8, None],
    ]
    _, lines, _ = drafted("old.xlsx", workbook(("Sheet1", rows, ())))

    assert lines == [
        "  - date: 2026-03-01",
        "    sow: not kept",
        "  - date: 2026-03-11",
        "    height: 4 cm",
        "    note: 'height: leggy; ok'",
        "  - date: 2026-03-18",
        "    height: 8 cm",
    ]
