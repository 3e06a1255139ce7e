"""Values of a plant on a day that a spreadsheet and the log both have.

In: the context of a run. Out: errors at values of the log, each naming the cell that differs. Readings of a tub, series
of sensors and uncertain days are not compared.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import PurePosixPath

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.judge.context import Context
from sitegen.judge.wording import amount, on_day

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
