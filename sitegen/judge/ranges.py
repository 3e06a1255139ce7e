"""Values outside the ranges of possible and of usual values, and doses far from the label of the product.

In: the context of a run, the published ranges. Out: findings about readings, lamp hours, picks, water and feed: an
error for an impossible value, a warning for an unusual one. A value unusual for the crop alone is reported once per
tub. A dose is the amount by the water added at the same visit.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import fsum
from typing import NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Addition, Deed, Run, Watering, Which
from sitegen.core.reference.reading_ranges import PHYSICAL, USUAL, WEAK_FEED_DAYS, ReadingRange, solution_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, rounded
from sitegen.core.values.units import Dimension, unit_named
from sitegen.judge.context import Context, amount, number, on_day, span, whose

# Names whose form in a sentence is not the key of the format with spaces.
_WORDING = {
    "ph": "pH",
    "ec": "EC",
    "ppfd": "PPFD",
    "light": "daily light of",
    "distance": "lamp distance",
    "water": "water added",
    "pick": "a pick of",
}


class Value(NamedTuple):
    """One value; `before_adjusting` if it was corrected at the same visit."""

    name: str
    value: Quantity
    day: Day
    source: Source
    which: Which | None = None
    plants: tuple[str, ...] = ()
    tub: str = ""  # where there are several
    before_adjusting: bool = False

    @property
    def description(self) -> str:
        """The value as the beginning of a sentence: `EC 2.4 mS/cm on day 20`."""
        name = _WORDING.get(self.name, self.name.replace("_", " "))
        subject = whose(self.which, self.plants, self.tub)
        if subject:
            subject = f" {'from' if self.name == 'pick' else 'of'} {subject}"
        return f"{name} {amount(self.value)}{subject} {on_day(self.day)}"


def recorded_values(context: Context) -> tuple[Value, ...]:
    """Every reading, setting of a lamp, pick and amount of water of a run."""
    return tuple(_values(context.run))


def _values(run: Run) -> Iterator[Value]:
    several = len(run.setup.tubs) > 1
    for r in run.rows.readings:
        tub = r.tub if several else ""
        yield Value(r.name, r.value, r.day, r.source, r.which, r.plants, tub, r.moment == "before")
    yield from _lamps(run)
    for pick in run.rows.picks:
        yield Value("pick", pick.weight, pick.day, pick.source, pick.which)
    for event in run.rows.of(Watering):
        if event.amount is not None:
            yield Value("water", event.amount, event.day, event.source)


def _lamps(run: Run) -> Iterator[Value]:
    """Settings of lamps, each once: a row of lights repeats the settings that did not change."""
    before: dict[tuple[str, str], Quantity] = {}
    for light in run.rows.lights:
        settings = (("light", light.use.hours), ("distance", light.use.distance))
        for name, value in () if light.use.off else settings:
            if value is not None and before.get((light.tub, name)) != value:
                before[light.tub, name] = value
                yield Value(name, value, light.day, light.source)


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
        if item.value.dimension is Dimension.PPM:
            continue  # of an unknown scale: it cannot be compared
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


# The nominal volume of a reservoir is taken to its brim at times. Common practice, no source.
_OVERFULL = 1.1


def more_than_the_tub(context: Context) -> Iterator[Finding]:
    """No more water is added at once than the tub holds."""
    tubs = {tub.id: tub.system for tub in context.run.setup.tubs}
    for event in context.run.rows.of(Watering):
        system = tubs.get(event.tub)
        holds = system.reservoir if system is not None else None
        if system is None or holds is None or holds.high is None or event.amount is None:
            continue
        if event.amount.low <= holds.high * _OVERFULL:
            continue
        found, most = _in_litres(event.amount), _in_litres(holds)
        message = f"{found} of water {on_day(event.day)} is more than `{system.id}` holds, {most}"
        mend = "check the amount and its unit, or correct `reservoir` in gear.yaml"
        yield Finding("more-than-the-tub", event.source, message, mend, found, f"at most {most}")


def _in_litres(volume: Quantity) -> str:
    """A volume in the unit that it was written in, litres where that is metric."""
    text = amount(volume)
    return f"{number(volume.low / 1000)} L" if text.endswith(" ml") and volume.low >= 1000 else text


# Half and double doses are chosen; outside these shares of the label a unit or a decimal point may be wrong. Common
# practice, no source.
_LEAST, _MOST = 0.2, 2.5
_DOSES = {Dimension.VOLUME_DOSE: Dimension.VOLUME, Dimension.MASS_DOSE: Dimension.MASS}


def dose_unlike_label(context: Context) -> Iterator[Finding]:
    """A feed is near its label's dose for the water that was added with it."""
    labels = {product.id: product.dose for product in context.run.setup.products}
    water = _water_added(context)
    for feed in context.run.rows.of(Addition):
        label = labels.get(feed.product)
        if feed.deed is not Deed.FEED or label is None or feed.amount is None:
            continue
        share = _share_of_label(feed.amount, label, water.get((feed.entry, feed.tub), ()))
        if share is None or _LEAST <= share <= _MOST:
            continue
        message = (
            f"`{feed.product}` {on_day(feed.day)} is {number(share)} times the {amount(label)} of its label"
        )
        mend = "check the amount, its unit and the water added"
        yield Finding("dose-unlike-label", feed.source, message, mend, amount(feed.amount), amount(label))


def _share_of_label(given: Quantity, label: Quantity, water: Sequence[Quantity | None]) -> float | None:
    """A dose as a share of the label's; None where it is not known."""
    if not given.single or label.high is None or label.middle <= 0:
        return None
    if given.dimension is label.dimension:
        return given.middle / label.middle
    litres = _litres(water)
    if _DOSES.get(label.dimension) is not given.dimension or not litres:
        return None
    return given.middle / (litres * label.middle)


def _water_added(context: Context) -> Mapping[tuple[int, str], Sequence[Quantity | None]]:
    """The water added at each visit to each tub; None where it was not measured.

    A tub filled for the first time, or after a change, takes the whole reservoir of its system.
    """
    reservoirs = {tub.id: tub.system.reservoir for tub in context.run.setup.tubs}
    added: dict[tuple[int, str], list[Quantity | None]] = defaultdict(list)
    filled: set[str] = set()
    for event in context.run.rows.of(Watering):
        empty = event.filled and (event.tub not in filled or event.deed is Deed.CHANGE)
        whole = event.amount is None and empty
        added[event.entry, event.tub].append(reservoirs.get(event.tub) if whole else event.amount)
        filled.add(event.tub)
    return added


def _litres(amounts: Sequence[Quantity | None]) -> float:
    """The sum of some amounts of water [L]; 0 where any of them was not measured."""
    measured = [part.low for part in amounts if part is not None and part.single]
    return fsum(measured) / 1000 if len(measured) == len(amounts) else 0.0
