"""Sheets in all the layouts that people keep: each cell has its place in the draft, and each guess is said.

All sheets are invented; the expected logs are theirs, by hand.
"""

# ruff: noqa: E501 - a line of a draft stays whole

from __future__ import annotations

import datetime as dt

import pytest

from tests.filing.drafting.builders import SheetRows, drafted, found_in, workbook


def on(day: int) -> dt.date:
    """A date, so many days after the first of March."""
    return dt.date(2026, 3, 1) + dt.timedelta(days=day)


def one(*rows: list[object], merged: tuple[str, ...] = (), title: str = "Sheet1") -> SheetRows:
    """A sheet."""
    return title, rows, merged


HEIGHT_CM = "unit of height: cm, the usual unit of a journal in metric units, since no heading names one; if not, say it as `--answer unit:height=UNIT`"

WORKBOOKS = [
    pytest.param(
        [one(["Basil on the sill"], [], ["Sown:", on(0)], ["Date", "Height P1 (cm)", "Height P2 (cm)", "Notes"], [on(10), 4, "ca. 5", "thinned"], [on(17), 8.5, "9+", None], [on(24), "dead", "-", "gone: P1"])],
        [],
        ["  - date: 2026-03-11", "    height: {P1: 4 cm, P2: about 5 cm}", "    note: thinned", "  - date: 2026-03-18", "    height: {P1: 8.5 cm, P2: 9+ cm}", "  # B7: Height P1 (cm): dead", "  - date: 2026-03-25", "    note: 'gone: P1'"],
        [],
        id="title rows and a blank one above the headings",
    ),
    pytest.param(
        [one(["Date", "Height (cm)", None, "Weight (g)", None, "Comment"], [None, "P1", "P2", "P1", "P2", None], [on(10), 4, 5, None, None, "ok"], [on(40), 14, 15, "11,5", 0], merged=("B1:C1", "D1:E1", "A1:A2"))],
        [],
        ["  - date: 2026-03-11", "    height: {P1: 4 cm, P2: 5 cm}", "    note: ok", "  - date: 2026-04-10", "    height: {P1: 14 cm, P2: 15 cm}", "    harvest: {P1: 11.5 g}"],
        ["`0` under `Weight (g) / P2`: nothing was picked"],
        id="headings merged over the plants",
    ),
    pytest.param(
        [one(["Date", "Weight (g)", None, None], [None, 1, 2, 3], [on(40), 84, None, None], [on(50), 10, 11, 12], merged=("B1:D1", "B3:D3"))],
        [],
        ["  - date: 2026-04-10", "    harvest: {plants: [P1, P2, P3], weight: 84 g}", "  - date: 2026-04-20", "    harvest: {P1: 10 g, P2: 11 g, P3: 12 g}"],
        [],
        id="a weight merged over the plants is theirs together; bare numbers are plants",
    ),
    pytest.param(
        [one(["Date", "Plant 1", "Pflanze 2"], [on(10), 4, 5], [on(17), 8.5, "9+"], title="Heights")],
        ["{file: old.xlsx, reading: height cm, columns: {Plant 1: P1, Pflanze 2: P2}}"],
        [],
        ["`Plant 1` and `Pflanze 2`: height, as `Heights` says", HEIGHT_CM, "the readings are those of the copy `old.xlsx`, whose cells stay as they are"],
        id="a clean table is copied; the sheet's name says what it holds",
    ),
    pytest.param(
        [one(["Date", "Plant", "Height (cm)", "Leaves", "Weight (g)", "Remarks"], [on(10), "P1", 4, 6, None, "yellow"], [None, "P2", 5, "8?"], [on(17), "P1", 7, 10, 3.5], [on(17), "P1", None, None, 2])],
        [],
        ["  - date: 2026-03-11", "    height: {P1: 4 cm, P2: 5 cm}", "    leaves: {P1: 6, P2: about 8}", "    note: 'P1: yellow'", "  - date: 2026-03-18", "    height: {P1: 7 cm}", "    leaves: {P1: 10}", "    harvest: {P1: 3.5 g}", "  - date: 2026-03-18", "    harvest: {P1: 2 g}"],
        ["rows without a day (A3): of the day of the row above"],
        id="a row for each plant, the day written once",
    ),
    pytest.param(
        [one(["Plant", on(10), on(17)], ["P1", 3, 5], ["P2", 4, "-"], title="Height (cm)")],
        [],
        ["  - date: 2026-03-11", "    height: {P1: 3 cm, P2: 4 cm}", "  - date: 2026-03-18", "    height: {P1: 5 cm}"],
        ["`P1` and `P2`: height, as `Height (cm)` says"],
        id="days from left to right",
    ),
    pytest.param(
        [one(["Day", "P1"], [7, 3], [14, "4-5"], title="Heights in cm"), one(["Day", "P1"], [40, 12], title="Harvest (g)"), one(["Day", "Note"], [3, "first sprouts"], title="Notes"), one(["P1 = window"], title="Legend")],
        ["{file: old.xlsx, sheet: Heights in cm, reading: height cm, columns: {P1: P1}}"],
        ["  - day: 3", "    note: first sprouts", "  - day: 40", "    harvest: {P1: 12 g}", "Legend!A1: P1 = window"],
        ["`P1`: height, as `Heights in cm` says", "the readings are those of the copy `old.xlsx`, whose cells stay as they are", "`P1`: harvest, as `Harvest (g)` says", "the sheets `Heights in cm`, `Harvest (g)`, `Notes` are about the same run"],
        id="several sheets about one run, and one that holds no table",
    ),
    pytest.param(
        [one(["Date", "Temp", "RH", "Height P1"], [None, "°C", "%", "cm"], [on(1), 20, 60, 3])],
        [],
        ["  - date: 2026-03-02", "    air_temperature: 20 °C", "    humidity: 60 %", "    height: {P1: 3 cm}"],
        ["`Temp / °C` is the temperature of the air"],
        id="units in a row of their own",
    ),
    pytest.param(
        [one([None, "P1", "P2"], [on(1), "2 in", 3], [on(2), 4, "dead"])],
        [],
        ["  - date: 2026-03-02", "    height: {P1: 2 in, P2: 3 in}", "  # C3: P2: dead", "  - date: 2026-03-03", "    height: {P1: 4 in}"],
        ["what `P1` and `P2` hold: height in, for no heading, title or name says it, since the cells that have a unit show it; if not, say it as `--answer 'reading=height cm'`"],
        id="no heading above the dates, and units in the cells",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("sheets", "readings", "log", "assumed"), WORKBOOKS)
def test_workbooks(sheets: list[SheetRows], readings: list[str], log: list[str], assumed: list[str]) -> None:
    """A workbook becomes readings by its copy where it is clean, else entries; what cannot be read is a comment."""
    assert drafted("old.xlsx", workbook(*sheets)) == (readings, log, assumed)


TEXTS = [
    pytest.param(
        "Unser Basilikum\n\nTag;Höhe [cm] Pflanze 1;Höhe [cm] Pflanze 2;Bemerkung\n10;4,5;5;gut\n12;ca. 6;;\n",
        [],
        ["  - day: 10", "    height: {P1: 4.5 cm, P2: 5 cm}", "    note: gut", "  - day: 12", "    height: {P1: about 6 cm}"],
        [],
        id="German headings and decimal commas below a title",
    ),
    pytest.param(
        "Tag;Höhe P1 (cm);Blätter P1\n10;4,5;6\n12;ca. 6;8\n",
        ["{file: old.csv, day: Tag, decimal: comma, reading: height cm, columns: {Höhe P1 (cm): P1}}", "{file: old.csv, day: Tag, decimal: comma, reading: leaves, columns: {Blätter P1: P1}}"],
        [],
        ["the readings are those of the copy `old.csv`, whose cells stay as they are"],
        id="a clean German table",
    ),
    pytest.param(
        "Date,Basil 1,Basil 3\n3/4/2026,1.5 in,2\n3/25/2026,2 1/2 in,etwa 3\n",
        [],
        ["  - date: 2026-03-04", "    height: {P1: 1.5 in, P3: 2 in}", "  - date: 2026-03-25", "    height: {P1: 2 1/2 in, P3: about 3 in}"],
        ["`Basil 1` is plant P1", "`Basil 3` is plant P3", "what `Basil 1` and `Basil 3` hold: height in, for no heading, title or name says it, since the cells that have a unit show it; if not, say it as `--answer 'reading=height cm'`", "dates: month first, since 25 is no month"],
        id="plants by a word and a number, dates that can only have the month first",
    ),
    pytest.param(
        "Date,P1 height (cm)\n3/4/2026,3\n5/4/2026,4\n",
        ["{file: old.csv, dates: day first, reading: height cm, columns: {P1 height (cm): P1}}"],
        [],
        ["dates: day first, as is usual in a journal in metric units, since `3/4/2026` can be read both ways; if not, say `--answer 'dates=month first'`", "the readings are those of the copy `old.csv`, whose cells stay as they are"],
        id="dates that can be read both ways",
    ),
    pytest.param(
        'Date,Day,EC (mS/cm),pH,Water temp (°C),Water added (L),Weather,Notes\n2026-03-11,10,1.4,7.1 -> 5.9,20,2,rain,topped up\n',
        [],
        ["  # G2: Weather: rain", "  - date: 2026-03-11", "    ec: 1.4 mS/cm", "    ph: 7.1, then 5.9", "    water_temperature: 20 °C", "    water: 2 L", "    note: topped up"],
        [],
        id="readings of a tub, and a column that nothing is known of",
    ),
    pytest.param(
        "date,plant,variable,value,unit\n2026-03-11,1,height,4,cm\n2026-03-11,2,height,5,cm\n2026-03-11,1,leaves,6,\n2026-04-11,2,weight,30,g\n",
        [],
        ["  - date: 2026-03-11", "    height: {P1: 4 cm, P2: 5 cm}", "    leaves: {P1: 6}", "  - date: 2026-04-11", "    harvest: {P2: 30 g}"],
        [],
        id="a row for each value, with its name and its unit",
    ),
    pytest.param(
        "Height (cm)\nDate,P1,P2\n2026-03-11,4,5\nMean,4.5,\n\nWeight (g)\nDate,P1,P2\n2026-04-11,12,13\n",
        [],
        ["  - date: 2026-03-11", "    height: {P1: 4 cm, P2: 5 cm}", "  - date: 2026-04-11", "    harvest: {P1: 12 g, P2: 13 g}", "A4: Date: Mean; P1: 4.5"],
        ["`P1` and `P2`: height, as `Height (cm)` says", "`P1` and `P2`: harvest, as `Weight (g)` says"],
        id="two tables one below the other, with a row of means",
    ),
    pytest.param(
        "Week,P1 leaves\n2,4\n3,6\n",
        [],
        ["  - day: about 14", "    leaves: {P1: 4}", "  - day: about 21", "    leaves: {P1: 6}"],
        ["weeks: counted from sowing, day = 7 times the week, and about"],
        id="weeks",
    ),
    pytest.param(
        'Wann,Höhe P1 (cm),Ernte P1 (g)\n1. März 2026,3,\n14. April 2026,"12,5","1.234,5"\n',
        [],
        ["  - date: 2026-03-01", "    height: {P1: 3 cm}", "  - date: 2026-04-14", "    height: {P1: 12.5 cm}", "    harvest: {P1: 1234.5 g}"],
        [],
        id="months by name, and thousands",
    ),
    pytest.param(
        "Logger 123\nInterval 15 min\n\nDate,Time,Temp (°C),RH (%),Battery\n01.03.2026,00:00,20.5,50,98\n01.03.2026,00:15,20.6,51,98\n02.03.2026,00:00,21,52,97\n",
        ["{file: old.csv, time: time, dates: day first, columns: {Temp (°C): air_temperature °C, RH (%): humidity %}}"],
        [],
        ["`Temp (°C)` is the temperature of the air", "dates: day first, since dates with dots have the day first", "columns of samples that stay in the file and are not read: `Battery`", "`Temp (°C)` and `RH (%)`: samples by time in the copy `old.csv`, on the journal's clock"],
        id="a sensor's export below its head, with the time of day apart",
    ),
    pytest.param(
        "Date,Temp,Height P1\n2026-03-11,72,4\n2026-03-12,75,5\n",
        ["{file: old.csv, reading: height cm, columns: {Height P1: P1}}", "{file: old.csv, columns: {Temp: air_temperature °F}}"],
        [],
        ["`Temp` is the temperature of the air", "unit of air temperature: °F, since no heading names one and the values reach 75; if not, say it as `--answer unit:air_temperature=UNIT`", HEIGHT_CM, "the readings are those of the copy `old.csv`, whose cells stay as they are"],
        id="units that no heading names",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "readings", "log", "assumed"), TEXTS)
def test_texts(text: str, readings: list[str], log: list[str], assumed: list[str]) -> None:
    """A CSV becomes readings by its copy where it is clean, else entries; what cannot be read is a comment."""
    assert drafted("old.csv", text) == (readings, log, assumed)


def test_answers() -> None:
    """An answer takes the place of a guess, and the draft says whose it is."""
    text = "Date,P1,P2\n3/4/2026,3,4\n5/4/2026,4,5\n"
    readings, log, assumed = drafted("old.csv", text, reading="height in", dates="month first")

    assert readings == ["{file: old.csv, dates: month first, reading: height in, columns: {P1: P1, P2: P2}}"]
    assert log == []
    assert assumed == [
        "what `P1` and `P2` hold: height in, as you said",
        "dates: month first, as you said",
        "the readings are those of the copy `old.csv`, whose cells stay as they are",
    ]


def test_start_of_both_columns() -> None:
    """A row with a day and a date says when day 0 was; a line above a table that it was sown then does, too."""
    found, _ = found_in("old.csv", b"Date,Day,pH\n2026-03-11,10,6\n2026-03-18,17,6\n")
    assert found.starts == [(dt.date(2026, 3, 1), "B2"), (dt.date(2026, 3, 1), "B3")]

    found, _ = found_in("old.csv", b"Sown: 1 March 2026\n\nDate,pH\n2026-03-11,6\n")
    assert found.starts == [(dt.date(2026, 3, 1), "A1")]


def test_copies() -> None:
    """A clean file is copied byte by byte; the table of samples below a head is copied alone, times in one column."""
    clean = "Date,P1 height (cm)\r\n2026-03-11,3\r\n".encode("utf-8-sig")
    found, _ = found_in("My old sheet.csv", clean)
    assert [(copy.name, copy.content) for copy in found.copies] == [("My old sheet.csv", clean)]

    found, _ = found_in("air.txt.csv", b"Logger\n\nDate;Time;pH\n1.3.2026;00:00;6\n1.3.2026;00:05;6,1\n")
    assert found.copies[0].content.decode() == 'time,pH\n1.3.2026 00:00,6\n1.3.2026 00:05,"6,1"\n'


def test_other_characters() -> None:
    """A file in an older encoding is read, which is said, and its copy is UTF-8."""
    text = "Datum;Höhe P1 (cm)\n2026-03-11;3\n"
    found, choices = found_in("alt.csv", text.encode("cp1252"))

    assert choices.assumed[0] == "the file is not UTF-8: read as Windows-1252"
    assert found.copies[0].content.decode() == text
