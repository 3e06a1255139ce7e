"""Names of plants and tubs, and the table beside a chart.

In: facts, and rows of text with their day. Out: a `Table` that has a column of dates where the start is
dated.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.records.setup import Setup
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.plot.drawing.days import date_text, day_text

_EVERYONE = ("all", "each", "every plant")
_MOST_NAMED = 3


def by_day(facts: Facts, columns: tuple[str, ...], rows: Iterable[tuple[Day, tuple[str, ...]]]) -> Table:
    """Rows in the order given, each with its day and, where known, its date."""
    start = facts.axis.start
    dated = start.precision == "day"
    head = (tr("Day"), tr("Date"), *columns) if dated else (tr("Day"), *columns)
    body = tuple(
        (day_text(day), date_text(day, start), *cells) if dated else (day_text(day), *cells)
        for day, cells in rows
    )
    return Table(head, body)


def tub_ids(facts: Facts) -> tuple[str, ...]:
    """The experiment's tubs, in the order declared."""
    return tuple(tub.id for tub in facts.run.setup.tubs)


def tub_label(tub: str, facts: Facts) -> str:
    """A tub's name for a reader."""
    return next((t.label for t in facts.solution.tubs if t.key == tub), tub)


def briefly(said: str) -> str:
    """What is said of a quantity without its brackets (the other system of units): for a label in a drawing."""
    return said.partition("(")[0].rstrip()


def visit_text(read: PlotPoint) -> str:
    """The day of a reading, and whether it was taken before or after something was done."""
    return f"{read.day.words} ({tr(read.moment)})" if read.moment else read.day.words


def plants_named(subject: str, setup: Setup) -> tuple[str, ...]:
    """The plants that a subject means; none where it tells how many, and not which."""
    if subject in setup.plant_ids:
        return (subject,)
    if subject in dict(setup.groups):
        return setup.members(subject)
    return setup.plant_ids if subject in _EVERYONE else ()


def plants_in_words(plants: tuple[str, ...], setup: Setup) -> str:
    """The shortest true name of a set of plants: `all 6`, a group's name, `P1, P3`, `4 plants`."""
    if len(plants) > 1 and set(plants) == set(setup.plant_ids):
        return tr_n("all {n}", "all {n}", len(plants))
    group = next((name for name, members in setup.groups if set(members) == set(plants)), "")
    if group and len(plants) > 1:
        return group
    return ", ".join(plants) if len(plants) <= _MOST_NAMED else tr_n("{n} plant", "{n} plants", len(plants))
