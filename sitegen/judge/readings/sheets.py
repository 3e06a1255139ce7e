"""Values of a plant on a day that a spreadsheet and the log both have.

In: the context of a run. Out: errors at values of the log, each naming the cell that differs. Readings of a tub, series
of sensors and uncertain days are not compared.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.judge.context import Context
from sitegen.judge.wording import amount, on_day

# An estimate, in the log or in the spreadsheet, may be wrong by a tenth. Common practice, no source.
_ESTIMATE = 0.10

_Key = tuple[str, int, str, str, str]  # name, day, plant, what was counted, what a height was taken to


def _by_key(readings: tuple[Reading, ...], *, sheets: bool) -> dict[_Key, list[Reading]]:
    """Values of single plants on certain days, from spreadsheets or from the log."""
    found: dict[_Key, list[Reading]] = {}
    for r in readings:
        certain = r.day.first == r.day.last and not r.day.about
        if (r.entry is None) is not sheets or r.together or not certain or not r.value.known:
            continue
        for plant in r.plants:
            found.setdefault((r.name, r.day.first, plant, r.what, r.at), []).append(r)
    return found


def sheet_and_log(context: Context) -> Iterator[Finding]:
    """A cell agrees with a value of the log for its plant and day; cells that differ from one value share a finding."""
    readings = context.run.rows.readings
    cells = _by_key(readings, sheets=True)
    logged = _by_key(readings, sheets=False) if cells else {}
    unlike: dict[Reading, list[tuple[str, Reading]]] = {}
    for key in cells.keys() & logged.keys():
        for cell in cells[key]:
            if not any(_agree(cell.value, mine.value) for mine in logged[key]):
                unlike.setdefault(logged[key][0], []).append((key[2], cell))
    for mine, others in unlike.items():
        yield _said(mine, sorted(others, key=lambda other: (other[1].source, other[0])))


def _agree(one: Quantity, other: Quantity) -> bool:
    """Whether two values can be the same: they are no further apart than the coarser of their steps."""
    tolerance = _ESTIMATE if any(q.about or q.by_eye for q in (one, other)) else 0.0
    allowed = max(one.step, other.step) + tolerance * max(one.low, other.low)
    low, high = sorted((one, other), key=lambda q: q.low)
    return low.high is None or high.low - low.high <= allowed + 1e-9


def _said(mine: Reading, others: list[tuple[str, Reading]]) -> Finding:
    plant, cell = others[0]
    more = len(others) - 1
    again = f" ({plural(more, 'more plant')} likewise)" if more else ""
    place = f"line {cell.source.line} of `{PurePosixPath(cell.source.file).name}`"
    theirs = amount(cell.value)
    return Finding(
        "sheet-and-log",
        mine.source,
        f"`{mine.name}` of `{plant}` {on_day(mine.day)} is {amount(mine.value)} here and {theirs} in {place}{again}",
        "correct the one that is wrong, or keep the value in one of the two",
        amount(mine.value),
        theirs,
    )
