"""Every value of a run that is compared with a range.

In: the context of a run. Out: `Value`s: readings, settings of lamps, picks and water, each with its place.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Run, Watering, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.judge.context import Context
from sitegen.judge.wording import amount, on_day, whose

# Names whose form in a sentence is not the key of the format with spaces.
_WORDING = {
    "ph": "pH",
    "ec": "EC",
    "light": "daily light of",
    "distance": "lamp distance",
    "water": "water added",
    "pick": "a pick of",
}


class Value(NamedTuple):
    """One value; `before_adjusting` if it was corrected at the same visit."""

    name: str
    value: Quantity
    day: Day
    source: Source
    which: Which | None = None
    plants: tuple[str, ...] = ()
    tub: str = ""  # where there are several
    before_adjusting: bool = False

    @property
    def description(self) -> str:
        """The value as the beginning of a sentence: `EC 2.4 mS/cm on day 20`."""
        name = _WORDING.get(self.name, self.name.replace("_", " "))
        subject = whose(self.which, self.plants, self.tub)
        if subject:
            subject = f" {'from' if self.name == 'pick' else 'of'} {subject}"
        return f"{name} {amount(self.value)}{subject} {on_day(self.day)}"


def recorded_values(context: Context) -> tuple[Value, ...]:
    """Every reading, setting of a lamp, pick and amount of water of a run."""
    return tuple(_values(context.run))


def _values(run: Run) -> Iterator[Value]:
    several = len(run.setup.tubs) > 1
    for r in run.rows.readings:
        tub = r.tub if several else ""
        yield Value(r.name, r.value, r.day, r.source, r.which, r.plants, tub, r.moment == "before")
    yield from _lamps(run)
    for pick in run.rows.picks:
        yield Value("pick", pick.weight, pick.day, pick.source, pick.which)
    for event in run.rows.of(Watering):
        if event.amount is not None:
            yield Value("water", event.amount, event.day, event.source)


def _lamps(run: Run) -> Iterator[Value]:
    """Settings of lamps, each once: a row of lights repeats the settings that did not change."""
    before: dict[tuple[str, str], Quantity] = {}
    for light in run.rows.lights:
        settings = (("light", light.use.hours), ("distance", light.use.distance))
        for name, value in () if light.use.off else settings:
            if value is not None and before.get((light.tub, name)) != value:
                before[light.tub, name] = value
                yield Value(name, value, light.day, light.source)
