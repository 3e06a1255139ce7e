"""A sensor's export: samples by time.

In: an item of `readings:` with its sheet, its columns, and the journal's zone. Out: `Export` series in the journal's
zone, in the order of their times.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from zoneinfo import ZoneInfo

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.text import listed
from sitegen.core.records.files import Export
from sitegen.core.values.units import CANONICAL, Unit, units_of
from sitegen.ingest.sheets.columns import EMPTY, SheetColumn, SheetItem, tub_of
from sitegen.ingest.sheets.daily_readings import MAX_BAD, some_of_each
from sitegen.ingest.sheets.dates import moment_of, settled_order


def read_exports(item: SheetItem, columns: tuple[SheetColumn, ...], zone: str) -> Iterator[Export]:
    """The series of a sensor, one a column."""
    headings = item.sheet.headings
    named = item.fields.scalar("time")
    if named is None or named.text not in headings:
        if named is not None:
            item.sheet.report_heading(named, item.findings)
        return
    tub = tub_of(item)
    if tub is None:
        return
    times = _times(item, headings.index(named.text), zone)
    for column in columns:
        if column.unit is None:
            _report_no_unit(item, column)
            continue
        pairs = sorted(_samples(item, column, column.unit, times))
        moments, values = tuple(moment for moment, _ in pairs), tuple(value for _, value in pairs)
        place, unit = Source(item.sheet.file, 2, 1, 1), CANONICAL[column.dimension].symbol
        yield Export(column.reading, tub, place, moments, values, unit)


def _report_no_unit(item: SheetItem, column: SheetColumn) -> None:
    offers = [
        f"`{column.heading}: {column.reading} {unit.symbol}`" for unit in units_of(column.dimension)[:2]
    ]
    message, mend = f"`{column.heading}` holds numbers without a unit", f"write {listed(offers, 'or')}"
    expected = "a reading and the unit of its numbers"
    item.fields.report("columns", "no-unit", message, mend, found=column.reading, expected=expected)


def _times(item: SheetItem, index: int, zone: str) -> tuple[dt.datetime | None, ...]:
    """The times of all rows in the journal's zone, without offset."""
    target = ZoneInfo(zone) if zone else None
    own = item.fields.zone("zone") or zone
    source = ZoneInfo(own) if own else None
    problems = Findings(units=item.findings.units)
    times: list[dt.datetime | None] = []
    cells = [item.sheet.cell(number, index) for number in range(1, len(item.sheet.rows))]
    order = item.fields.choice("dates") or settled_order(cells, item.sheet.name, problems)
    for cell in cells:
        moment = moment_of(cell, order, problems) if cell.text else None
        times.append(None if moment is None else _in_zone(moment, source, target))
    item.findings.extend(some_of_each(problems))
    return tuple(times)


def _in_zone(moment: dt.datetime, source: ZoneInfo | None, target: ZoneInfo | None) -> dt.datetime:
    """A moment in the journal's zone, or in its own where the journal has none, without offset."""
    aware = moment if moment.tzinfo else moment.replace(tzinfo=source)
    if target is not None and aware.tzinfo is not None:
        aware = aware.astimezone(target)
    return aware.replace(tzinfo=None)


def _samples(
    item: SheetItem, column: SheetColumn, unit: Unit, times: tuple[dt.datetime | None, ...]
) -> Iterator[tuple[dt.datetime, float]]:
    """The times and values of a column; a few of its bad cells become findings."""
    comma, bad = item.decimal_comma, 0
    for number, moment in enumerate(times, 1):
        cells = item.sheet.rows[number]
        text = cells[column.index].strip() if column.index < len(cells) else ""
        if moment is None or text.lower() in EMPTY:
            continue
        value = _number(text.replace(",", ".") if comma else text)
        if value is not None:
            yield moment, value * float(unit.factor) + float(unit.offset)
            continue
        bad += 1
        if bad <= MAX_BAD:
            cell = item.sheet.cell(number, column.index)
            message = f"in `{column.heading}`, `{cell.text}` is not a number"
            mend = "write `decimal: comma` beside `file:`" if "," in cell.text else "leave the cell empty"
            cell.report(item.findings, "bad-cell", message, mend, "a number")


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None
