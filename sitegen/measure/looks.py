"""When each plant was last looked at.

In: a run. Out: the last day on which anything was recorded of one plant. A plant is censored there, not at
the last entry of the log. Never counts an entry that names no plant.
"""

from __future__ import annotations

from sitegen.core.day import Day
from sitegen.core.roster import Roster
from sitegen.core.rows import Run, Which
from sitegen.measure.axis import last_day

__all__ = ["last_look", "names", "sowing_day"]


def names(which: Which | None, plant: str) -> bool:
    """Whether a record is about a plant by name (a group and `all` name each of theirs)."""
    return which is not None and plant in which.ids


def last_look(run: Run, plant: str) -> Day | None:
    """The last day on which something was recorded of a plant."""
    rows = run.rows
    roster = Roster.of(run.setup, rows)
    days = [reading.day for reading in rows.readings if plant in reading.plants]
    days += [event.day for event in rows.events if names(event.which, plant)]
    days += [pick.day for pick in rows.picks if names(pick.which, plant)]
    for row in rows.milestones:
        everyone = row.which.nobody and plant in roster.standing(row.day.first)
        if names(row.which, plant) or everyone:
            days.append(row.day)
    return last_day(days)


def sowing_day(run: Run, plant: str) -> int:
    """The day that a plant's own days run from: its last sowing, else day 0."""
    sown = Roster.of(run.setup, run.rows).sown_on(plant)
    return 0 if sown is None else sown.day.first
