"""The circumstances of a run: what else could explain a gap between two runs.

In: the facts of a run. Out: `Condition`s, one for each circumstance that its records tell. What was read many times, air
and EC, is the median of its readings (of days, where a sensor wrote): a range of months would differ from no other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from statistics import median

from sitegen.core.facts.across import Condition
from sitegen.core.facts.figure import Figure, Rate
from sitegen.core.facts.tree import Facts, PlotPoint, TubFacts
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity, counted, exactly, propagate, total
from sitegen.core.values.units import Dimension
from sitegen.measure.across.evidence import hull
from sitegen.measure.harvest.yields import ground
from sitegen.measure.ranges import reading_range

_YEAR = re.compile(r"\b(?:19|20)\d\d\b")
_MICROMOLES_A_MOLE, _SECONDS_AN_HOUR = 1e6, 3600.0


def conditions_of(facts: Facts) -> tuple[Condition, ...]:
    """Every circumstance that is known of a run."""
    return tuple(each for each in _conditions(facts) if each.value is not None or each.names)


def _conditions(facts: Facts) -> Iterator[Condition]:
    setup, climate = facts.run.setup, facts.climate
    uses = [tub.light for tub in setup.tubs if tub.light]
    yield Condition("variety", names=tuple(setup.variety_name(variety) for variety in setup.variety_ids))
    yield Condition("system", names=tuple(dict.fromkeys(tub.system.name for tub in setup.tubs)))
    yield Condition("month", counted(setup.start.date.month) if setup.start.date else None)
    yield Condition("lamp", names=tuple(dict.fromkeys(use.lamp.name for use in uses if use.lamp)))
    hours = _quantity(climate.light_hours)
    yield Condition("hours", hours)
    read = reading_range([reading.value for reading in facts.run.rows.read("ppfd")])
    yield Condition("ppfd", read or _flux([tub.mean_dli for tub in climate.tubs], hours))
    days = [day.mean for day in climate.air_daily if day.whole]
    air = days or _read(point for point in climate.readings if point.at == "air_temperature")
    yield Condition("temperature", _median(air, Dimension.TEMPERATURE))
    yield _feed(facts.solution.tubs)
    yield Condition("ec", _median(_read(facts.solution.ec), Dimension.CONDUCTIVITY))
    yield Condition("density", _density(facts))
    yield Condition("plants", counted(len(setup.plants)))
    yield Condition("seed_age", _seed_age(setup))


def _quantity(figure: Figure) -> Quantity | None:
    value = figure.value.amount if isinstance(figure.value, Rate) else figure.value
    return value if isinstance(value, Quantity) and value.known else None


def _read(points: Iterable[PlotPoint]) -> list[float]:
    """Readings as numbers; one with no upper bound says too little."""
    return [point.value.middle for point in points if point.value.high is not None]


def _median(values: Sequence[float], dimension: Dimension) -> Quantity | None:
    """The median to a tenth: what thermometers and meters of a household resolve."""
    return exactly(round(median(values), 1), dimension, 0.1) if values else None


def _flux(sums: Iterable[Figure], hours: Quantity | None) -> Quantity | None:
    """The light at the plants while the lamp is on, of all tubs: their light of a day by the lamp hours."""
    known = [value for value in map(_quantity, sums) if value is not None]
    if not known or hours is None or hours.low <= 0:
        return None
    return propagate(
        lambda light, lit: light * _MICROMOLES_A_MOLE / (_SECONDS_AN_HOUR * lit),
        increasing=[hull(known)],
        decreasing=[hours],
        dimension=Dimension.PHOTON_FLUX,
        step=1,
    )


def _feed(tubs: Iterable[TubFacts]) -> Condition:
    """The feeds given; `value` is all of them together for a litre of water, where that is known of each tub."""
    fed = [[dose for dose in tub.doses if dose.kind == "feed"] for tub in tubs]
    names = tuple(dict.fromkeys(dose.label.name for doses in fed for dose in doses))
    sums = [_together([dose.per_litre for dose in doses]) for doses in fed if doses]
    known = [each for each in sums if each is not None]
    alike = len(known) == len(sums) and len({each.dimension for each in known}) == 1
    return Condition("feed", hull(known) if alike else None, names)


def _together(doses: Sequence[Figure]) -> Quantity | None:
    known = [value for value in map(_quantity, doses) if value is not None]
    dimensions = {value.dimension for value in known}
    return total(known, dimensions.pop()) if len(known) == len(doses) and len(dimensions) == 1 else None


def _density(facts: Facts) -> Quantity | None:
    """Plants for each square metre of the tubs."""
    area = ground(facts.run).amount
    if area is None or area.low <= 0:
        return None
    plants = counted(len(facts.run.setup.plants))
    return propagate(
        lambda number, square: number / square,
        increasing=[plants],
        decreasing=[area],
        dimension=Dimension.COUNT,
        step=0.1,
    )


def _seed_age(setup: Setup) -> Quantity | None:
    """Years from that on the packet to that of sowing."""
    packed = _YEAR.search(setup.seed.packed) if setup.seed else None
    if packed is None or setup.start.date is None or setup.start.date.year < int(packed[0]):
        return None
    return counted(setup.start.date.year - int(packed[0]))
