"""What a rule is given, and what a rule is.

In: a run, today's date. Out: `Case`, `Rule`. Nothing here makes findings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any, TypeVar

from sitegen.core.day import Day
from sitegen.core.finding import Finding, Source
from sitegen.core.roster import Roster
from sitegen.core.rows import Deed, Event, Run, Which
from sitegen.core.setup import Product
from sitegen.judge.recorded import Dated, Value, days_of, values_of

__all__ = ["Case", "Rule", "explicit"]

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

    def sowings(self, plant: str) -> tuple[Event, ...]:
        """Every sowing in a plant's spot; one that names no plants is for all."""
        return tuple(event for event in self.run.rows.of(Deed.SOW) if plant in self.about(event.which))

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
