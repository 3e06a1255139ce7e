"""Readings of one plant that contradict each other: heights that fall, a spreadsheet that differs from the log.

In: the context of a run. Out: warnings at the later of two heights that fall without a reason; errors at values of
the log that differ from a spreadsheet on the same day, each naming its cell. Readings of a tub, series of sensors and
uncertain days are not compared.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import PurePosixPath

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.format.entry import key_of
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Deed, Reading, Trouble, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.judge.context import Context, amount, on_day, quoted, span, the_day

# Two measurements of one plant may differ by this share. Common practice, no source.
_TOLERANCE = 0.10

# Events that make a plant shorter: it is cut, bent, set deeper, falls over or is sown again.
_SHORTENING = tuple(deed for deed in Deed if key_of(deed).shortens)


def shrunk(context: Context) -> Iterator[Finding]:
    """A plant's height falls only after an event that explains it; plants of one reading share a finding."""
    falls: dict[tuple[Reading, Reading], list[str]] = {}
    for plant in context.run.setup.plant_ids:
        for before, after in _pairs(context, plant):
            if _fell(before, after) and not _explained(context, plant, before, after):
                falls.setdefault((before, after), []).append(plant)
    for (before, after), plants in falls.items():
        to = f" to the {after.at}" if after.at else ""
        found, least = amount(after.value), amount(before.value)
        heights = f"{least} {on_day(before.day)}, {found} {on_day(after.day)}"
        message = f"{quoted(plants)} got shorter{to}: {heights}"
        mend = "check both heights, or write what was cut under `prune`"
        yield Finding("shrunk", after.source, message, mend, found, f"{least} or more")


def _pairs(context: Context, plant: str) -> Iterator[tuple[Reading, Reading]]:
    """Successive heights of a plant, each pair taken to the same place."""
    heights = [r for r in context.run.rows.read("height") if plant in r.plants and not r.together]
    for at in dict.fromkeys(r.at for r in heights):
        yield from pairwise(sorted((r for r in heights if r.at == at), key=lambda r: r.day.key))


def _fell(before: Reading, after: Reading) -> bool:
    if after.value.high is None or before.day.last >= after.day.first:
        return False
    fall = before.value.low - after.value.high
    return fall > max(before.value.step, after.value.step, _TOLERANCE * before.value.low)


def _explained(context: Context, plant: str, before: Reading, after: Reading) -> bool:
    """Whether an event between two readings can have made a plant shorter."""
    rows = context.run.rows
    days = [(r.day, r.day) for r in (*rows.of(*_SHORTENING), *rows.picks) if _may_be(plant, r.which)]
    days += [(r.day, r.day) for r in rows.routines if r.what == "prune"]
    days += [(e.day, e.until) for e in rows.of(Trouble) if e.until and _may_be(plant, e.which)]
    return any(end.last >= before.day.first and begin.first <= after.day.last for begin, end in days)


def _may_be(plant: str, which: Which | None) -> bool:
    """Whether a record can be about a plant."""
    if which is None or not which.named:
        return which is None or not which.nobody
    return plant in which.ids


# An estimate, in the log or in the spreadsheet, may be wrong by a tenth. Common practice, no source.
_ESTIMATE = 0.10

_Key = tuple[str, int, str, str, str]  # name, day, plant, what was counted, what a height was taken to


def _by_key(readings: Iterable[Reading]) -> Mapping[_Key, Sequence[Reading]]:
    """Values of single plants on certain days."""
    found: dict[_Key, list[Reading]] = defaultdict(list)
    for r in readings:
        if r.day.single and not r.day.about and not r.together:
            for plant in r.plants:
                found[r.name, r.day.first, plant, r.what, r.at].append(r)
    return found


