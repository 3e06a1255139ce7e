"""A spreadsheet of plants or tubs by day.

In: a sheet, its columns, the set-up. Out: `Reading` rows. Cells such as `ca. 8`, `12+` and `-` mean what they say.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.rows import Reading
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity
from sitegen.ingest.sheets.cells import Sheet
from sitegen.ingest.sheets.columns import EMPTY, READINGS, SheetColumn, tub_of, unknown_column
from sitegen.ingest.sheets.dates import sheet_day
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_ABOUT = re.compile(r"^(?:~|ca\.?|circa|about|approx\.?)\s*", re.IGNORECASE)


def read_days(
    fields: TypedFields, sheet: Sheet, columns: tuple[SheetColumn, ...], setup: Setup, findings: Findings
) -> Iterator[Reading]:
    """The cells of a sheet, row by row."""
    headings = [heading.strip() for heading in sheet.rows[0]]
    when = _day_column(fields, headings, sheet, findings)
    if when is None:
        return
    tub = "" if all(column.plant for column in columns) else tub_of(fields, setup, findings)
    if tub is None:
        return
    trouble = Findings(units=findings.units)
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, when)
        day = sheet_day(scalar, fields, setup, trouble) if scalar.text not in EMPTY else None
        for column in columns if day is not None else ():
            cell = sheet.cell(number, column.index)
            value = _cell_value(cell, column, fields, trouble)
            if value is not None and day is not None:
                plants = (column.plant,) if column.plant else ()
                yield Reading(
                    column.reading, day, None, cell.source, value, plants, tub="" if plants else tub
                )
    findings.extend(some_of_each(trouble))


def _day_column(fields: TypedFields, headings: list[str], sheet: Sheet, findings: Findings) -> int | None:
    """The column of days or dates: the one named, else one headed `day` or `date`."""
    for key in ("day", "date"):
        named = fields.scalar(key)
        if named is not None:
            if named.text in headings:
                return headings.index(named.text)
            unknown_column(named, headings, sheet, findings)
            return None
    for index, heading in enumerate(headings):
        if heading.lower() in ("day", "date"):
            return index
    findings.add(
        "unknown-column",
        fields.at("file"),
        f"`{Path(sheet.file).name}` has no column of days",
        mend="name it: `day: <heading>`, `date: <heading>` or, for a sensor, `time: <heading>`",
        expected="day | date | time",
    )
    return None


def _cell_value(
    cell: Scalar, column: SheetColumn, fields: TypedFields, findings: Findings
) -> Quantity | None:
    if cell.text.lower() in EMPTY:
        return None
    text = _ABOUT.sub("about ", cell.text)
    if fields.choice("decimal") == "comma":
        text = re.sub(r"(\d),(\d)", r"\1.\2", text)
    unit = column.unit.symbol if column.unit is not None else ""
    if unit and re.search(r"[\d+]$", text):
        text = f"{text} {unit}"
    dimension = READINGS[column.reading].dimension
    assert dimension is not None
    trouble = Findings(units=findings.units)
    value = parse_quantity(Scalar(text, cell.source), dimension, trouble, column.reading)
    if value is None:
        first = next(iter(trouble))
        cell.report(
            findings,
            "bad-cell",
            f"in `{column.heading}`, {first.message}",
            _cell_mend(cell.text, unit, first.mend),
            first.expected,
        )
    return value


def _cell_mend(text: str, unit: str, mend: str) -> str:
    if not unit and re.fullmatch(r"[\d.]+", text):
        return "say the unit of bare numbers once, such as `reading: height cm`"
    return "write `decimal: comma` beside `file:`" if "," in text else mend


MAX_BAD = 5  # findings of one code in one file


def some_of_each(trouble: Findings) -> Iterator[Finding]:
    """A few findings of each code: a wrong column would fill the screen."""
    seen: Counter[str] = Counter()
    for finding in trouble:
        seen[finding.code] += 1
        if seen[finding.code] <= MAX_BAD:
            yield finding
