"""The argument of every rule: a run, today's date, look-ups that several rules share, and the words of messages.

In: a run, today's date, values of rows. Out: `Context`; `Rule`, the type of a rule; days, plants and quantities as
short texts. A number has the unit that it was written in where that is a US unit, else the canonical unit of its
dimension. A range has the unit of the value that is compared with it. Makes no findings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any, TypeVar

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.language.display_units import display_value, measured_in
from sitegen.core.language.text import listed
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Run, Sowing, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import CANONICAL

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


def the_day(day: Day) -> str:
    """`day 44`, `days 33-38`, `about day 36`, `before day 40`."""
    if day.before:
        return f"before day {day.last + 1}"
    span_of_days = f"day {day.first}" if day.single else f"days {day.first}-{day.last}"
    return f"about {span_of_days}" if day.about else span_of_days


def on_day(day: Day) -> str:
    """`on day 44`, `on days 33-38`, `about day 36`."""
    return the_day(day) if day.about else f"on {the_day(day)}"


def quoted(names: Iterable[str]) -> str:
    """Names in backquotes, as a list: `P1`, `P2` and `P3`."""
    return listed([f"`{name}`" for name in names])


def whose(which: Which | None, plants: Iterable[str] = (), tub: str = "") -> str:
    """The subject of a record: plants, a group or a tub; empty where it names none."""
    if which is not None and which.word:
        return "all plants" if which.word == "all" else f"`{which.word}`"
    names = tuple(which.ids if which is not None and which.ids else plants)
    if names:
        return quoted(names)
    if which is not None:
        return f"`{which}`"
    return f"`{tub}`" if tub else ""


def number(value: float) -> str:
    """A number with three significant digits, whole from a thousand on."""
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.3g}"


def span(low: float, high: float, like: Quantity, between: str = "-") -> str:
    """A range in the unit of a value: `1.2-1.8 mS/cm`."""
    unit = CANONICAL[like.dimension]
    if _in_us_units(like):
        unit = display_value(Quantity(low, high, like.dimension), "us").unit
    least, most = number(unit.from_canonical(low)), number(unit.from_canonical(high))
    return f"{least}{between}{most} {unit.symbol}".rstrip()


def amount(quantity: Quantity) -> str:
    """A quantity with its flags: `about 9 cm`, `8-9 cm`, `at least 9 cm`, `not measured`."""
    if not quantity.known:
        return "not measured"
    low, high, unit = _numbers(quantity)
    text = low if high in {None, low} else f"{low}-{high}"
    flags = ("about " if quantity.about else "") + ("at least " if high is None else "")
    return f"{flags}{text} {unit}".rstrip()


def _numbers(quantity: Quantity) -> tuple[str, str | None, str]:
    """The bounds of a quantity and its unit, as written; ounces beside whole pounds belong to the unit."""
    if _in_us_units(quantity):
        shown = display_value(quantity, "us")
        ounces = "" if shown.ounces is None else f" {shown.ounces:f} oz"
        high = None if shown.high is None else f"{shown.high:f}"
        return f"{shown.low:f}", high, shown.unit.symbol + ounces
    high = None if quantity.high is None else number(quantity.high)
    return number(quantity.low), high, quantity.unit


def _in_us_units(quantity: Quantity) -> bool:
    """Whether a value can only have been written in US units."""
    return not measured_in(quantity, "metric") and measured_in(quantity, "us")
