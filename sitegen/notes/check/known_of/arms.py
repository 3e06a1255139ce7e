"""How arms compare: lamps' power and current, water, heights, harvests, as ratios.

In: a log. Out: `Known`s of comparisons, the first arm against the second.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from sitegen.core.facts.figure import Figure
from sitegen.core.values.quantity import Quantity
from sitegen.notes.check.claims import TWO_SIDES, Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, PlantSet


def known_of_arms(log: Log) -> tuple[Known, ...]:
    """All of it, each pair in both directions."""
    found: list[Known] = []
    for one, other in permutations(log.distinct_arms, 2):
        if not one.plants & other.plants:
            found += _pair(log, one, other)
    return tuple(found)


def _pair(log: Log, one: PlantSet, other: PlantSet) -> Iterator[Known]:
    values = (
        ("power", {"power", "energy", "light"}, _power),
        ("harvest", {"harvest"}, _harvest),
        ("water", {"water"}, _water),
        ("height", {"height"}, _height),
    )
    for what, about, value_of in values:
        mine, theirs = value_of(log, one), value_of(log, other)
        if mine is None or theirs is None or mine.low <= 0 or theirs.low <= 0:
            continue
        ratio = mine.low / theirs.low
        bounded = mine.high == mine.low and theirs.high == theirs.low
        yield Known(
            Kind.MORE,
            ratio,
            ratio,
            f"{what}, {one.label} against {other.label}: {_short(mine)} against {_short(theirs)},",
            frozenset(about | {TWO_SIDES}),
            plants=one.plants,
            other=other.plants,
            constant=True,
            least="" if bounded else "not all of it was weighed by plant",
        )


def _short(value: Quantity) -> str:
    least = "at least " if value.high is None or value.high != value.low else ""
    return f"{least}{value.low:g} {value.unit}"


def _power(log: Log, arm: PlantSet) -> Quantity | None:
    """The power of the lamp over the tub that an arm began in."""
    tubs = {plant.tub for plant in log.setup.plants if plant.id in arm.plants}
    if len(tubs) != 1:
        return None
    tub = log.setup.tub(next(iter(tubs)))
    uses = [tub.light, *(light.use for light in log.rows.lights if light.tub in ("", tub.id))]
    lamps = [use.lamp for use in uses if use is not None and use.lamp is not None]
    return lamps[0].power if lamps else None


def _quantity(figure: Figure | None) -> Quantity | None:
    return figure.value if figure is not None and isinstance(figure.value, Quantity) else None


def _harvest(log: Log, arm: PlantSet) -> Quantity | None:
    rows = getattr(log.facts.harvest, arm.kind)
    return _quantity(next((row.figure for row in rows if row.key == arm.key), None))


def _water(log: Log, arm: PlantSet) -> Quantity | None:
    tubs = {plant.tub for plant in log.setup.plants if plant.id in arm.plants}
    whole = {plant.id for plant in log.setup.plants if plant.tub in tubs}
    if len(tubs) != 1 or whole != arm.plants:
        return None
    return _quantity(next((tub.water for tub in log.facts.solution.tubs if tub.key in tubs), None))


def _height(log: Log, arm: PlantSet) -> Quantity | None:
    """The tallest of an arm on the last day on which it was measured."""
    rows = [
        row
        for row in log.rows.read("height")
        if row.plants and arm.plants >= set(row.plants) and row.value.known
    ]
    last = max((row.day for row in rows), default=None)
    return max((row.value for row in rows if row.day == last), key=lambda value: value.low, default=None)
