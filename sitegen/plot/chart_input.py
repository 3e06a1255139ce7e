"""The input of every chart: the facts, and how their quantities are shown.

In: facts, the system of units shown first, and a function that gives a quantity as text. Out: `ChartInput`, which also
knows the names of tubs and makes the table beside a chart, with a column of dates where the start is dated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity
from sitegen.plot.drawing.day_labels import date_with_year
from sitegen.plot.scale import Units

QuantityText = Callable[[Quantity], str]


@dataclass(frozen=True, slots=True)
class ChartInput:
    """The facts of an experiment, the units shown first, and the function that gives a quantity in words."""

    facts: Facts
    units: Units
    say: QuantityText

    @property
    def tubs(self) -> tuple[str, ...]:
        """The ids of the experiment's tubs, in the order declared."""
        return tuple(tub.id for tub in self.facts.run.setup.tubs)

    @property
    def last_day(self) -> float:
        """The day of the last entry."""
        return float(self.facts.axis.last)

    def tub_label(self, tub: str) -> str:
        """A tub's name for a reader."""
        return next((t.label for t in self.facts.solution.tubs if t.key == tub), tub)

    def short_text(self, quantity: Quantity) -> str:
        """A quantity without its brackets (the other system of units): for a label in a drawing."""
        return self.say(quantity).partition("(")[0].rstrip()

    def table(self, columns: tuple[str, ...], rows: Iterable[tuple[Day, tuple[str, ...]]]) -> Table:
        """Rows in the order given, each with its day and, where known, its date."""
        start = self.facts.axis.start
        dated = start.precision == "day"
        head = (tr("Day"), tr("Date")) if dated else (tr("Day"),)
        body = (
            ((day_text(day), date_text(day, start)) if dated else (day_text(day),), cells)
            for day, cells in rows
        )
        return Table((*head, *columns), tuple((*when, *cells) for when, cells in body))


def day_text(day: Day) -> str:
    """A day in figures, as `33-38` or `about 36`."""
    plain = str(replace(day, about=False))
    return tr("about {when}", when=plain) if day.about else plain


def date_text(day: Day, start: Start) -> str:
    """A day's date for a table; a span gets both ends, an undated start nothing."""
    first, last = start.date_of(day.first), start.date_of(day.last)
    if first is None or last is None:
        return ""
    ends = date_with_year(first), date_with_year(last)
    span = ends[0] if day.single else tr("{first} to {last}", first=ends[0], last=ends[1])
    return tr("about {when}", when=span) if day.about else span
