"""Readings that cannot be, and readings that are unusual.

In: a case, and the published bands. Out: findings about readings, lamp hours, picks and water. An impossible
value is an error; an unusual one asks for a second look, and what is unusual for the crop is said once a tub.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import fsum

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Addition, Deed, Reading, Trouble, Watering, Which
from sitegen.core.reference.reading_ranges import PHYSICAL, USUAL, WEAK_FEED_DAYS, ReadingRange, solution_of
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, unit_named
from sitegen.judge.case import Case, Value
from sitegen.judge.words import amount, number, on_day, quoted, span

# Units that a bare number is most often meant in, where it cannot be the one that was written.
_MISTAKEN = {"ec": "µS/cm", "air_temperature": "°F", "water_temperature": "°F"}

# Meters and sources differ by more than a tenth: an EC so near its band is at the edge of it.
# Common practice, no source.
_EDGE = 0.10


def _impossible(item: Value) -> ReadingRange | None:
    """The band of what can be, where any part of a value lies outside."""
    band = PHYSICAL.get(item.name)
    if band is None or not item.value.known or band.dimension is not item.value.dimension:
        return None
    top = item.value.low if item.value.high is None else item.value.high
    return band if item.value.low < band.low or top > band.high else None


def impossible_value(case: Case) -> Iterator[Finding]:
    """No value lies outside what can be."""
    for item in case.values:
        band = _impossible(item)
        if band is None:
            continue
        expected = span(band.low, band.high, item.value)
        yield Finding(
            "impossible-value",
            item.source,
            f"{item.said} cannot be: it lies between {_and(expected)}",
            _mend(item),
            amount(item.value),
            expected,
        )


def _mend(item: Value) -> str:
    """The unit that was meant, where the bare number is usual in it; else to check."""
    name = _MISTAKEN.get(item.name, "")
    unit = unit_named(name, item.value.dimension)
    band = USUAL.get(item.name)
    written = round(item.value.low, 2)
    if unit is None or band is None or abs(written - item.value.low) > 1e-9:
        return "check the number and its unit"
    fits = band.low <= unit.to_canonical(written) <= band.high
    return (
        f"write `{number(written)} {name}`, or check the number" if fits else "check the number and its unit"
    )


def _and(expected: str) -> str:
    """`-20-60 °C` as `-20 and 60 °C`."""
    low, _, high = expected.rpartition("-")
    return f"{low} and {high}"


def _outside(value: Quantity, low: float, high: float) -> str:
    """`below` or `above`, where all of a value lies outside; empty where any of it fits."""
    if value.high is not None and value.high < low:
        return "below"
    return "above" if value.low > high else ""


def unusual_value(case: Case) -> Iterator[Finding]:
    """No value lies outside what is usual with any crop."""
    for item in case.values:
        side = _usual_side(item)
        if not side:
            continue
        band = USUAL[item.name]
        expected = span(band.low, band.high, item.value)
        yield Finding(
            "unusual-value",
            item.source,
            f"{item.said} is {side} what is usual, {expected}",
            "check the number and its unit",
            amount(item.value),
            expected,
        )


def _usual_side(item: Value) -> str:
    """On which side a value that can be lies outside what is usual."""
    band = USUAL.get(item.name)
    if band is None or not item.value.known or band.dimension is not item.value.dimension:
        return ""
    if _impossible(item) is not None:
        return ""
    side = _outside(item.value, band.low, band.high)
    return "" if side == "below" and _weak_feed(item) else side


def _weak_feed(item: Value) -> bool:
    return item.name == "ec" and item.day.first < WEAK_FEED_DAYS


def unusual_for_crop(case: Case) -> Iterator[Finding]:
    """EC and pH lie in the band of the crop; said at a tub's first such reading, with how many follow.

    What was adjusted away is not said: of `7.1, then 5.9` only the second counts.
    """
    row = solution_of(case.run.setup.crop)
    if row is None:
        return
    bands = {"ec": row.usual_ec, "ph": row.usual_ph}
    outside: dict[tuple[str, str, str], list[Value]] = {}
    for item in case.values:
        if item.name not in bands or item.before_adjusting or _usual_side(item) or _impossible(item):
            continue
        low, high = bands[item.name]
        edge = _EDGE if item.name == "ec" else 0.0
        side = _outside(item.value, low * (1 - edge), high * (1 + edge))
        if side and not (side == "below" and _weak_feed(item)):
            outside.setdefault((item.name, item.tub, side), []).append(item)
    for (name, _, side), items in outside.items():
        yield _for_crop(items, side, span(*bands[name], items[0].value), case.run.setup.crop.name)


def _for_crop(items: list[Value], side: str, expected: str, crop: str) -> Finding:
    first, more = items[0], len(items) - 1
    again = f" (so {'are' if more > 1 else 'is'} {plural(more, 'later reading')})" if more else ""
    return Finding(
        "unusual-value",
        first.source,
        f"{first.said} is {side} what is usual for {crop.lower()}, {expected}{again}",
        "check the number; sources disagree, so it may well be right",
        amount(first.value),
        expected,
    )


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
    lasting = [e for e in rows.of(Trouble) if e.until and _may_be(plant, e.which)]
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
    for feed in case.run.rows.of(Addition):
        if feed.deed is not Deed.FEED:
            continue
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


def _share_of_label(feed: Addition, label: Quantity | None, water: list[Quantity | None]) -> float | None:
    """A dose as a share of the label's; None where it cannot be said."""
    given = feed.amount
    if label is None or given is None or not given.single or label.high is None or label.middle <= 0:
        return None
    if given.dimension is label.dimension:
        return given.middle / label.middle
    if _DOSES.get(label.dimension) is not given.dimension or not (litres := _litres(water)):
        return None
    return given.middle / (litres * label.middle)


def _poured(case: Case, event: Watering, *, first: bool) -> Quantity | None:
    """What was added; a tub that was empty is filled with what its system holds."""
    if event.amount is None and event.filled and (first or event.deed is Deed.CHANGE):
        return next((t.system.reservoir for t in case.run.setup.tubs if t.id == event.tub), None)
    return event.amount


def _water_added(case: Case) -> dict[tuple[int, str], list[Quantity | None]]:
    """Water added by visit and tub; None where it was not measured."""
    poured: dict[tuple[int, str], list[Quantity | None]] = {}
    filled: set[str] = set()
    for event in case.run.rows.of(Watering):
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
