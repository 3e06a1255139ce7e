"""Spreadsheets and sensor exports beside an experiment: `.csv` and `.xlsx`.

In: an item of `readings:` and the file it names. Out: `Reading` rows (a sheet of plants by day) or `Export` series (a
sensor's samples by time). Cells such as `ca. 8`, `12+` and `-` mean what they say.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from sitegen.core.day import Day
from sitegen.core.fields import TABLES, Form
from sitegen.core.finding import Findings, Source
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Export, Reading
from sitegen.core.setup import Setup
from sitegen.core.text import did_you_mean
from sitegen.core.units import CANONICAL, Dimension, Unit, unit_named
from sitegen.ingest.files import MAX_EXPORT_BYTES, name_of, read_text
from sitegen.ingest.nodes import Mapping, Scalar
from sitegen.ingest.reader import Read, expect_mapping, expect_scalar
from sitegen.ingest.values import parse_quantity
from sitegen.ingest.which import Names, report_unknown

__all__ = ["read_sheet"]

READINGS = {f.key: f for f in TABLES["entry"].fields if f.form is Form.READING}
_EMPTY = ("", "-", "–", "n/a", "na")
_ABOUT = re.compile(r"^(?:~|ca\.?|circa|about|approx\.?)\s*", re.IGNORECASE)
_SLASHED = re.compile(r"(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})(?:[ T](\d{1,2}:\d{2}(?::\d{2})?))?.*")


@dataclass(frozen=True, slots=True)
class _Column:
    """What a column holds: a plant's reading, or a sensor's."""

    heading: str
    index: int
    reading: str
    unit: Unit | None
    plant: str = ""


@dataclass(frozen=True, slots=True)
class _Sheet:
    file: str
    rows: tuple[tuple[str, ...], ...]

    def cell(self, row: int, column: int) -> Scalar:
        """A cell as a text with its place: its row, and the character it begins at in a plain CSV."""
        cells = self.rows[row]
        text = cells[column].strip() if column < len(cells) else ""
        before = sum(len(cell) + 1 for cell in cells[:column])
        return Scalar(text, Source(self.file, row + 1, before + 1, max(1, len(text))))


def read_sheet(
    read: Read, folder: Path, root: Path, setup: Setup, names: Names, zone: str, findings: Findings
) -> tuple[tuple[Reading, ...], tuple[Export, ...]]:
    """The rows of one file that `readings:` names."""
    name = read.scalar("file")
    if name is None:
        return (), ()
    path = folder / name.text
    if not path.resolve().is_relative_to(folder.resolve()) or not path.is_file():
        near = [p.name for p in folder.iterdir() if p.suffix.lower() in (".csv", ".xlsx")]
        findings.add(
            "missing-export",
            name.source,
            f"`{name.text}` is not beside experiment.yaml",
            mend=did_you_mean(name.text, near) if near else "put the file there",
            found=name.text,
        )
        return (), ()
    sheet = _load(path, root, read, findings)
    if sheet is None or len(sheet.rows) == 0:
        return (), ()
    columns = tuple(_columns(read, sheet, names, findings))
    if read.has("time"):
        return (), tuple(_exports(read, sheet, columns, setup, zone, findings))
    return tuple(_readings(read, sheet, columns, setup, findings)), ()


def _load(path: Path, root: Path, read: Read, findings: Findings) -> _Sheet | None:
    file = name_of(path, root)
    if path.suffix.lower() == ".csv":
        text = read_text(path, root, findings, limit=MAX_EXPORT_BYTES)
        if text is None:
            return None
        first = text.split("\n", 1)[0]
        delimiter = max(",;\t", key=first.count)
        return _Sheet(file, tuple(tuple(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter)))
    return _load_workbook(path, file, read, findings)


def _load_workbook(path: Path, file: str, read: Read, findings: Findings) -> _Sheet | None:
    from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415 - only where there is one

    try:
        book = CalamineWorkbook.from_path(str(path))
        wanted = read.text("sheet") or book.sheet_names[0]
        if wanted not in book.sheet_names:
            findings.add(
                "unknown-column",
                read.at("sheet"),
                f"`{wanted}` is not a sheet of `{path.name}`",
                mend=did_you_mean(wanted, book.sheet_names),
                found=wanted,
                expected=", ".join(book.sheet_names),
            )
            return None
        rows = book.get_sheet_by_name(wanted).to_python(skip_empty_area=False)
    except (CalamineError, OSError, IndexError, ValueError) as error:
        findings.add(
            "unreadable-sheet",
            read.at("file"),
            f"`{path.name}` is not a workbook that can be read",
            mend="save it again as .xlsx or .csv",
            found=str(error)[:80],
        )
        return None
    return _Sheet(file, tuple(tuple(_cell_text(cell) for cell in row) for row in rows))


def _cell_text(cell: object) -> str:
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, dt.datetime) and cell.time() == dt.time():
        return cell.date().isoformat()
    return cell.isoformat(sep=" ") if isinstance(cell, dt.datetime) else str(cell)


def _columns(read: Read, sheet: _Sheet, names: Names, findings: Findings) -> Iterator[_Column]:
    node = read.node("columns")
    mapping: Mapping | None = None
    if node is not None:
        mapping = expect_mapping(node, "columns", findings, example="{Rot 1: P1}")
    headings = [heading.strip() for heading in sheet.rows[0]]
    common = read.scalar("reading")
    for pair in mapping or ():
        target = expect_scalar(pair.value, pair.key.text, findings, example="P1")
        if target is None:
            continue
        if pair.key.text not in headings:
            _unknown_column(pair.key, headings, sheet, findings)
            continue
        index = headings.index(pair.key.text)
        column = _column(pair.key.text, index, target, common, names, findings)
        if column is not None:
            yield column


def _unknown_column(key: Scalar, headings: list[str], sheet: _Sheet, findings: Findings) -> None:
    findings.add(
        "unknown-column",
        key.source,
        f"`{key.text}` is not a heading of `{Path(sheet.file).name}`",
        mend=did_you_mean(key.text, [h for h in headings if h]),
        found=key.text,
        expected=", ".join(headings),
    )


def _column(
    heading: str, index: int, target: Scalar, common: Scalar | None, names: Names, findings: Findings
) -> _Column | None:
    """`Rot 1: P1` with a common reading, or `Temp: air_temperature C`."""
    if common is not None:
        if target.text not in names.plants:
            report_unknown(target.text, target.source, names, findings)
            return None
        kind = _reading_and_unit(common, findings)
        return None if kind is None else _Column(heading, index, kind[0], kind[1], target.text)
    kind = _reading_and_unit(target, findings)
    return None if kind is None else _Column(heading, index, kind[0], kind[1])


def _reading_and_unit(scalar: Scalar, findings: Findings) -> tuple[str, Unit | None] | None:
    name, _, unit_text = scalar.text.partition(" ")
    if name not in READINGS:
        findings.add(
            "unknown-choice",
            scalar.part(0, len(name)),
            f"`{name}` is not a reading",
            mend=did_you_mean(name, READINGS),
            found=name,
            expected=", ".join(READINGS),
        )
        return None
    dimension = READINGS[name].dimension
    assert dimension is not None
    if dimension in (Dimension.COUNT, Dimension.ACIDITY) or not unit_text:
        return name, CANONICAL[dimension] if not unit_text and dimension in _UNITLESS else None
    unit = unit_named(unit_text, dimension)
    if unit is None:
        parse_quantity(Scalar(f"1 {unit_text}", scalar.source), dimension, findings, name)
        return None
    return name, unit


_UNITLESS = (Dimension.COUNT, Dimension.ACIDITY)


def _readings(
    read: Read, sheet: _Sheet, columns: tuple[_Column, ...], setup: Setup, findings: Findings
) -> Iterator[Reading]:
    headings = [heading.strip() for heading in sheet.rows[0]]
    when = _day_column(read, headings, sheet, findings)
    if when is None:
        return
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, when)
        if scalar.text in _EMPTY:
            continue
        day = _sheet_day(scalar, read, setup, findings)
        for column in columns if day is not None else ():
            cell = sheet.cell(number, column.index)
            value = _cell_value(cell, column, read, findings)
            if value is not None and day is not None:
                yield Reading(
                    column.reading,
                    day,
                    None,
                    cell.source,
                    value,
                    plants=(column.plant,) if column.plant else (),
                    tub="" if column.plant else read.text("tub") or setup.tubs[0].id,
                )


def _day_column(read: Read, headings: list[str], sheet: _Sheet, findings: Findings) -> int | None:
    """The column of days or dates: the one named, else one headed `day` or `date`."""
    for key in ("day", "date"):
        named = read.scalar(key)
        if named is not None:
            if named.text in headings:
                return headings.index(named.text)
            _unknown_column(named, headings, sheet, findings)
            return None
    for index, heading in enumerate(headings):
        if heading.lower() in ("day", "date"):
            return index
    findings.add(
        "unknown-column",
        read.at("file"),
        f"`{Path(sheet.file).name}` has no column of days",
        mend="name it: `day: <heading>`, `date: <heading>` or, for a sensor, `time: <heading>`",
        expected="day | date | time",
    )
    return None


def _sheet_day(scalar: Scalar, read: Read, setup: Setup, findings: Findings) -> Day | None:
    if re.fullmatch(r"\d{1,4}", scalar.text):
        return Day.on(int(scalar.text))
    moment = _moment(scalar, read, findings)
    if moment is None:
        return None
    day = setup.start.day_of(moment.date())
    if day is None:
        findings.add(
            "date-without-start",
            scalar.source,
            "a date, but the start is unknown: its day cannot be counted",
            mend="keep day numbers in the spreadsheet, or give the `start`",
            found=scalar.text,
        )
    return day


def _moment(scalar: Scalar, read: Read, findings: Findings) -> dt.datetime | None:
    """A date or time: ISO 8601, or with slashes or dots where `dates:` says which part comes first."""
    try:
        return dt.datetime.fromisoformat(scalar.text)
    except ValueError:
        pass
    match = _SLASHED.fullmatch(scalar.text)
    order = read.choice("dates")
    if match and not order:
        findings.add(
            "not-a-date",
            scalar.source,
            f"`{scalar.text}` can be read in two ways: day first or month first",
            mend="write `dates: day first` or `dates: month first` beside `file:`",
            found=scalar.text,
        )
        return None
    if match:
        first, second, year = int(match[1]), int(match[2]), int(match[3])
        day, month = (first, second) if order == "day first" else (second, first)
        clock = dt.time.fromisoformat(match[4].zfill(5)) if match[4] else dt.time()
        try:
            return dt.datetime.combine(dt.date(year, month, day), clock)
        except ValueError:
            pass
    findings.add(
        "bad-cell",
        scalar.source,
        f"`{scalar.text}` is not a date or time",
        mend="write dates as 2025-10-19 and times as 2025-10-19 08:05",
        found=scalar.text,
    )
    return None


def _cell_value(cell: Scalar, column: _Column, read: Read, findings: Findings) -> Quantity | None:
    if cell.text.lower() in _EMPTY:
        return None
    text = _ABOUT.sub("about ", cell.text)
    if read.choice("decimal") == "comma":
        text = re.sub(r"(\d),(\d)", r"\1.\2", text)
    unit = column.unit.symbol if column.unit is not None else ""
    if unit and re.search(r"[\d+]$", text):
        text = f"{text} {unit}"
    dimension = READINGS[column.reading].dimension
    assert dimension is not None
    trouble = Findings()
    value = parse_quantity(Scalar(text, cell.source), dimension, trouble, column.reading)
    if value is None:
        first = next(iter(trouble))
        findings.add(
            "bad-cell",
            cell.source,
            f"in `{column.heading}`, {first.message}",
            mend=_cell_mend(cell.text, unit, first.mend),
            found=cell.text,
            expected=first.expected,
        )
    return value


def _cell_mend(text: str, unit: str, mend: str) -> str:
    if not unit and re.fullmatch(r"[\d.]+", text):
        return "say the unit of bare numbers once, such as `reading: height cm`"
    return "write `decimal: comma` beside `file:`" if "," in text else mend


def _exports(
    read: Read,
    sheet: _Sheet,
    columns: tuple[_Column, ...],
    setup: Setup,
    zone: str,
    findings: Findings,
) -> Iterator[Export]:
    headings = [heading.strip() for heading in sheet.rows[0]]
    named = read.scalar("time")
    if named is None or named.text not in headings:
        if named is not None:
            _unknown_column(named, headings, sheet, findings)
        return
    times = _times(read, sheet, headings.index(named.text), zone, findings)
    for column in columns:
        pairs = sorted(_samples(read, sheet, column, times, findings))
        yield Export(
            column.reading,
            read.text("tub") or (setup.tubs[0].id if len(setup.tubs) == 1 else ""),
            Source(sheet.file, 2, 1, 1),
            tuple(moment for moment, _ in pairs),
            tuple(value for _, value in pairs),
            CANONICAL[READINGS[column.reading].dimension or Dimension.COUNT].symbol,
        )


def _times(
    read: Read, sheet: _Sheet, index: int, zone: str, findings: Findings
) -> tuple[dt.datetime | None, ...]:
    """The times of all rows in the journal's zone, without offset."""
    target = ZoneInfo(zone) if zone else None
    own = read.zone("zone") or zone
    source = ZoneInfo(own) if own else None
    times: list[dt.datetime | None] = []
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, index)
        moment = _moment(scalar, read, findings) if scalar.text else None
        if moment is not None and (moment.tzinfo or own != zone):
            aware = moment if moment.tzinfo else moment.replace(tzinfo=source)
            moment = aware.astimezone(target).replace(tzinfo=None)
        times.append(moment)
        if len(times) == MAX_BAD and not any(times):
            break  # a wrong column: a few findings say it
    return tuple(times)


MAX_BAD = 5


def _samples(
    read: Read,
    sheet: _Sheet,
    column: _Column,
    times: tuple[dt.datetime | None, ...],
    findings: Findings,
) -> Iterator[tuple[dt.datetime, float]]:
    comma = read.choice("decimal") == "comma"
    unit = column.unit or CANONICAL[READINGS[column.reading].dimension or Dimension.COUNT]
    bad = 0
    for number, moment in enumerate(times, 1):
        cells = sheet.rows[number]
        text = cells[column.index].strip() if column.index < len(cells) else ""
        if moment is None or text.lower() in _EMPTY:
            continue
        try:
            value = float(text.replace(",", ".") if comma else text)
        except ValueError:
            bad += 1
            if bad <= MAX_BAD:
                _bad_sample(sheet.cell(number, column.index), column, findings)
            continue
        yield moment, value * float(unit.factor) + float(unit.offset)


def _bad_sample(cell: Scalar, column: _Column, findings: Findings) -> None:
    findings.add(
        "bad-cell",
        cell.source,
        f"in `{column.heading}`, `{cell.text}` is not a number",
        mend="write `decimal: comma` beside `file:`" if "," in cell.text else "leave the cell empty",
        found=cell.text,
        expected="a number",
    )
