"""Plants that got shorter without a cut, and doses unlike the label.

In: a case. Out: warnings about heights and feeds.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import fsum

from sitegen.core.finding import Finding
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Deed, Event, Reading, Which
from sitegen.core.units import Dimension
from sitegen.judge.case import Case
from sitegen.judge.words import amount, number, on_day, quoted

__all__ = ["dose_unlike_label", "shrunk"]

# A second measurement of the same plant may differ by so much. Common practice, no source.
_SHARE = 0.10
# Half and double doses are meant; beyond these a unit or a point may be wrong. Common practice, no source.
_LEAST, _MOST = 0.2, 2.5

# What makes a plant shorter: cut, bent, set deeper, fallen over, sown anew.
_SHORTENING = (Deed.PRUNE, Deed.TRAIN, Deed.TRANSPLANT, Deed.TROUBLE, Deed.LOST, Deed.SOW)
_DOSES = {Dimension.VOLUME_DOSE: Dimension.VOLUME, Dimension.MASS_DOSE: Dimension.MASS}


def shrunk(case: Case) -> Iterator[Finding]:
    """A plant's height falls only where something was done to it; plants of one reading are said together."""
    falls: dict[tuple[Reading, Reading], list[str]] = {}
    for plant in case.run.setup.plant_ids:
        for before, after in _pairs(case, plant):
            if _fell(before, after) and not _explained(case, plant, before, after):
                falls.setdefault((before, after), []).append(plant)
    for (before, after), plants in falls.items():
        to = f" to the {after.at}" if after.at else ""
        yield Finding(
            "shrunk",
            after.source,
            f"{quoted(plants)} got shorter{to}: {amount(before.value)} {on_day(before.day)}, "
            f"{amount(after.value)} {on_day(after.day)}",
            "check both heights, or write what was cut under `prune`",
            amount(after.value),
            f"{amount(before.value)} or more",
        )


def _pairs(case: Case, plant: str) -> Iterator[tuple[Reading, Reading]]:
    """A plant's heights two by two, each taken to the same place."""
    heights = [r for r in case.run.rows.read("height") if plant in r.plants and not r.together]
    for at in dict.fromkeys(r.at for r in heights):
        yield from pairwise(sorted((r for r in heights if r.at == at), key=lambda r: r.day.first))


def _fell(before: Reading, after: Reading) -> bool:
    if after.value.high is None or before.day.last >= after.day.first:
        return False
    fall = before.value.low - after.value.high
    step = max(before.value.step, after.value.step)
    return fall > step and fall > _SHARE * before.value.low


def _explained(case: Case, plant: str, before: Reading, after: Reading) -> bool:
    """Whether a cut, a pick or trouble that can be this plant's lies between two readings."""
    rows = case.run.rows
    days = [e.day for e in rows.of(*_SHORTENING) if _may_be(plant, e.which)]
    days += [pick.day for pick in rows.picks if _may_be(plant, pick.which)]
    days += [routine.day for routine in rows.routines if routine.what == "prune"]
    lasting = [e for e in rows.of(Deed.TROUBLE) if e.until and _may_be(plant, e.which)]
    overlaps = any(
        e.until and e.day.first <= after.day.last and e.until.last >= before.day.first for e in lasting
    )
    return overlaps or any(d.last >= before.day.first and d.first <= after.day.last for d in days)


def _may_be(plant: str, which: Which | None) -> bool:
    if which is None or not which.named:
        return which is None or not which.nobody
    return plant in which.ids


def dose_unlike_label(case: Case) -> Iterator[Finding]:
    """A feed is near its label's dose for the water that was added with it."""
    poured = _water_added(case)
    for feed in case.run.rows.of(Deed.FEED):
        product = case.product(feed.product)
        label = product.dose if product else None
        share = _share_of_label(feed, label, poured.get((feed.entry, feed.tub), []))
        if share is None or label is None or feed.amount is None or _LEAST <= share <= _MOST:
            continue
        yield Finding(
            "dose-unlike-label",
            feed.source,
            f"`{feed.product}` {on_day(feed.day)} is {number(share)} times the {amount(label)} of its label",
            "check the amount, its unit and the water added",
            amount(feed.amount),
            amount(label),
        )


def _share_of_label(feed: Event, label: Quantity | None, water: list[Quantity | None]) -> float | None:
    """A dose as a share of the label's; None where it cannot be said."""
    given = feed.amount
    if label is None or given is None or not given.single or label.high is None or label.middle <= 0:
        return None
    if given.dimension is label.dimension:
        return given.middle / label.middle
    if _DOSES.get(label.dimension) is not given.dimension or not (litres := _litres(water)):
        return None
    times = len(feed.which.ids) if feed.each and feed.which and feed.which.named else 1
    return given.middle * times / (litres * label.middle)


def _poured(case: Case, event: Event, *, first: bool) -> Quantity | None:
    """What was added; a tub that was empty is filled with what its system holds."""
    if event.amount is None and event.filled and (first or event.deed is Deed.CHANGE):
        return next((t.system.reservoir for t in case.run.setup.tubs if t.id == event.tub), None)
    return event.amount


def _water_added(case: Case) -> dict[tuple[int, str], list[Quantity | None]]:
    """Water added by visit and tub; None where it was not measured."""
    poured: dict[tuple[int, str], list[Quantity | None]] = {}
    filled: set[str] = set()
    for event in case.run.rows.of(Deed.WATER, Deed.CHANGE):
        volume = _poured(case, event, first=event.tub not in filled)
        filled.add(event.tub)
        poured.setdefault((event.entry, event.tub), []).append(volume)
    return poured


def _litres(amounts: list[Quantity | None]) -> float | None:
    """All of it [L]; None where some of it was not measured, or nothing was added."""
    if not amounts:
        return None
    known = [a for a in amounts if a is not None and a.single]
    return fsum([a.low for a in known]) / 1000 if len(known) == len(amounts) else None
