"""Spreadsheets and sensor exports: every kind of file, cell, date and clock, and what is said of the others."""

# ruff: noqa: E501 - a finding stays whole on its line

from __future__ import annotations

import codecs
import csv
import datetime as dt
import io
from pathlib import Path

import pytest
from openpyxl import Workbook

from sitegen.core.records.files import Export
from sitegen.core.records.rows import Reading
from tests.ingest.builders import HEAD, TUBS, amount, read

LEAVES = "reading: leaves, columns: {one: P1}"
HEIGHT = "reading: height cm, columns: {one: P1}"
TEMPERATURE = "time: time, columns: {t: air_temperature C}"
SOWN = "  - {day: 0, sow: 2 a spot}\n"
Table = tuple[list[Reading], list[Export], list[str]]


def _sheet(root: Path, content: str | bytes, item: str, head: str = HEAD, name: str = "sheet.csv") -> Table:
    """The rows of one file, and the findings."""
    beside = ((name, content.encode() if isinstance(content, str) else content),)
    run, findings = read(root, SOWN, f"{head}readings: [{{file: {name}, {item}}}]\n", beside)
    assert run is not None
    return list(run.rows.readings), list(run.rows.exports), findings


def _short(table: Table) -> list[str]:
    """Readings as `day plants value @line:column`."""
    readings, _, findings = table
    assert findings == []
    places = ((r, f"{r.source.line}:{r.source.column}") for r in readings)
    return [f"{r.day} {', '.join(r.plants) or r.tub} {amount(r.value)} @{place}" for r, place in places]


@pytest.mark.parametrize(
    ("content", "item", "expected"),
    [
        ("day,one\n10,3\n12,4\n", LEAVES, ["10 P1 3 @2:4", "12 P1 4 @3:4"]),
        ("day;one\n10;3\n", LEAVES, ["10 P1 3 @2:4"]),
        ("day\tone\n10\t3\n", LEAVES, ["10 P1 3 @2:4"]),
        ("\ufeffday,one\r\n10,3\r\n", LEAVES, ["10 P1 3 @2:4"]),
        ("day,one\n10,3,much light\n", LEAVES, ["10 P1 3 @2:4"]),
        ("day,one\n10,3,,\n", LEAVES, ["10 P1 3 @2:4"]),
        ("day;one\n10;3;4\n", LEAVES, ["10 P1 3 @2:4"]),
        ("Day , one\n10, 3\n", LEAVES, ["10 P1 3 @2:4"]),
        ("Tag,one\n10,3\n", f"day: Tag, {LEAVES}", ["10 P1 3 @2:4"]),
        ("day;one\n10;3,5\n", f"decimal: comma, {HEIGHT}", ["10 P1 3.5 cm @2:4"]),
        ("day,one\n10,3.5\n11,2 in\n", HEIGHT, ["10 P1 3.5 cm @2:4", "11 P1 5.08 cm @3:4"]),
        ("day,one\n10,ca. 8\n11,~8\n12,12+\n", LEAVES, ["10 P1 about 8 @2:4", "11 P1 about 8 @3:4", "12 P1 12+ @4:4"]),
        ("day,one\n10,ca. 8\n12,9+\n13,8-9\n", HEIGHT, ["10 P1 about 8 cm @2:4", "12 P1 9+ cm @3:4", "13 P1 8-9 cm @4:4"]),
        ("day,one\n10,-\n11,\n12,n/a\n13,4\n\n-,5\n", LEAVES, ["13 P1 4 @5:4"]),
        ("day,one\n10,unmeasured\n", HEIGHT, ["10 P1 ? @2:4"]),
        ('day,one\n10,"3"\n', LEAVES, ["10 P1 3 @2:4"]),
        ("day,one\n", LEAVES, []),
        ("date,one\n2025-03-11,3\n", LEAVES, ["10 P1 3 @2:12"]),
        ("date,one\n2025/03/11,3\n", LEAVES, ["10 P1 3 @2:12"]),
        ("Datum,one\n11.3.2025,3\n", f"date: Datum, dates: day first, {LEAVES}", ["10 P1 3 @2:11"]),
        ("date,one\n3/11/2025,3\n", f"dates: month first, {LEAVES}", ["10 P1 3 @2:11"]),
        ("date,one\n3.4.2025,3\n25.4.2025,4\n", LEAVES, ["33 P1 3 @2:10", "55 P1 4 @3:11"]),  # 25.4. proves the day first
        ("date,one\n3/4/2025,3\n3/25/2025,4\n", LEAVES, ["3 P1 3 @2:10", "24 P1 4 @3:11"]),  # 3/25 proves the month first
        ("date,one\n4.4.2025,3\n", LEAVES, ["34 P1 3 @2:10"]),  # the same in both orders
        ("date,one\n3.4.25,3\n25.4.25,4\n", LEAVES, ["33 P1 3 @2:8", "55 P1 4 @3:9"]),
        ("date,one\n12 March 2025,3\n", LEAVES, ["11 P1 3 @2:15"]),
        ("date,one\n2025-3-11,some\n", LEAVES, ["10 P1 ? @2:11"]),
        ("date,one\n2025-03-11,“3”\n", LEAVES, ["10 P1 3 @2:12"]),
        ("day,one\n10,approx. 8\n11,c. 9 cm\n12,circa 10\n", HEIGHT, ["10 P1 about 8 cm @2:4", "11 P1 about 9 cm @3:4", "12 P1 about 10 cm @4:4"]),
        (codecs.BOM_UTF16_LE + "day;one\r\n10;3\r\n".encode("utf-16-le"), LEAVES, ["10 P1 3 @2:4"]),
        ("day,one\n10,3\n", "reading: Leaves, columns: {one: p1}", ["10 P1 3 @2:4"]),
        ("day,t\n10,21\n", "columns: {t: Water temperature C}", ["10 tub 21 °C @2:4"]),
        ("day,ec,ph\n10,1.4,6.1\n", "columns: {ec: ec mS/cm, ph: ph}", ["10 tub 1.4 mS/cm @2:4", "10 tub 6.1 @2:8"]),
    ],
)  # fmt: skip
def test_readings(content: str | bytes, item: str, expected: list[str], tmp_path: Path) -> None:
    """A sheet gives a reading for each cell that says something, with its place in the file."""
    assert _short(_sheet(tmp_path, content, item)) == expected


