"""A sensor's export: samples by time.

In: a sheet, its columns, the journal's zone. Out: `Export` series on the journal's clock, in the order of their times.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from zoneinfo import ZoneInfo

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Export
from sitegen.core.records.setup import Setup
from sitegen.core.values.units import CANONICAL, Dimension, units_of
from sitegen.ingest.sheets.cells import Sheet
from sitegen.ingest.sheets.columns import EMPTY, READINGS, SheetColumn, tub_of, unknown_column
from sitegen.ingest.sheets.daily_readings import MAX_BAD, some_of_each
from sitegen.ingest.sheets.dates import moment_of
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields


def read_exports(
    fields: TypedFields,
    sheet: Sheet,
    columns: tuple[SheetColumn, ...],
    setup: Setup,
    zone: str,
    findings: Findings,
) -> Iterator[Export]:
    """The series of a sensor, one a column."""
    headings = [heading.strip() for heading in sheet.rows[0]]
    named = fields.scalar("time")
    if named is None or named.text not in headings:
        if named is not None:
            unknown_column(named, headings, sheet, findings)
        return
    tub = tub_of(fields, setup, findings)
    if tub is None:
        return
    trouble = Findings(units=findings.units)
    times = _times(fields, sheet, headings.index(named.text), zone, trouble)
    findings.extend(some_of_each(trouble))
    for column in columns:
        if column.unit is None:
            _no_unit(column, fields, findings)
            continue
        pairs = sorted(_samples(fields, sheet, column, times, findings))
        yield Export(
            column.reading,
            tub,
            Source(sheet.file, 2, 1, 1),
            tuple(moment for moment, _ in pairs),
            tuple(value for _, value in pairs),
            CANONICAL[READINGS[column.reading].dimension or Dimension.COUNT].symbol,
        )


def _no_unit(column: SheetColumn, fields: TypedFields, findings: Findings) -> None:
    units = units_of(READINGS[column.reading].dimension or Dimension.COUNT)
    offers = [f"`{column.heading}: {column.reading} {unit.symbol}`" for unit in units[:2]]
    findings.add(
        "no-unit",
        fields.at("columns"),
        f"`{column.heading}` holds numbers without a unit",
        mend=f"write {listed(offers, 'or')}",
        found=column.reading,
        expected="a reading and the unit of its numbers",
    )


def _times(
    fields: TypedFields, sheet: Sheet, index: int, zone: str, findings: Findings
) -> tuple[dt.datetime | None, ...]:
    """The times of all rows in the journal's zone, without offset."""
    target = ZoneInfo(zone) if zone else None
    own = fields.zone("zone") or zone
    source = ZoneInfo(own) if own else None
    times: list[dt.datetime | None] = []
    for number in range(1, len(sheet.rows)):
        scalar = sheet.cell(number, index)
        moment = moment_of(scalar, fields, findings) if scalar.text else None
        times.append(None if moment is None else _in_zone(moment, source, target))
    return tuple(times)


def _in_zone(moment: dt.datetime, source: ZoneInfo | None, target: ZoneInfo | None) -> dt.datetime:
    """A moment on the journal's clock, without offset; where the journal has no zone, on its own clock."""
    aware = moment if moment.tzinfo else moment.replace(tzinfo=source)
    if target is not None and aware.tzinfo is not None:
        aware = aware.astimezone(target)
    return aware.replace(tzinfo=None)


def _samples(
    fields: TypedFields,
    sheet: Sheet,
    column: SheetColumn,
    times: tuple[dt.datetime | None, ...],
    findings: Findings,
) -> Iterator[tuple[dt.datetime, float]]:
    comma = fields.choice("decimal") == "comma"
    unit = column.unit
    assert unit is not None, column
    bad = 0
    for number, moment in enumerate(times, 1):
        cells = sheet.rows[number]
        text = cells[column.index].strip() if column.index < len(cells) else ""
        if moment is None or text.lower() in EMPTY:
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


def _bad_sample(cell: Scalar, column: SheetColumn, findings: Findings) -> None:
    cell.report(
        findings,
        "bad-cell",
        f"in `{column.heading}`, `{cell.text}` is not a number",
        "write `decimal: comma` beside `file:`" if "," in cell.text else "leave the cell empty",
        "a number",
    )
