"""Spreadsheets and sensor exports beside an experiment: `.csv` and `.xlsx`.

In: an item of `readings:` and the file it names. Out: `Reading` rows (a sheet of plants by day) or `Export` series (a
sensor's samples by time). Cells such as `ca. 8`, `12+` and `-` mean what they say.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from sitegen.core.fields import Form
from sitegen.core.finding import Finding, Findings, Source
from sitegen.core.format import TABLES
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Export, Reading
from sitegen.core.setup import Setup
from sitegen.core.text import did_you_mean, listed
from sitegen.core.units import CANONICAL, Dimension, Unit, unit_named, units_of
from sitegen.ingest.expect import expect_mapping, expect_scalar
from sitegen.ingest.nodes import Mapping, Scalar
from sitegen.ingest.reader import Read
from sitegen.ingest.sheet_days import moment_of, sheet_day
from sitegen.ingest.sheet_files import Sheet, load_sheet
from sitegen.ingest.values import parse_quantity
from sitegen.ingest.which import Names, report_unknown

__all__ = ["read_sheet"]

READINGS = {f.key: f for f in TABLES["entry"].fields if f.form is Form.READING}
MAX_BAD = 5  # findings of one code in one file
_EMPTY = ("", "-", "–", "n/a", "na")
_ABOUT = re.compile(r"^(?:~|ca\.?|circa|about|approx\.?)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Column:
    """What a column holds: a plant's reading, or a sensor's."""

    heading: str
    index: int
    reading: str
    unit: Unit | None
    plant: str = ""


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
    sheet = load_sheet(path, root, read, findings)
    if sheet is None or not _tub_known(read, names, findings):
        return (), ()
    columns = tuple(_columns(read, sheet, names, findings))
    if read.has("time"):
        return (), tuple(_exports(read, sheet, columns, setup, zone, findings))
    return tuple(_readings(read, sheet, columns, setup, findings)), ()


def _tub_known(read: Read, names: Names, findings: Findings) -> bool:
    """Whether the tub of an item can be told."""
    tub = read.scalar("tub")
    if tub is None or tub.text in names.tubs:
        return True
    findings.add(
        "unknown-plant",
        tub.source,
        f"`{tub.text}` is not a tub of this experiment",
        mend=did_you_mean(tub.text, names.tubs) if names.tubs else "remove `tub`: there is only one",
        found=tub.text,
        expected=", ".join(names.tubs),
    )
    return False


def _tub(read: Read, setup: Setup, findings: Findings) -> str | None:
    """The tub of readings that belong to one; None and a finding where there are several and none is named."""
    if len(setup.tubs) == 1 or read.has("tub"):
        return read.text("tub") or setup.tubs[0].id
    findings.add(
        "which-tub",
        read.at("file"),
        f"these readings belong to a tub; this experiment has {len(setup.tubs)}",
        mend=f"write `tub: {setup.tubs[0].id}` beside `file:`",
        expected=" | ".join(tub.id for tub in setup.tubs),
    )
    return None


def _columns(read: Read, sheet: Sheet, names: Names, findings: Findings) -> Iterator[_Column]:
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
        if headings.count(pair.key.text) != 1:
            _unknown_column(pair.key, headings, sheet, findings)
            continue
        index = headings.index(pair.key.text)
        column = _column(pair.key.text, index, target, common, names, findings)
        if column is not None:
            yield column


def _unknown_column(key: Scalar, headings: list[str], sheet: Sheet, findings: Findings) -> None:
    if key.text in headings:
        findings.add(
            "unknown-column",
            key.source,
            f"`{key.text}` is the heading of {headings.count(key.text)} columns of `{Path(sheet.file).name}`",
            mend="give each column a heading of its own",
            found=key.text,
        )
        return
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
    read: Read, sheet: Sheet, columns: tuple[_Column, ...], setup: Setup, findings: Findings
) -> Iterator[Reading]:
    headings = [heading.strip() for heading in sheet.rows[0]]
    when = _day_column(read, headings, sheet, findings)
    if when is None:
        return
    tub = "" if all(column.plant for column in columns) else _tub(read, setup, findings)
    if tub is None:
        return
    trouble = Findings()
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, when)
        day = sheet_day(scalar, read, setup, trouble) if scalar.text not in _EMPTY else None
        for column in columns if day is not None else ():
            cell = sheet.cell(number, column.index)
            value = _cell_value(cell, column, read, trouble)
            if value is not None and day is not None:
                plants = (column.plant,) if column.plant else ()
                yield Reading(
                    column.reading, day, None, cell.source, value, plants, tub="" if plants else tub
                )
    findings.extend(_some(trouble))


def _some(trouble: Findings) -> Iterator[Finding]:
    """A few findings of each code: a wrong column would fill the screen."""
    seen: Counter[str] = Counter()
    for finding in trouble:
        seen[finding.code] += 1
        if seen[finding.code] <= MAX_BAD:
            yield finding


def _day_column(read: Read, headings: list[str], sheet: Sheet, findings: Findings) -> int | None:
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
    sheet: Sheet,
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
    tub = _tub(read, setup, findings)
    if tub is None:
        return
    trouble = Findings()
    times = _times(read, sheet, headings.index(named.text), zone, trouble)
    findings.extend(_some(trouble))
    for column in columns:
        if column.unit is None:
            _no_unit(column, read, findings)
            continue
        pairs = sorted(_samples(read, sheet, column, times, findings))
        yield Export(
            column.reading,
            tub,
            Source(sheet.file, 2, 1, 1),
            tuple(moment for moment, _ in pairs),
            tuple(value for _, value in pairs),
            CANONICAL[READINGS[column.reading].dimension or Dimension.COUNT].symbol,
        )


def _no_unit(column: _Column, read: Read, findings: Findings) -> None:
    units = units_of(READINGS[column.reading].dimension or Dimension.COUNT)
    offers = [f"`{column.heading}: {column.reading} {unit.symbol}`" for unit in units[:2]]
    findings.add(
        "no-unit",
        read.at("columns"),
        f"`{column.heading}` holds numbers without a unit",
        mend=f"write {listed(offers, 'or')}",
        found=column.reading,
        expected="a reading and the unit of its numbers",
    )


def _times(
    read: Read, sheet: Sheet, index: int, zone: str, findings: Findings
) -> tuple[dt.datetime | None, ...]:
    """The times of all rows in the journal's zone, without offset."""
    target = ZoneInfo(zone) if zone else None
    own = read.zone("zone") or zone
    source = ZoneInfo(own) if own else None
    times: list[dt.datetime | None] = []
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, index)
        moment = moment_of(scalar, read, findings) if scalar.text else None
        times.append(None if moment is None else _in_zone(moment, source, target))
    return tuple(times)


