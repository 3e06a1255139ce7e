"""The argument of every rule: a run, today's date, and look-ups that several rules share.

In: a run, today's date. Out: `Context`, and `Rule`, the type of a rule. Makes no findings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any, TypeVar

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Run, Sowing, Which
from sitegen.core.values.day import Day

_Result = TypeVar("_Result")


@dataclass(frozen=True, slots=True)
class Context:
    """One run while its rules are applied."""

    run: Run
    today: date
    roster: Roster
    _results: dict[Callable[[Context], Any], Any] = field(default_factory=dict, repr=False, compare=False)

    @classmethod
    def of(cls, run: Run, today: date) -> Context:
        """The context of a run."""
        return cls(run, today, Roster.of(run.setup, run.rows))

    def once(self, function: Callable[[Context], _Result]) -> _Result:
        """The result of a function of the context, computed once for all rules."""
        if function not in self._results:
            self._results[function] = function(self)
        result: _Result = self._results[function]
        return result

    @property
    def log_source(self) -> Source:
        """The place of the key `log`, or of the whole file where there is none."""
        return self.run.setup.at("log")

    def sowings(self, plant: str) -> tuple[Sowing, ...]:
        """Every sowing in a plant's spot; a sowing that names no plants is in every spot."""
        return tuple(event for event in self.run.rows.of(Sowing) if plant in self.about(event.which))

    def about(self, which: Which | None) -> tuple[str, ...]:
        """The plants that a record can be about: all of them, where it names none."""
        return which.ids if which and which.named else self.run.setup.plant_ids

    def meant(self, which: Which | None) -> tuple[str, ...]:
        """The plants of a selection including those lost since the start: of `all`, of a group, else those named."""
        if which is None or which.word == "all":
            return self.run.setup.plant_ids
        members = dict(self.run.setup.groups).get(which.word)
        return members if members is not None else self.about(which)

    def resown(self, plants: Iterable[str], after: Day, until: Day) -> tuple[str, ...]:
        """The plants that were sown again after one day and not later than another."""
        return tuple(
            plant
            for plant in plants
            if any(after.first < s.day.last and s.day.first <= until.last for s in self.sowings(plant))
        )

    def standing(self, day: int) -> int:
        """The number of plants that stand on a day; a plant sown again after its loss stands again."""
        if not self.run.rows.of(Deed.LOST):  # most runs, for which the roster need not be searched
            return len(self.run.setup.plants)
        return self.roster.count(day)


Rule = Callable[[Context], Iterator[Finding]]


def explicit(which: Which | None) -> tuple[str, ...]:
    """The plants that a record names one by one: a group or `all` does not say that each of them stands."""
    if which is None or (which.word and which.word not in which.ids):
        return ()
    return which.ids
