"""What a rule is given, and what a rule is.

In: a run, today's date. Out: `Case`, `Rule`. Nothing here makes findings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any, NamedTuple, TypeVar

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Run, Sowing, Watering, Which
from sitegen.core.records.setup import Product
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.judge.words import amount, on_day, whose

_Made = TypeVar("_Made")


@dataclass(frozen=True)
class Case:
    """One run before its rules: the only thing a rule looks at. What several rules go through is made once."""

    run: Run
    today: date
    roster: Roster

    @classmethod
    def of(cls, run: Run, today: date) -> Case:
        """The case that a run makes."""
        return cls(run, today, Roster.of(run.setup, run.rows))

    @cached_property
    def _made(self) -> dict[Callable[[Case], Any], Any]:
        return {}

    def once(self, make: Callable[[Case], _Made]) -> _Made:
        """What several rules make of a case."""
        if make not in self._made:
            self._made[make] = make(self)
        made: _Made = self._made[make]
        return made

    @cached_property
    def days(self) -> tuple[Dated, ...]:
        """Every day recorded."""
        return tuple(days_of(self.run))

    @cached_property
    def values(self) -> tuple[Value, ...]:
        """Every value recorded."""
        return tuple(values_of(self.run))

    def product(self, product: str) -> Product | None:
        """A product of the journal."""
        return next((p for p in self.run.setup.products if p.id == product), None)

    @property
    def head(self) -> Source:
        """Where the log begins, or the head where there is none."""
        return self.run.setup.at("log")

    def sowings(self, plant: str) -> tuple[Sowing, ...]:
        """Every sowing in a plant's spot; one that names no plants is for all."""
        return tuple(event for event in self.run.rows.of(Sowing) if plant in self.about(event.which))

    def about(self, which: Which | None) -> tuple[str, ...]:
        """The plants that a record can be about: all of them, where it names none."""
        return which.ids if which and which.named else self.run.setup.plant_ids

    def meant(self, which: Which | None) -> tuple[str, ...]:
        """The plants behind a word since the start, those lost since included; else those named."""
        if which is None or which.word == "all":
            return self.run.setup.plant_ids
        members = dict(self.run.setup.groups).get(which.word)
        return members if members is not None else self.about(which)

    def resown(self, plants: Iterable[str], after: Day, until: Day) -> tuple[str, ...]:
        """Which plants were sown anew after a day and not later than another."""
        return tuple(
            plant
            for plant in plants
            if any(after.first < s.day.last and s.day.first <= until.last for s in self.sowings(plant))
        )

    def standing(self, day: int) -> int:
        """How many plants stand on a day; one sown anew after its loss stands again."""
        if not self.run.rows.of(Deed.LOST):
            return len(self.run.setup.plants)
        return self.roster.count(day)


@dataclass(frozen=True, slots=True)
class Rule:
    """A check under the name that tells it apart in the table of rules."""

    name: str
    check: Callable[[Case], Iterator[Finding]]


def explicit(which: Which | None) -> tuple[str, ...]:
    """The plants that a record names one by one: a group's name or `all` does not claim that each stands."""
    if which is None or (which.word and which.word not in which.ids):
        return ()
    return which.ids


# How a name of the format is said in a sentence; the others are their own words.
_SAID = {
    "ph": "pH",
    "ec": "EC",
    "light": "daily light of",
    "distance": "lamp distance",
    "water": "water added",
    "pick": "a pick of",
}


class Dated(NamedTuple):
    """A day that was written somewhere: an entry's, or a spreadsheet's row."""

    day: Day
    source: Source
    entry: int | None


def days_of(run: Run) -> Iterator[Dated]:
    """Every day recorded; a spreadsheet's row with several readings is said once."""
    for entry in run.rows.entries:
        yield Dated(entry.day, entry.source, entry.index)
    seen: set[tuple[str, int, Day]] = set()
    for reading in run.rows.readings:
        if reading.entry is not None:
            continue
        key = (reading.source.file, reading.source.line, reading.day)
        if key not in seen:
            seen.add(key)
            yield Dated(reading.day, reading.source, None)


def last_date(run: Run) -> date | None:
    """The last date that anything is recorded on; None where days have no dates."""
    days = [entry.day.first for entry in run.rows.entries]
    days += [reading.day.first for reading in run.rows.readings if reading.entry is None]
    return run.setup.start.date_of(max(days)) if days else None


class Value(NamedTuple):
    """One value to hold against a band."""

    name: str
    value: Quantity
    day: Day
    source: Source
    which: Which | None = None
    plants: tuple[str, ...] = ()
    tub: str = ""
    one_of_several: bool = False
    before_adjusting: bool = False

    @property
    def said(self) -> str:
        """The value as the beginning of a sentence: `EC 2.4 mS/cm`."""
        name = _SAID.get(self.name, self.name.replace("_", " "))
        subject = f" {'from' if self.name == 'pick' else 'of'} {self.subject}" if self.subject else ""
        return f"{name} {amount(self.value)}{subject} {on_day(self.day)}"

    @property
    def subject(self) -> str:
        """Whose it is; a tub is named only where there are several."""
        if self.plants or self.one_of_several or self.name == "pick":
            return whose(self.which, self.plants, self.tub if self.one_of_several else "")
        return ""


def values_of(run: Run) -> Iterator[Value]:
    """Every reading, setting of a lamp, pick and amount of water."""
    several = len(run.setup.tubs) > 1
    for r in run.rows.readings:
        yield Value(r.name, r.value, r.day, r.source, r.which, r.plants, r.tub, several, r.moment == "before")
    yield from _lamps(run)
    for pick in run.rows.picks:
        yield Value("pick", pick.weight, pick.day, pick.source, pick.which)
    for event in run.rows.of(Watering):
        if event.amount is not None:
            yield Value("water", event.amount, event.day, event.source, tub=event.tub)


def _lamps(run: Run) -> Iterator[Value]:
    """Lamp settings, each once: a row of lights repeats what it leaves as it was."""
    before: dict[tuple[str, str], Quantity] = {}
    for light in run.rows.lights:
        settings = (("light", light.use.hours), ("distance", light.use.distance))
        for name, value in () if light.use.off else settings:
            if value is not None and before.get((light.tub, name)) != value:
                before[light.tub, name] = value
                yield Value(name, value, light.day, light.source, tub=light.tub)
