"""Heights as they were written down: for one plant, for several at once, or for plants that nobody told apart.

In: the heights among the facts. Out: `Seen`, one for each record. A value given for several plants is one record.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr
from sitegen.core.records.roster import Roster
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.plot.drawing import tables


@dataclass(frozen=True, slots=True)
class Seen:
    """One recorded value: for one plant, for several at once, or for plants that nobody told apart."""

    day: Day
    value: Quantity
    plants: tuple[str, ...]
    words: str
    at: str
    tub: str

    @property
    def alone(self) -> bool:
        """Whether it is one plant's."""
        return len(self.plants) == 1


def heights_seen(facts: Facts) -> list[Seen]:
    """Points that come from one place in the log with one value are one record."""
    together: dict[tuple[object, ...], list[PlotPoint]] = defaultdict(list)
    for point in facts.growth.heights:
        together[point.day, point.source, point.value, point.at].append(point)
    return sorted((_record(points, facts) for points in together.values()), key=lambda s: s.day.middle)


def _record(points: list[PlotPoint], facts: Facts) -> Seen:
    first = points[0]
    plants = tuple(plant for point in points for plant in tables.plants_named(point.subject, facts.run.setup))
    roster = Roster.of(facts.run.setup, facts.run.rows)
    tubs = {roster.tub_of(plant, first.day.first) for plant in plants}
    tub = tubs.pop() if len(tubs) == 1 else ""
    words = tables.plants_in_words(plants, facts.run.setup) or first.subject or tr("some plants")
    return Seen(first.day, first.value, plants, words, first.at, tub)