def test_words_after_a_date(tmp_path: Path) -> None:
    """Words after a date are the note of that row's readings; its day is the date's."""
    content = "date,one\n2025-03-11 after the holiday,3\n12.3.2025 (late),4\n13.3.2025,5\n"
    readings, _, findings = _sheet(tmp_path, content, LEAVES)

    assert findings == []
    assert [(row.day.first, row.value.low, row.note) for row in readings] == [
        (10, 3, "after the holiday"),
        (11, 4, "(late)"),
        (12, 5, ""),
    ]


def test_times_settle_the_order(tmp_path: Path) -> None:
    """The dates of a sensor's export settle their order as those of a sheet do."""
    content = "time,t\n3.4.2025 08:00,21\n25.4.2025 08:00,22\n"
    _, (export,), findings = _sheet(tmp_path, content, TEMPERATURE)

    assert findings == []
    assert export.times == (dt.datetime(2025, 4, 3, 8), dt.datetime(2025, 4, 25, 8))


def test_error_an_order_is_said_once(tmp_path: Path) -> None:
    """A column that leaves the order open is one finding, with both readings, and not one a row."""
    content = "date,one\n3.4.2025,3\n5.4.2025,4\n6.4.2025,5\n"

    assert _sheet(tmp_path, content, LEAVES)[2] == [
        "2:1: not-a-date: `3.4.2025` can be 2025-04-03, day first, or 2025-03-04, month first (write `dates: day first` or `dates: month first` beside `file:`)"
    ]


