"""What was recorded, flat: every day, and every value with whose it is.

In: a run. Out: `Dated` and `Value`, for the rules that go through all of them. Nothing here makes findings.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from sitegen.core.day import Day
from sitegen.core.finding import Source
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Deed, Run, Which
from sitegen.judge.words import amount, on_day, whose

__all__ = ["Dated", "Value", "days_of", "last_date", "values_of"]

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
    for event in run.rows.of(Deed.WATER, Deed.CHANGE):
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
