"""A spreadsheet of readings by day, of plants or of tubs.

In: an item of `readings:` with its sheet, and its columns. Out: `Reading` rows. Cells may have flags, such as `ca. 8`
and `12+`; an empty cell or `-` is no reading.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.language.hidden_characters import hidden_at
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.ingest.sheets.columns import EMPTY, UNITLESS, SheetColumn, SheetItem, report_no_unit, tub_of
from sitegen.ingest.sheets.dates import dated_cell, settled_order, sheet_day
from sitegen.ingest.text_files import report_hidden
from sitegen.ingest.values.normalize import with_signs
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Scalar


def read_days(item: SheetItem, columns: tuple[SheetColumn, ...]) -> Iterator[Reading]:
    """The cells of a sheet, row by row."""
    sheet, findings = item.sheet, item.findings
    when = _day_column(item)
    if when is None:
        return
    tub = "" if all(column.plant for column in columns) else tub_of(item)
    if tub is None:
        return
    common = item.fields.scalar("reading")
    if common is not None and columns and all(_is_bare(item, column) for column in columns):
        report_no_unit(common, columns[0], findings)
        return
    problems = Findings(units=findings.units)
    comma = item.decimal_comma
    if len(sheet.rows) > MAX_DAYS:
        message = f"`{sheet.name}` has {len(sheet.rows):,} rows; at most {MAX_DAYS:,} days are read"
        mend = "name its column of times for a sensor: `time: <heading>`"
        item.fields.report("file", "too-many-items", message, mend, found=str(len(sheet.rows)))
        return
    dates = [sheet.cell(number, when) for number in range(1, len(sheet.rows))]
    order = item.fields.choice("dates") or settled_order(dates, item.sheet.name, problems)
    for number, written in enumerate(dates, 1):
        date, note = dated_cell(written)
        day = sheet_day(date, order, item.setup, problems) if date.text not in EMPTY else None
        if day is None:
            continue
        if (at := hidden_at(note)) is not None:
            report_hidden(note[at], written.source, problems, "remove it")
            continue
        for column in columns:
            cell = sheet.cell(number, column.index)
            value = _cell_value(cell, column, comma, problems)
            if value is not None:
                plants, of_tub = ((column.plant,), "") if column.plant else ((), tub)
                yield Reading(column.reading, day, None, cell.source, value, plants, tub=of_tub, note=note)
    findings.extend(some_of_each(problems))


MAX_DAYS = 10_000  # rows of days: of each plant or tub in a column of its own
_BARE = re.compile(r"[\d.,]*\d")


def _is_bare(item: SheetItem, column: SheetColumn) -> bool:
    """Whether a column of a reading with a unit has numbers, and none of them has its unit."""
    if column.unit is not None or column.dimension in UNITLESS:
        return False
    cells = [item.sheet.cell(number, column.index).text for number in range(1, len(item.sheet.rows))]
    numbers = [text for text in cells if re.search(r"\d", text)]
    return bool(numbers) and all(_BARE.fullmatch(with_signs(text).rpartition(" ")[2]) for text in numbers)


def _day_column(item: SheetItem) -> int | None:
    """The column of days or dates: the one named, else one headed `day` or `date`."""
    headings = item.sheet.headings
    named = item.fields.scalar("day") or item.fields.scalar("date")
    if named is not None:
        if named.text in headings:
            return headings.index(named.text)
        item.sheet.report_heading(named, item.findings)
        return None
    for index, heading in enumerate(headings):
        if heading.lower() in ("day", "date"):
            return index
    message = f"`{item.sheet.name}` has no column of days"
    mend = item.sheet.title_mend("day", "date")
    mend = mend or "name it: `day: <heading>`, `date: <heading>` or, for a sensor, `time: <heading>`"
    item.fields.report("file", "unknown-column", message, mend, expected="day | date | time")
    return None


def _cell_value(cell: Scalar, column: SheetColumn, comma: bool, findings: Findings) -> Quantity | None:
    if cell.text.lower() in EMPTY:
        return None
    text = re.sub(r"(\d),(\d)", r"\1.\2", cell.text) if comma else cell.text
    text = with_signs(text)
    unit = column.unit.symbol if column.unit is not None else ""
    if unit and re.search(r"[\d+]$", text):
        text = f"{text} {unit}"
    problems = Findings(units=findings.units)
    value = parse_quantity(Scalar(text, cell.source), column.dimension, problems, column.reading)
    if value is None:
        first = problems.items[0]
        message, mend = f"in `{column.heading}`, {first.message}", _cell_mend(cell.text, unit, first.mend)
        cell.report(findings, "bad-cell", message, mend, first.expected)
    return value


def _cell_mend(text: str, unit: str, mend: str) -> str:
    if not unit and re.fullmatch(r"[\d.]+", text):
        return "say the unit of bare numbers once, such as `reading: height cm`"
    return "write `decimal: comma` beside `file:`" if "," in text else mend


MAX_BAD = 5  # findings of one code in one file


def some_of_each(findings: Findings) -> Iterator[Finding]:
    """The first findings of each code: those of a wrong column would fill the screen."""
    seen: Counter[str] = Counter()
    for finding in findings:
        seen[finding.code] += 1
        if seen[finding.code] <= MAX_BAD:
            yield finding
