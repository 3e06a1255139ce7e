"""Values outside the ranges of possible and of usual values.

In: the context of a run, the published ranges. Out: findings about readings, lamp hours, picks and water: an error for
an impossible value, a warning for an unusual one. A value unusual for the crop alone is reported once per tub.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import plural
from sitegen.core.reference.reading_ranges import PHYSICAL, USUAL, WEAK_FEED_DAYS, ReadingRange, solution_of
from sitegen.core.values.quantity import rounded
from sitegen.core.values.units import unit_named
from sitegen.judge.context import Context
from sitegen.judge.readings.values import Value, recorded_values
from sitegen.judge.wording import amount, number, span

# The unit most often meant by a bare number that is impossible in the unit written.
_MISTAKEN = {"ec": "µS/cm", "air_temperature": "°F", "water_temperature": "°F"}

# Meters and sources differ by more than a tenth: an EC so near the range of its crop is at the edge of it.
# Common practice, no source.
_EDGE = 0.10
_CHECK = "check the number and its unit"


def _range_in(ranges: Mapping[str, ReadingRange], item: Value) -> ReadingRange | None:
    """The range of a value; None where there is none, or one of another dimension."""
    found = ranges.get(item.name)
    return found if found and found.dimension is item.value.dimension else None


def _impossible(item: Value) -> ReadingRange | None:
    """The range of possible values, where any part of a value lies outside."""
    possible = _range_in(PHYSICAL, item)
    low, high = item.value.low, item.value.high
    if possible and (low < possible.low or (low if high is None else high) > possible.high):
        return possible
    return None


def impossible_value(context: Context) -> Iterator[Finding]:
    """No value lies outside the range of possible values."""
    for item in context.once(recorded_values):
        possible = _impossible(item)
        if possible is None:
            continue
        low, high = possible.low, possible.high
        message = f"{item.description} cannot be: it lies between {span(low, high, item.value, ' and ')}"
        expected = span(low, high, item.value)
        yield Finding("impossible-value", item.source, message, _mend(item), amount(item.value), expected)


def _mend(item: Value) -> str:
    """The unit that was meant, where the bare number is usual in it."""
    name = _MISTAKEN.get(item.name, "")
    unit = unit_named(name, item.value.dimension)
    written = round(item.value.low, 2)
    if unit is None or abs(written - item.value.low) > 1e-9:
        return _CHECK
    usual = USUAL.get(item.name)
    if usual is None or not usual.low <= unit.to_canonical(written) <= usual.high:
        return _CHECK
    return f"write `{number(written)} {name}`, or check the number"


def unusual_value(context: Context) -> Iterator[Finding]:
    """No value lies outside the range that is usual with any crop."""
    for item in context.once(recorded_values):
        side = _usual_side(item)
        if not side or _impossible(item):
            continue
        expected = span(USUAL[item.name].low, USUAL[item.name].high, item.value)
        message = f"{item.description} is {side} what is usual, {expected}"
        yield Finding("unusual-value", item.source, message, _CHECK, amount(item.value), expected)


def _usual_side(item: Value) -> str:
    """The side on which a value lies outside the usual range."""
    usual = _range_in(USUAL, item)
    return _side(item, usual.low, usual.high) if usual else ""


def _side(item: Value, low: float, high: float) -> str:
    """`below` or `above` where all of a value lies outside a range, else empty.

    A low EC of the first weeks is plain water or a weak feed, and not outside.
    """
    weak_feed = item.name == "ec" and item.day.first < WEAK_FEED_DAYS
    if item.value.high is not None and item.value.high < low and not weak_feed:
        return "below"
    return "above" if item.value.low > high else ""


def unusual_for_crop(context: Context) -> Iterator[Finding]:
    """EC and pH lie in the range of the crop; reported at a tub's first such reading, with the number that follow.

    A value that was adjusted at once does not count: of `7.1, then 5.9` only the second does.
    """
    crop = context.run.setup.crop
    solution = solution_of(crop)
    if solution is None:
        return
    usual = {"ec": solution.usual_ec, "ph": solution.usual_ph}
    edges = {"ec": _EDGE, "ph": 0.0}
    outside: dict[tuple[str, str, str], list[Value]] = {}
    for item in context.once(recorded_values):
        if item.name not in usual or item.before_adjusting or _usual_side(item) or _impossible(item):
            continue
        (low, high), edge = usual[item.name], edges[item.name]
        # Rounded: 0.72 must not miss a bound of 0.8 less a tenth by the last digit of a float.
        side = _side(item, rounded(low * (1 - edge)), rounded(high * (1 + edge)))
        if side:
            outside.setdefault((item.name, item.tub, side), []).append(item)
    for (name, _, side), (first, *more) in outside.items():
        expected = span(*usual[name], first.value)
        verb = "are" if len(more) > 1 else "is"
        again = f" (so {verb} {plural(len(more), 'later reading')})" if more else ""
        message = f"{first.description} is {side} what is usual for {crop.name.lower()}, {expected}{again}"
        mend = "check the number; sources disagree, so it may well be right"
        yield Finding("unusual-value", first.source, message, mend, amount(first.value), expected)