@pytest.mark.parametrize(
    ("content", "item", "findings"),
    [
        ("day,one\n10,many\n", LEAVES, ["2:4: bad-cell: in `one`, `many` is not a whole number (write a value such as `7`, or `unmeasured`)"]),
        ("day,one\n10,3.5\n", "reading: height, columns: {one: P1}", ["7:39: no-unit: `one` holds numbers without a unit (write `height cm` or `height mm`)"]),
        ("day;one\n10;3,5\n", HEIGHT, ["2:4: bad-cell: in `one`, `3,5` has a decimal comma (write `decimal: comma` beside `file:`)"]),
        ("day,one\nten,3\n", LEAVES, ["2:1: bad-cell: `ten` is not a day or a date (write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05)"]),
        ("date,one\n31.2.2025,3\n", f"dates: day first, {LEAVES}", ["2:1: bad-cell: `31.2.2025` is not a day or a date (write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05)"]),
        ("date,one\n3/4/2025,3\n", LEAVES, ["2:1: not-a-date: `3/4/2025` can be 2025-04-03, day first, or 2025-03-04, month first (write `dates: day first` or `dates: month first` beside `file:`)"]),
        ("when,one\n10,3\n", LEAVES, ["7:19: unknown-column: `sheet.csv` has no column of days (name it: `day: <heading>`, `date: <heading>` or, for a sensor, `time: <heading>`)"]),
        ("day,one\n10,3\n", "reading: leaves, columns: {onne: P1}", ["7:57: unknown-column: `onne` is not a heading of `sheet.csv` (write `one`)"]),
        ("day,one\n10,3\n", f"day: Tag, {LEAVES}", ["7:35: unknown-column: `Tag` is not a heading of `sheet.csv` (write one of `day`, `one`)"]),
        ("day,one,one\n10,3,4\n", LEAVES, ["7:57: unknown-column: `one` is the heading of 2 columns of `sheet.csv` (give each column a heading of its own)"]),
        ("day,one\n10,3\n", "reading: leaves", ["7:12: missing-key: `columns` is missing: what is under each heading: a plant, or a reading and its unit (write it, such as `columns: {Temp: air_temperature C}`)"]),
        ("day,one\n10,3\n", "reading: leaves, columns: {one: P9}", ["7:62: unknown-plant: `P9` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`)"]),
        ("day,one\n10,3\n", "reading: leafs, columns: {one: P1}", ["7:39: unknown-choice: `leafs` is not a reading (write `leaves`)"]),
        ("day,one\n10,3\n", "columns: {one: ec g}", ["7:45: wrong-dimension: `g` is a weight; `ec` wants a conductivity (write a conductivity, such as `1.4 mS/cm`)"]),
        ("", LEAVES, ["1:1: empty-file: `sheet.csv` has no headings in its first row (write headings, or remove it from `readings`)"]),
        ("\n\n", LEAVES, ["1:1: empty-file: `sheet.csv` has no headings in its first row (write headings, or remove it from `readings`)"]),
        ("day,one\n10," + "9" * 200_000 + "\n", LEAVES, ["7:19: unreadable-sheet: `sheet.csv` is not a table that can be read (save it again as .xlsx or .csv)"]),
    ],
)  # fmt: skip
def test_error_readings(content: str, item: str, findings: list[str], tmp_path: Path) -> None:
    """What a sheet does not say is asked for, at the cell or at the item that names the file."""
    csv.field_size_limit(131_072)  # the usual limit: a library that other tests import raises it
    readings, _, found = _sheet(tmp_path, content, item)

    assert (readings, found) == ([], findings)


def test_error_other_folder(tmp_path: Path) -> None:
    """A file outside the experiment's folder is not opened."""
    (tmp_path / ".secret.csv").write_text("day,one\n10,3\n")
    run, findings = read(tmp_path, SOWN, HEAD + f"readings: [{{file: ../../../.secret.csv, {LEAVES}}}]\n")

    assert run is not None
    assert (run.rows.readings, findings) == (
        (),
        ["7:19: missing-export: `../../../.secret.csv` is not beside experiment.yaml (put the file there)"],
    )


