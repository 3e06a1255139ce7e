"""Readings that cannot be, and readings that are unusual.

In: a case, and the published bands. Out: findings about readings, lamp hours, picks and water. An impossible
value is an error; an unusual one asks for a second look, and what is unusual for the crop is said once a tub.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.finding import Finding
from sitegen.core.quantity import Quantity
from sitegen.core.reference.bands import PHYSICAL, USUAL, WEAK_FEED_DAYS, Band, solution_of
from sitegen.core.text import plural
from sitegen.core.units import unit_named
from sitegen.judge.case import Case
from sitegen.judge.recorded import Value
from sitegen.judge.words import amount, number, span

__all__ = ["impossible_value", "unusual_for_crop", "unusual_value"]

# Units that a bare number is most often meant in, where it cannot be the one that was written.
_MISTAKEN = {"ec": "µS/cm", "air_temperature": "°F", "water_temperature": "°F"}

# Meters and sources differ by more than a tenth: an EC so near its band is at the edge of it.
# Common practice, no source.
_EDGE = 0.10


def _impossible(item: Value) -> Band | None:
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
