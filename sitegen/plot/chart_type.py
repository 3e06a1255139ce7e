"""What a chart is made from: its name, its layers, the function that fills them, and what that is given.

In: facts, the system of units shown first, a function that gives a quantity as text. Out: `ChartType` and `Layer`,
which the modules of `charts` declare; `ChartInput`, which knows the names of plants and tubs. A layer is plain data:
`definitions` makes Altair of it when specifications are compiled, and nothing here imports that.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import day_words, in_tub_words, listed
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import ABOUT, Day, Start
from sitegen.core.values.quantity import Quantity, spanning
from sitegen.plot.chart_data import ChartData
from sitegen.plot.scale import Units

FEWEST = 3  # days with a value that a chart has at least: two make no line; custom, no source
_EVERYONE = ("all", "each", "every plant")
_MOST_NAMED = 3


def visit_text(read: PlotPoint) -> str:
    """The day of a reading, and whether it was taken before or after something was done."""
    return f"{day_words(read.day)} ({tr(read.moment)})" if read.moment else day_words(read.day)


def plants_of(subject: str, setup: Setup) -> tuple[str, ...]:
    """The plants that a subject means; none where only their number is known."""
    if subject in setup.plant_ids:
        return (subject,)
    if subject in dict(setup.groups):
        return setup.members(subject)
    return setup.plant_ids if subject in _EVERYONE else ()


def plants_text(plants: tuple[str, ...], setup: Setup) -> str:
    """The shortest true name of a set of plants: `all 6`, a group's name, `P1, P3`, `4 plants`."""
    if len(plants) > 1 and set(plants) == set(setup.plant_ids):
        return tr_n("all {n}", "all {n}", len(plants))
    group = next((name for name, members in setup.groups if set(members) == set(plants)), "")
    if group and len(plants) > 1:
        return group
    return ", ".join(plants) if len(plants) <= _MOST_NAMED else tr_n("{n} plant", "{n} plants", len(plants))


def too_few(days: Iterable[Day]) -> bool:
    """Whether values of these days are too few for a chart."""
    return len(set(days)) < FEWEST


def as_sentence(what: str, texts: Iterable[str]) -> str:
    """What is told instead of drawn, led by its name, as a heading would name a drawing."""
    return f"{what}: {' '.join(filter(None, texts))}"


def last_day_of(facts: Facts) -> Day:
    """The day of the last entry, which may be uncertain."""
    day = facts.last_entry.value
    return day if isinstance(day, Day) and day.last == facts.axis.last else Day.on(facts.axis.last)


def days_note(days: Iterable[Day]) -> str:
    """A sentence on how uncertain days are drawn; empty where each is certain."""
    uncertain = [day for day in days if not day.exact]
    if any(day.about for day in uncertain):
        return tr(
            "A flat bar: the day is not certain; for “about” a day it reaches {n} days to both sides.",
            n=ABOUT,
        )
    return tr("A flat bar: the day is not certain.") if uncertain else ""


QuantityText = Callable[[Quantity], str]


