"""A sensor's export: samples by time.

In: an item of `readings:` with its sheet, its columns, and the journal's zone. Out: `Export` series in the journal's
zone, in the order of their times.
"""

from __future__ import annotations

import datetime as dt
import math
import operator
from collections.abc import Iterator
from functools import lru_cache
from zoneinfo import ZoneInfo

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import listed
from sitegen.core.records.files import Export
from sitegen.core.reference.reading_ranges import PHYSICAL
from sitegen.core.values.units import CANONICAL, Unit, units_of
from sitegen.ingest.sheets.columns import EMPTY, SheetColumn, SheetItem, tub_of
from sitegen.ingest.sheets.daily_readings import MAX_BAD, some_of_each
from sitegen.ingest.sheets.dates import moment_of, settled_order
from sitegen.ingest.yaml.nodes import Scalar

_CACHED = (
    4096  # dates and clock times: a year has 366 of the one, a day 288 of the other at every five minutes
)


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
        moments, values = _in_order(list(_samples(item, column, column.unit, times)))
        if values:
            _report_impossible(item, column, column.unit, (min(values), max(values)))
        place, unit = Source(item.sheet.file, 2, 1, 1), CANONICAL[column.dimension].symbol
        yield Export(column.reading, tub, place, moments, values, unit)


def _report_no_unit(item: SheetItem, column: SheetColumn) -> None:
    offers = [
        f"`{column.heading}: {column.reading} {unit.symbol}`" for unit in units_of(column.dimension)[:2]
    ]
    message, mend = f"`{column.heading}` holds numbers without a unit", f"write {listed(offers, 'or')}"
    expected = "a reading and the unit of its numbers"
    item.fields.report("columns", "no-unit", message, mend, found=column.reading, expected=expected)


def _one_of_each_date(item: SheetItem, index: int) -> list[Scalar]:
    """A cell for each date of a column: a year of five-minute data has 366 of them in 105,000 rows."""
    first: dict[str, int] = {}
    for number, cells in enumerate(item.sheet.rows[1:], 1):
        if index < len(cells) and (text := cells[index].strip()):
            first.setdefault(text.split(" ", 1)[0], number)
    return [item.sheet.cell(number, index) for number in first.values()]


def _times(item: SheetItem, index: int, zone: str) -> tuple[dt.datetime | None, ...]:
    """The times of all rows in the journal's zone, without offset."""
    target = ZoneInfo(zone) if zone else None
    own = item.fields.zone("zone") or zone
    source = ZoneInfo(own) if own else None
    problems = Findings(units=item.findings.units)
    times: list[dt.datetime | None] = []
    order = item.fields.choice("dates") or settled_order(
        _one_of_each_date(item, index), item.sheet.name, problems
    )
    shifts: dict[_Quarter, dt.timedelta] = {}
    for number, cells in enumerate(item.sheet.rows[1:], 1):
        text = cells[index].strip() if index < len(cells) else ""
        moment = _moment(text, order) if text else None
        if text and moment is None:
            moment = moment_of(item.sheet.cell(number, index), order, problems)
        times.append(None if moment is None else _on_clock(moment, source, target, shifts))
    item.findings.extend(some_of_each(problems))
    return tuple(times)


def _moment(text: str, order: str) -> dt.datetime | None:
    """A date and a time of day that are both understood; None for any other text, which `moment_of` reads or reports."""
    if text[4:5] == "-":
        try:
            return dt.datetime.fromisoformat(text)
        except ValueError:
            return None
    date_text, _, clock_text = text.partition(" ")
    date, clock = (
        _date(date_text.removesuffix(","), order),
        _clock(clock_text.strip()) if clock_text else dt.time(),
    )
    return dt.datetime.combine(date, clock) if date is not None and clock is not None else None


@lru_cache(_CACHED)
def _date(text: str, order: str) -> dt.date | None:
    moment = moment_of(Scalar(text, Source("")), order, Findings())
    return moment.date() if moment is not None and moment.time() == dt.time() else None


@lru_cache(_CACHED)
def _clock(text: str) -> dt.time | None:
    moment = moment_of(Scalar(f"2000/01/01 {text}", Source("")), "year first", Findings())
    return moment.time() if moment is not None and moment.tzinfo is None else None


# No zone of our time changes its clock but at a full quarter of an hour, so all of one are shifted alike.
_Quarter = tuple[int, int, int, dt.tzinfo | None]


def _on_clock(
    moment: dt.datetime,
    source: ZoneInfo | None,
    target: ZoneInfo | None,
    shifts: dict[_Quarter, dt.timedelta],
) -> dt.datetime:
    """A moment on the clock of the journal's zone; how far a quarter of an hour is shifted is computed once."""
    if moment.tzinfo is None and source is target:
        return moment
    naive = dt.datetime.combine(moment.date(), moment.time())  # `replace` takes ten times as long
    quarter = moment.toordinal(), moment.hour, moment.minute // 15, moment.tzinfo
    shift = shifts.get(quarter)
    if shift is None:
        shift = shifts[quarter] = _in_zone(moment, source, target) - naive
    return naive + shift


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
    factor, offset, index = float(unit.factor), float(unit.offset), column.index
    for number, (moment, cells) in enumerate(zip(times, item.sheet.rows[1:], strict=True), 1):
        text = cells[index].strip() if index < len(cells) else ""
        if moment is None or not text:
            continue
        value = _number(text.replace(",", ".") if comma else text)
        if value is not None:
            yield moment, value * factor + offset
            continue
        if text.lower() in EMPTY:
            continue
        bad += 1
        if bad <= MAX_BAD:
            cell = item.sheet.cell(number, column.index)
            message = f"in `{column.heading}`, `{cell.text}` is not a number"
            mend = "write `decimal: comma` beside `file:`" if "," in cell.text else "leave the cell empty"
            cell.report(item.findings, "bad-cell", message, mend, "a number")


def _report_impossible(item: SheetItem, column: SheetColumn, unit: Unit, bounds: tuple[float, float]) -> None:
    """Findings at the first cells whose values cannot be; `bounds` are the least and the greatest of all."""
    possible = PHYSICAL.get(column.reading)
    if possible is None or (possible.low <= bounds[0] and bounds[1] <= possible.high):
        return
    found = 0
    low, high = (f"{unit.from_canonical(bound):g}" for bound in (possible.low, possible.high))
    for number, cells in enumerate(item.sheet.rows[1:], 1):
        text = cells[column.index].strip() if column.index < len(cells) else ""
        value = _number(text.replace(",", ".") if item.decimal_comma else text)
        if value is None or possible.low <= unit.to_canonical(value) <= possible.high:
            continue
        found += 1
        if found > MAX_BAD:
            return
        message = f"in `{column.heading}`, {text} {unit.symbol} cannot be: it lies between {low} and {high} {unit.symbol}"
        mend, expected = "check the number and the unit of the column", f"{low}-{high} {unit.symbol}"
        item.sheet.cell(number, column.index).report(
            item.findings, "impossible-value", message, mend, expected
        )


def _in_order(
    samples: list[tuple[dt.datetime, float]],
) -> tuple[tuple[dt.datetime, ...], tuple[float, ...]]:
    """Times and values in the order of time, which most exports have: then nothing is sorted."""
    moments = [moment for moment, _ in samples]
    if any(map(operator.ge, moments, moments[1:])):
        samples = sorted(samples)
    return tuple(moment for moment, _ in samples), tuple(value for _, value in samples)


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None
