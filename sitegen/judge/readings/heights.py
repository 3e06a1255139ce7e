"""Heights that fall without a reason.

In: the context of a run. Out: warnings at the later of two heights of a plant.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sitegen.core.findings.finding import Finding
from sitegen.core.format.entry import key_of
from sitegen.core.records.rows import Deed, Reading, Trouble, Which
from sitegen.judge.context import Context
from sitegen.judge.wording import amount, on_day, quoted

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
        yield from pairwise(sorted((r for r in heights if r.at == at), key=lambda r: r.day.first))


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
