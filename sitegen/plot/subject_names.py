"""The names of plants and visits in the words of a chart.

In: subjects of readings, and the setup they belong to. Out: text.
"""

from __future__ import annotations

from sitegen.core.facts.tree import PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import day_words
from sitegen.core.records.setup import Setup

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