def test_error_a_name_that_no_file_has(tmp_path: Path) -> None:
    """A name longer than any file's is that of none."""
    name = "x" * 300
    run, findings = read(tmp_path, SOWN, HEAD + f"readings: [{{file: {name}, {LEAVES}}}]\n")

    assert run is not None
    assert findings == [f"7:19: missing-export: `{name}` is not beside experiment.yaml (put the file there)"]


def test_error_only_a_few(tmp_path: Path) -> None:
    """Of a column that is wrong throughout a few cells are shown, not all."""
    _, _, findings = _sheet(tmp_path, "day,one\n" + "10,many\n" * 500, LEAVES)

    assert len(findings) == 5


def test_a_date_without_a_start(tmp_path: Path) -> None:
    """Where the start is unknown a date has no day, and a day number has."""
    head = HEAD.replace("2025-03-01", "unknown")

    assert _sheet(tmp_path / "a", "date,one\n2025-03-11,3\n", LEAVES, head)[2] == [
        (
            "2:1: date-without-start: a date, but the start is unknown: its day cannot be counted "
            "(keep day numbers in the spreadsheet, or give the `start`)"
        )
    ]
    assert _short(_sheet(tmp_path / "b", "day,one\n10,3\n", LEAVES, head)) == ["10 P1 3 @2:4"]


# Workbooks


def _workbook(rows: list[list[object]], title: str = "Heights") -> bytes:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(row)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def test_workbook(tmp_path: Path) -> None:
    """A workbook's numbers, texts and dates mean what they say."""
    rows = [
        ["date", "one"],
        [dt.date(2025, 3, 11), 9],
        [dt.date(2025, 3, 12), 9.5],
        [dt.date(2025, 3, 13), "ca. 10"],
    ]
    table = _sheet(tmp_path, _workbook(rows), HEIGHT, name="sheet.xlsx")

    assert [(str(r.day), amount(r.value), r.source.line) for r in table[0]] == [
        ("10", "9 cm", 2),
        ("11", "9.5 cm", 3),
        ("12", "about 10 cm", 4),
    ]
    assert table[2] == []


def test_workbook_with_an_empty_top(tmp_path: Path) -> None:
    """Rows of a workbook keep their numbers, empty ones included."""
    table = _sheet(tmp_path, _workbook([["day", "one"], [], [10, 3]]), LEAVES, name="sheet.xlsx")

    assert [(str(r.day), r.source.line) for r in table[0]] == [("10", 3)]