def _in_zone(moment: dt.datetime, source: ZoneInfo | None, target: ZoneInfo | None) -> dt.datetime:
    """A moment on the journal's clock, without offset; where the journal has no zone, on its own clock."""
    aware = moment if moment.tzinfo else moment.replace(tzinfo=source)
    if target is not None and aware.tzinfo is not None:
        aware = aware.astimezone(target)
    return aware.replace(tzinfo=None)


def _samples(
    read: Read,
    sheet: Sheet,
    column: _Column,
    times: tuple[dt.datetime | None, ...],
    findings: Findings,
) -> Iterator[tuple[dt.datetime, float]]:
    comma = read.choice("decimal") == "comma"
    unit = column.unit
    assert unit is not None, column
    bad = 0
    for number, moment in enumerate(times, 1):
        cells = sheet.rows[number]
        text = cells[column.index].strip() if column.index < len(cells) else ""
        if moment is None or text.lower() in _EMPTY:
            continue
        value = _number(text.replace(",", ".") if comma else text)
        if value is None:
            bad += 1
            if bad <= MAX_BAD:
                _bad_sample(sheet.cell(number, column.index), column, findings)
            continue
        yield moment, value * float(unit.factor) + float(unit.offset)


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _bad_sample(cell: Scalar, column: _Column, findings: Findings) -> None:
    findings.add(
        "bad-cell",
        cell.source,
        f"in `{column.heading}`, `{cell.text}` is not a number",
        mend="write `decimal: comma` beside `file:`" if "," in cell.text else "leave the cell empty",
        found=cell.text,
        expected="a number",
    )