def sheet_and_log(context: Context) -> Iterator[Finding]:
    """A cell agrees with a value of the log for its plant and day; cells that differ from one value share a finding."""
    readings = context.run.rows.readings
    logged = _by_key(r for r in readings if r.entry is not None)
    unlike: dict[Reading, list[tuple[Source, str, Reading]]] = defaultdict(list)
    for key, cells in _by_key(r for r in readings if r.entry is None).items():
        of_log = logged.get(key, ())
        unequal = [cell for cell in cells if not any(_agree(cell.value, mine.value) for mine in of_log)]
        if of_log and unequal:
            cell = min(unequal, key=lambda cell: cell.source)
            unlike[of_log[0]].append((cell.source, key[2], cell))
    for mine, others in unlike.items():
        (source, plant, cell), *more = sorted(others)
        again = f" ({plural(len(more), 'more plant')} likewise)" if more else ""
        place = f"line {source.line} of `{PurePosixPath(source.file).name}`"
        found, theirs = amount(mine.value), amount(cell.value)
        message = (
            f"`{mine.name}` of `{plant}` {on_day(mine.day)} is {found} here and {theirs} in {place}{again}"
        )
        mend = "correct the one that is wrong, or keep the value in one of the two"
        yield Finding("sheet-and-log", mine.source, message, mend, found, theirs)


def _agree(one: Quantity, other: Quantity) -> bool:
    """Whether two values can be the same: they are no further apart than the coarser of their steps."""
    tolerance = _ESTIMATE if any(q.about or q.by_eye for q in (one, other)) else 0.0
    allowed = max(one.step, other.step) + tolerance * max(one.low, other.low)
    low, high = sorted((one, other), key=lambda q: q.low)
    return low.high is None or high.low - low.high <= allowed + 1e-9


def sheet_day_twice(context: Context) -> Iterator[Finding]:
    """A spreadsheet has one row for a day of its plants; of two with other values the later one is reported."""
    rows: dict[tuple[str, Day], dict[_Cell, Reading]] = defaultdict(dict)
    said: set[tuple[str, Day]] = set()
    cells = sorted(
        (r for r in context.run.rows.readings if r.entry is None and r.plants), key=lambda r: r.source
    )
    for cell in cells:
        key, of_cell = (cell.source.file, cell.day), (cell.name, cell.plants, cell.what)
        first = rows[key].setdefault(of_cell, cell)
        if key in said or first.value == cell.value or first.source.line == cell.source.line:
            continue
        said.add(key)
        message = f"a second row for {the_day(cell.day)}; the first is in line {first.source.line}"
        mend = "check the day of both rows, or keep one of them"
        yield Finding("sheet-day-twice", cell.source, message, mend, the_day(cell.day), "one row a day")


_Cell = tuple[str, tuple[str, ...], str]  # name, plants, what was counted

_TENFOLD = ("height", "spread")
# A value this many times the greatest of the others, and of its own plant before, is unlike them; a tenth of it is
# like them within these bounds. Common practice, no source.
_UNLIKE, _LIKE = 5.0, 2.0


def tenfold(context: Context) -> Iterator[Finding]:
    """No height or spread is ten times what the other plants and its own had: a decimal sign may be missing."""
    for name in _TENFOLD:
        by_day: dict[Day, list[Reading]] = defaultdict(list)
        for r in context.run.rows.read(name):
            if r.value.known and r.plants and not r.together:
                by_day[r.day].append(r)
        for r in (r for readings in by_day.values() for r in readings):
            others = [each.value.low for each in by_day[r.day] if each is not r and each.at == r.at]
            before = [
                each.value.low
                for readings in by_day.values()
                for each in readings
                if each.day < r.day and set(each.plants) & set(r.plants)
            ]
            if len(others) < 2 or not _is_tenfold(r.value.low, others, before):
                continue
            top = r.value.high
            tenth = amount(replace(r.value, low=r.value.low / 10, high=None if top is None else top / 10))
            found, usual = amount(r.value), span(min(others), max(others), r.value)
            message = f"{name} {found} of {quoted(r.plants)} {on_day(r.day)}, and {usual} of the others: is it {tenth}?"
            mend = "check the number: its decimal sign may be missing"
            yield Finding("tenfold", r.source, message, mend, found, tenth)


def _is_tenfold(value: float, others: Sequence[float], before: Sequence[float]) -> bool:
    like = min(others) / _LIKE <= value / 10 <= max(others) * _LIKE
    return like and value > _UNLIKE * max(others) and value > _UNLIKE * max(before, default=0.0)