def test_error_workbook(tmp_path: Path) -> None:
    """A sheet that is not there, and a file that is no workbook, are said."""
    good = _workbook([["day", "one"], [10, 3]])

    assert _sheet(tmp_path / "a", good, f"sheet: Hights, {LEAVES}", name="sheet.xlsx")[2] == [
        "7:38: unknown-column: `Hights` is not a sheet of `sheet.xlsx` (write `Heights`)"
    ]
    assert _sheet(tmp_path / "b", b"no workbook", LEAVES, name="sheet.xlsx")[2] == [
        "7:19: unreadable-sheet: `sheet.xlsx` is not a workbook that can be read (save it again as .xlsx or .csv)"
    ]
    assert _sheet(tmp_path / "c", good[: len(good) // 2], LEAVES, name="sheet.xlsx")[2] == [
        "7:19: unreadable-sheet: `sheet.xlsx` is not a workbook that can be read (save it again as .xlsx or .csv)"
    ]


# Sensors. The journal that all tests share keeps Vienna's clock.


@pytest.mark.parametrize(
    ("written", "item", "clock"),
    [
        ("2025-03-11 08:00", "", "2025-03-11 08:00"),
        ("2025-03-11T08:00:00", "", "2025-03-11 08:00"),
        ("2025-03-11T08:00:00Z", "", "2025-03-11 09:00"),
        ("2025-07-11T08:00:00Z", "", "2025-07-11 10:00"),
        ("2025-03-11T08:00:00-05:00", "", "2025-03-11 14:00"),
        ("2025-03-11 08:00", "zone: Europe/Vienna, ", "2025-03-11 08:00"),
        ("2025-03-11 08:00", "zone: America/Chicago, ", "2025-03-11 14:00"),  # there summer time, here not yet
        ("2025-01-11 08:00", "zone: America/Chicago, ", "2025-01-11 15:00"),
        ("2025-10-26 00:30", "zone: UTC, ", "2025-10-26 02:30"),  # the hour that comes twice
        ("2025-10-26 01:30", "zone: UTC, ", "2025-10-26 02:30"),
        ("11.03.2025 08:00", "dates: day first, ", "2025-03-11 08:00"),
        ("3/11/2025 8:05 PM", "dates: month first, ", "2025-03-11 20:05"),
        ("3/11/2025 12:05 am", "dates: month first, ", "2025-03-11 00:05"),
        ("2025/03/11 08:00:30", "", "2025-03-11 08:00:30"),
    ],
)  # fmt: skip
def test_clock(written: str, item: str, clock: str, tmp_path: Path) -> None:
    """Times are kept on the journal's clock, whatever clock the sensor has."""
    _, exports, findings = _sheet(tmp_path, f"time,t\n{written},20.5\n", item + TEMPERATURE)

    assert findings == []
    assert [(e.name, e.tub, e.unit, e.times, e.values) for e in exports] == [
        ("air_temperature", "tub", "°C", (dt.datetime.fromisoformat(clock),), (20.5,))
    ]


def test_clock_of_a_journal_without_zone(tmp_path: Path) -> None:
    """Where the journal has no zone, a sensor's own clock is kept, and this machine's never asked."""
    beside = (("sheet.csv", b"time,t\n2025-03-11 08:00,20.5\n2025-03-11T08:00:00Z,21\n"),)
    head = HEAD + f"readings: [{{file: sheet.csv, zone: America/Chicago, {TEMPERATURE}}}]\n"
    run, findings = read(tmp_path, SOWN, head, beside, journal="format: 1\ntitle: Invented bench\n")

    assert findings == []
    assert run is not None
    assert run.rows.exports[0].times == (dt.datetime(2025, 3, 11, 8), dt.datetime(2025, 3, 11, 8))


def test_samples(tmp_path: Path) -> None:
    """Samples are in the order of time and in the canonical unit; empty cells are no samples."""
    content = "time,t,rh\n2025-03-11 09:00,50,\n2025-03-11 08:00,41,60\n\n2025-03-11 10:00,-,61\n"
    _, exports, findings = _sheet(
        tmp_path, content, "time: time, columns: {t: air_temperature F, rh: humidity %}"
    )

    assert findings == []
    assert [(e.name, [t.hour for t in e.times], [round(v, 9) for v in e.values]) for e in exports] == [
        ("air_temperature", [8, 9], [5.0, 10.0]),
        ("humidity", [8, 10], [60.0, 61.0]),
    ]


def test_many_samples(tmp_path: Path) -> None:
    """A season of minutes is read whole."""
    start = dt.datetime(2025, 3, 1)
    lines = (f"{start + dt.timedelta(minutes=n)},{20 + n % 5}" for n in range(60_000))
    _, exports, findings = _sheet(tmp_path, "time,t\n" + "\n".join(lines), TEMPERATURE)

    assert (len(exports[0].times), findings) == (60_000, [])


@pytest.mark.parametrize(
    ("content", "item", "head", "findings"),
    [
        ("time,t\n2025-03-11 08:00,warm\n2025-03-11 08:01,nan\n", TEMPERATURE, HEAD, [
            "2:18: bad-cell: in `t`, `warm` is not a number (leave the cell empty)",
            "3:18: bad-cell: in `t`, `nan` is not a number (leave the cell empty)",
        ]),
        ('time,t\n2025-03-11 08:00,"20,5"\n', TEMPERATURE, HEAD, ["2:18: bad-cell: in `t`, `20,5` is not a number (write `decimal: comma` beside `file:`)"]),
        ("time,t\n11.03.2025 25:05,20\n", f"dates: day first, {TEMPERATURE}", HEAD, ["2:1: bad-cell: `11.03.2025 25:05` is not a date or time (write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05)"]),
        ("time,t\n11.03.2025 13:05 PM,20\n", f"dates: day first, {TEMPERATURE}", HEAD, ["2:1: bad-cell: `11.03.2025 13:05 PM` is not a date or time (write year, month and day, such as 2025-10-19, and times such as 2025-10-19 08:05)"]),
        ("time,t\n2025-03-11 08:00,20\n", "time: tine, columns: {t: air_temperature C}", HEAD, ["7:36: unknown-column: `tine` is not a heading of `sheet.csv` (write `time`)"]),
        ("time,t\n2025-03-11 08:00,20\n", "time: time, columns: {t: air_temperature}", HEAD, ["7:51: no-unit: `t` holds numbers without a unit (write `t: air_temperature °C` or `t: air_temperature °F`)"]),
        ("time,t\n2025-03-11 08:00,20\n", f"zone: Vienna, {TEMPERATURE}", HEAD, ["7:36: not-a-zone: `Vienna` is not a time zone (write `Europe/Vienna`)"]),
        ("time,t\n2025-03-11 08:00,20\n", TEMPERATURE, TUBS, ["7:19: which-tub: these readings belong to a tub; this experiment has 2 (write `tub: left` or `tub: right` beside `file:`)"]),
        ("time,t\n2025-03-11 08:00,20\n", f"tub: middle, {TEMPERATURE}", TUBS, ["7:35: unknown-plant: `middle` is not a tub of this experiment (write one of `left`, `right`)"]),
    ],
)  # fmt: skip
def test_error_sensor(content: str, item: str, head: str, findings: list[str], tmp_path: Path) -> None:
    """What a sensor's export does not say is asked for."""
    assert _sheet(tmp_path, content, item, head)[2] == findings


def test_a_sensor_in_a_tub(tmp_path: Path) -> None:
    """With several tubs a sensor belongs to the one that is named."""
    _, exports, findings = _sheet(
        tmp_path, "time,t\n2025-03-11 08:00,20\n", f"tub: right, {TEMPERATURE}", TUBS
    )

    assert ([export.tub for export in exports], findings) == (["right"], [])


def test_a_number_that_is_divided_by_its_comma(tmp_path: Path) -> None:
    """Of a sheet that is divided by commas, rows with numbers below no heading are not read: the comma was a decimal one."""
    content = "day,one,two\n9,3,4\n10,1,5,2,25\n11,1,5,2\n"
    readings, _, findings = _sheet(tmp_path, content, "reading: height cm, columns: {one: P1, two: P2}")

    assert [(reading.day.first, amount(reading.value)) for reading in readings] == [(9, "3 cm"), (9, "4 cm")]
    assert findings == [
        "3:1: mixed-separators: this row has 5 cells, and there are 3 headings (put numbers with a comma in quotes, or give each column a heading)"
    ]


def test_what_a_spreadsheet_program_makes_of_a_sheet_with_decimal_commas(tmp_path: Path) -> None:
    """Saved again with semicolons, decimal commas, a mark and other line ends, it is the same sheet."""
    before = _sheet(tmp_path / "before", "day,one\n10,3.5\n11,12.25\n", HEIGHT)
    after = _sheet(tmp_path / "after", "\ufeffday;one\r\n10;3,5\r\n11;12,25\r\n", f"decimal: comma, {HEIGHT}")
    unsaid = _sheet(tmp_path / "unsaid", "\ufeffday;one\r\n10;3,5\r\n", HEIGHT)

    assert [(row.day, row.value) for row in after[0]] == [(row.day, row.value) for row in before[0]]
    assert (before[2], after[2]) == ([], [])
    assert unsaid[2] == [
        "2:4: bad-cell: in `one`, `3,5` has a decimal comma (write `decimal: comma` beside `file:`)"
    ]
