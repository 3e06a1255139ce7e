"""Spreadsheets beside the log: a plant's value that both give, for one day, is the same.

In: a case. Out: findings at the log's values, each naming the cell that says otherwise. Readings of a tub, sensors'
series and days that are not certain are not compared.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.judge.case import Case
from sitegen.judge.words import amount, on_day

# What was estimated, here or there, may be out by a tenth. Common practice, no source.
_ROUGH = 0.10

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


def sheet_and_log(case: Case) -> Iterator[Finding]:
    """A cell agrees with a value of the log for its plant and day; what plants share is said once."""
    readings = case.run.rows.readings
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
    """Whether two values can be the same: they lie no further apart than the coarser of their steps."""
    rough = _ROUGH if any(q.about or q.by_eye for q in (one, other)) else 0.0
    allowed = max(one.step, other.step) + rough * max(one.low, other.low)
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
