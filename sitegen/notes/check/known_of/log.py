"""A run as the builders of what is known ask it: its sets of plants, its key days, amounts as `Known`.

In: facts. Out: `Log`.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Arrival, Facts, MilestoneFacts
from sitegen.core.findings.source import Source
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.text import tub_words
from sitegen.core.records.arms import sets_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Pick, Rows, Which
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.check.claims import Kind
from sitegen.notes.check.known import Known

STEM = 6
_WORD = re.compile(r"[^\W\d_]{4,}")


@dataclass(frozen=True, slots=True)
class PlantSet:
    """Plants that are spoken of together: an arm, or one plant; `kind` and `key` are those of the facts."""

    label: str
    plants: frozenset[str]
    kind: str
    key: str


@dataclass(frozen=True)
class Log:
    """One run."""

    facts: Facts

    @classmethod
    def of(cls, facts: Facts) -> Log:
        """The log of a run."""
        return cls(facts)

    @property
    def setup(self) -> Setup:
        """The set-up."""
        return self.facts.run.setup

    @property
    def rows(self) -> Rows:
        """The log's rows."""
        return self.facts.run.rows

    @cached_property
    def roster(self) -> Roster:
        """Which plants stood when."""
        return Roster.of(self.setup, self.rows)

    @cached_property
    def every(self) -> frozenset[str]:
        """All plants."""
        return frozenset(self.setup.plant_ids)

    @cached_property
    def arms(self) -> tuple[PlantSet, ...]:
        """Groups, tubs and varieties; those with the same plants stay apart, as each has its own name."""
        singular = {"groups": "by_group", "tubs": "by_tub", "varieties": "by_variety"}
        found = []
        for kind, sets in sets_of(self.setup).items():
            for key, plants in sets.items():
                label = {"varieties": self.setup.variety_name(key), "tubs": tub_words(key)}.get(
                    kind, f"group {key}"
                )
                found.append(PlantSet(label, frozenset(plants), singular[kind], key))
        return tuple(found)

    @cached_property
    def distinct_arms(self) -> tuple[PlantSet, ...]:
        """Arms with different plants."""
        return tuple({arm.plants: arm for arm in reversed(self.arms)}.values())[::-1]

    @cached_property
    def sets(self) -> tuple[PlantSet, ...]:
        """Arms, then single plants where there are several."""
        single = (PlantSet(plant, frozenset({plant}), "by_plant", plant) for plant in self.setup.plant_ids)
        return (*self.arms, *(single if len(self.every) > 1 else ()))

    def who(self, plants: frozenset[str] | None) -> str:
        """The name of some plants; none for all of them."""
        if plants is None or plants == self.every or not plants:
            return ""
        named = next((each.label for each in self.sets if each.plants == plants), "")
        return named or ", ".join(plant for plant in self.setup.plant_ids if plant in plants)

    def plants_of(self, which: Which | None, tub: str = "") -> frozenset[str] | None:
        """The plants of a record; those of its tub where it names none, None where it is of all or says nothing."""
        if which is not None and which.ids:
            plants = frozenset(which.ids) & self.every
            return None if plants == self.every else plants
        return self.in_tub(tub) if tub else None

    def in_tub(self, tub: str) -> frozenset[str] | None:
        """The plants that a tub began with, by which it is spoken of; None where it is the only one."""
        if len(self.setup.tubs) < 2:
            return None
        return frozenset(plant.id for plant in self.setup.plants if plant.tub == tub)

    def place(self, which: Which | None, tub: str) -> dict[str, Any]:
        """The plants of a record and their name: that of a tub where it is of one."""
        plants = self.plants_of(which, tub)
        named = which is not None and bool(which.ids)
        return {"plants": plants, "who": tub_words(tub) if plants and tub and not named else self.who(plants)}

    @cached_property
    def transplanted(self) -> Day | None:
        """The first day on which plants were moved into their tubs."""
        return min((event.day for event in self.rows.of(Deed.TRANSPLANT)), default=None)

    @cached_property
    def sown(self) -> Day | None:
        """The first day on which seed was sown."""
        return min((event.day for event in self.rows.of(Deed.SOW)), default=None)

    def arrivals(self, stage: MilestoneFacts, plants: frozenset[str]) -> tuple[Arrival, ...]:
        """When each of some plants reached a stage."""
        return tuple(each for each in stage.arrivals if each.plant in plants)

    def from_to(self, sources: Iterable[Source]) -> str:
        """The first and the last day of some lines of the log, as the end of a sentence."""
        lines = sorted((entry.source.line, entry.day) for entry in self.rows.entries)
        places = [bisect_right([line for line, _ in lines], each.line) - 1 for each in sources]
        days = sorted({lines[place][1] for place in places if place >= 0})
        return f" from day {days[0]} to day {days[-1]}" if len(days) > 1 else ""

    def members(self, arm: PlantSet, day: int) -> frozenset[str]:
        """The plants of an arm that had not been moved to another tub by a day: from there they count for none."""
        if arm.kind not in ("by_group", "by_tub"):
            return arm.plants
        moved = {plant: self.roster.moved_on(plant) for plant in arm.plants}
        return frozenset(plant for plant, event in moved.items() if event is None or event.day.first > day)

    def picks_of(self, plants: frozenset[str]) -> tuple[Pick, ...]:
        """The picks that came of some plants alone."""
        return tuple(pick for pick in self.rows.picks if pick.which.ids and plants >= set(pick.which.ids))

    def pick_days(self) -> Iterator[tuple[Day, list[Pick]]]:
        """Picks by day."""
        by_day: dict[Day, list[Pick]] = {}
        for pick in self.rows.picks:
            by_day.setdefault(pick.day, []).append(pick)
        yield from sorted(by_day.items(), key=lambda each: each[0].key)


def topics(*names: str) -> frozenset[str]:
    """Topics."""
    return frozenset(names)


def stems(text: str) -> frozenset[str]:
    """The words of a text as they are compared."""
    return frozenset(word.lower()[:STEM] for word in _WORD.findall(text))


def amount(value: Quantity, what: str, about: Iterable[str], **more: Any) -> Known | None:
    """A quantity as it is known; None where nothing is known of its size."""
    if not value.known or (value.low == 0 and value.high is None):
        return None
    return Known(Kind.AMOUNT, value.low, value.high, what, frozenset(about), value.dimension, value, **more)


def of_figure(figure: Figure, what: str, about: Iterable[str], **more: Any) -> Known | None:
    """The quantity of a figure; the remarks say why it is a lower bound."""
    value = figure.value
    if not isinstance(value, Quantity):
        return None
    bound = value.high is None or value.low != value.high
    least = remarks_words(figure.remarks) if bound else ""
    return amount(value, what, about, sources=figure.rows, least=least, **more)


def on_day(day: Day, what: str, about: Iterable[str], **more: Any) -> Known:
    """A day on which something was done or seen."""
    return Known(Kind.DAY, day.first, day.last, what, frozenset(about), None, day, day, **more)


def count(number: float, what: str, about: Iterable[str], noun: str, **more: Any) -> Known:
    """A number of things."""
    return Known(Kind.COUNT, number, number, what, frozenset(about), noun=noun, **more)