@dataclass(frozen=True, slots=True)
class ChartInput:
    """The facts of an experiment, the units shown first, and the functions that give a quantity in words.

    `say` is for what was recorded and for tables; `sentence`, else the same, for sums and rates in sentences.
    """

    facts: Facts
    units: Units
    say: QuantityText
    sentence: QuantityText | None = None

    def in_sentence(self, value: Quantity) -> str:
        """A computed quantity in the sentences under a chart, as other sentences of the page say it."""
        return (self.sentence or self.say)(value)

    @property
    def tubs(self) -> tuple[str, ...]:
        """The ids of the experiment's tubs, in the order declared."""
        return tuple(tub.id for tub in self.facts.run.setup.tubs)

    @property
    def last_day(self) -> float:
        """The day of the last entry, at the latest."""
        return float(self.facts.axis.last)

    @property
    def end(self) -> Day:
        """The day of the last entry."""
        return last_day_of(self.facts)

    def tub_label(self, tub: str) -> str:
        """A tub's name for a reader."""
        return next((t.label for t in self.facts.solution.tubs if t.key == tub), tub)

    def read_on_one_day(self, what: str, points: Sequence[PlotPoint]) -> str:
        """Several readings of one day, each with its tub where there are several: a sentence, empty for more days."""
        if len({point.day for point in points}) != 1:
            return ""
        values = [
            f"{self.short_text(p.value)} {in_tub_words(self.tub_label(p.subject))}"
            if p.subject and len(self.tubs) > 1
            else self.short_text(p.value)
            for p in points
        ]
        day = day_words(points[0].day)
        return tr("{what}, measured on {day}: {readings}.", what=what, day=day, readings=listed(values))

    def said_instead(self, what: str, points: Sequence[PlotPoint]) -> str:
        """A sentence in place of a chart: of fewer than three days, or always the same; empty where a chart is due."""
        values, days = [p.value for p in points], sorted({p.day for p in points}, key=lambda day: day.key)
        constant = len({(value.low, value.high) for value in values}) == 1
        if not too_few(days) and not constant:
            return ""
        said = {"what": what, "value": self.say(spanning(values))}
        if len(points) == 1:
            return tr("{what} was {value}, read once, on {day}.", day=day_words(days[0]), **said)
        if too_few(days):
            return tr("{what} was {value}, read on {days}.", days=listed([*map(day_words, days)]), **said)
        places = {"first": day_words(days[0]), "last": day_words(days[-1]), **said}
        return tr(
            "{what} was {value} at each of {n} readings, from {first} to {last}.", n=len(points), **places
        )

    def day_title(self, day: Day, what: str, parts: Sequence[Quantity], so_far: Quantity | None) -> str:
        """All of a day at its mark: what was done, its parts where there are several, and the total by then.

        `what` has the sum; a total that is no more than that is left out, as it is where the day is uncertain.
        """
        known = [self.short_text(part) for part in parts]
        listing = f" = {' + '.join(known)}" if len(known) > 1 else ""
        said = tr("{day}: {what}", day=day_words(day), what=f"{what}{listing}")
        if so_far is None or not day.exact:
            return said
        return tr("{what}; {amount} so far", what=said, amount=self.short_sum(so_far))

    def short_text(self, quantity: Quantity) -> str:
        """A quantity without its brackets (the other system of units): for a label in a drawing."""
        return self.say(quantity).partition("(")[0].rstrip()

    def short_sum(self, quantity: Quantity) -> str:
        """A computed quantity without its brackets."""
        return self.in_sentence(quantity).partition("(")[0].rstrip()

    @property
    def start(self) -> Start:
        """The date of day 0."""
        return self.facts.axis.start


LayerKind = Literal["line", "bar", "arrow", "span", "area", "symbol"]


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: the marks of the rows that a chart gives under its name.

    A line joins corners, a bar stands upright, a span lies, an arrow is an upright stem with an open head: at least so
    much. Width and dash are those of a stroke, `size` is a symbol's. Spans without a width are as thick as their rows
    say; `narrow_width` takes the place of the width in narrow drawings.
    """

    kind: LayerKind
    name: str
    colour: str
    width: float | None = 1.5
    narrow_width: float | None = None
    opacity: float = 1.0
    dash: tuple[float, float] | None = None
    cap: Literal["", "round"] = ""
    size: float = 44


@dataclass(frozen=True, slots=True)
class ChartType:
    """One kind of chart: layers in the order drawn, and the function that fills them; without data it gives None.

    Charts of one `family` have the same layers, and share the specifications compiled from them.
    """

    name: str
    layers: tuple[Layer, ...]
    data: Callable[[ChartInput], ChartData | None]
    family: str = ""

    @property
    def specification(self) -> str:
        """The name of its compiled specifications."""
        return self.family or self.name
