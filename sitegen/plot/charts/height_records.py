"""Heights as they were written down, and the days on which plants stopped rising.

In: heights and plateaus among the facts. Out: `HeightRecord`, one for each value that was written, be it for one plant,
for several at once, or for plants that nobody told apart; and `Plateau`. Where plants stand still is for `measure` to
say.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.grouping import grouped
from sitegen.core.language.catalogue import tr
from sitegen.core.records.roster import Roster
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.plot.subject_names import plants_of, plants_text


@dataclass(frozen=True, slots=True)
class HeightRecord:
    """One recorded value: its plants, their name in words, its upper end, and the tub where all are in one."""

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


@dataclass(frozen=True, slots=True)
class Plateau:
    """The day from which some plants rose no more, with their heights on it."""

    day: Day
    records: tuple[HeightRecord, ...]
    plants: tuple[str, ...]
    words: str


def height_records(facts: Facts) -> list[HeightRecord]:
    """Points that come from one place in the log with one value are one record."""
    together = grouped(facts.growth.heights, lambda p: (p.day, p.source, p.value, p.at))
    return sorted((_record(points, facts) for points in together.values()), key=lambda r: r.day.middle)


def _record(points: Sequence[PlotPoint], facts: Facts) -> HeightRecord:
    first, setup = points[0], facts.run.setup
    plants = tuple(plant for point in points for plant in plants_of(point.subject, setup))
    roster = Roster.of(setup, facts.run.rows)
    tubs = {roster.tub_of(plant, first.day.first) for plant in plants}
    tub = tubs.pop() if len(tubs) == 1 else ""
    words = plants_text(plants, setup) or first.subject or tr("some plants")
    return HeightRecord(first.day, first.value, plants, words, first.at, tub)


def plateaus(facts: Facts, known: Sequence[HeightRecord]) -> list[Plateau]:
    """Where plants stopped rising, those of one day together; of these some may share a record."""
    setup = facts.run.setup
    stopped: dict[Day, list[str]] = defaultdict(list)
    for plateau in facts.growth.rate.height.plateau:
        if isinstance(plateau.figure.value, Day):
            stopped[plateau.figure.value].append(plateau.key)
    found = []
    for day, keys in sorted(stopped.items()):
        plants = tuple(plant for plant in setup.plant_ids if plant in keys)
        records = (record for key in keys for record in known if record.day == day and key in record.plants)
        found.append(Plateau(day, tuple(dict.fromkeys(records)), plants, plants_text(plants, setup)))
    return [plateau for plateau in found if plateau.records]
