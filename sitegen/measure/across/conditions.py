"""The circumstances of a run: what else could explain a gap between two runs.

In: the facts of a run. Out: `Condition`s, one for each circumstance that its records tell.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from sitegen.core.facts.across import Condition
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity, counted, exactly, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.yields import ground
from sitegen.measure.ranges import reading_range

_YEAR = re.compile(r"(?:19|20)\d\d")


def conditions_of(facts: Facts) -> tuple[Condition, ...]:
    """Every circumstance that is known of a run."""
    return tuple(each for each in _conditions(facts) if each.value is not None or each.names)


def _conditions(facts: Facts) -> Iterator[Condition]:
    setup, rows = facts.run.setup, facts.run.rows
    lamps = [use.lamp.name for tub in setup.tubs if (use := tub.light) and use.lamp]
    feeds = (dose.label.name for tub in facts.solution.tubs for dose in tub.doses if dose.kind == "feed")
    yield Condition("variety", names=tuple(setup.variety_name(variety) for variety in setup.variety_ids))
    yield Condition("system", names=tuple(dict.fromkeys(tub.system.name for tub in setup.tubs)))
    yield Condition("month", counted(setup.start.date.month) if setup.start.date else None)
    yield Condition("lamp", names=tuple(dict.fromkeys(lamps)))
    yield Condition("hours", _value(facts.climate.light_hours))
    yield Condition("ppfd", reading_range([reading.value for reading in rows.read("ppfd")]))
    yield Condition("temperature", _value(facts.climate.air))
    yield Condition("feed", names=tuple(sorted(set(feeds))))
    yield Condition("ec", _together(tub.ec for tub in facts.solution.tubs))
    yield Condition("plants", counted(len(setup.plants)))
    yield Condition("density", _density(facts.run))
    yield Condition("seed_age", _seed_age(setup))


def _value(figure: Figure) -> Quantity | None:
    return figure.value if isinstance(figure.value, Quantity) else None


def _together(figures: Iterable[Figure]) -> Quantity | None:
    """From the lowest to the highest of several ranges."""
    return reading_range([figure.value for figure in figures if isinstance(figure.value, Quantity)])


def _density(run: Run) -> Quantity | None:
    """Plants for each square metre of ground under the tubs."""
    area = ground(run).amount
    if area is None:
        return None
    return propagate(
        lambda plants, metres: plants / metres,
        increasing=[counted(len(run.setup.plants))],
        decreasing=[area],
        dimension=Dimension.COUNT,
        step=1,
    )


def _seed_age(setup: Setup) -> Quantity | None:
    """Whole years from the year on the packet to that of sowing."""
    packed = _YEAR.search(setup.seed.packed) if setup.seed else None
    if packed is None or setup.start.date is None:
        return None
    years = setup.start.date.year - int(packed[0])
    return exactly(years, Dimension.COUNT, 1) if years >= 0 else None
