"""Visits to the plants, by kind of work and phase.

In: entries, events and picks, the phases of the run. Out: `Work`. Counts visits, not minutes: nobody logged those.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.remark import Label
from sitegen.core.facts.tree import Timeline, Work
from sitegen.core.format.entry import key_of
from sitegen.core.records.rows import Deed, Run
from sitegen.core.site.addresses import slug
from sitegen.core.values.quantity import Quantity, counted
from sitegen.measure.methods import formula
from sitegen.measure.working import figure

HANDS_ON = tuple(deed for deed in Deed if key_of(deed).work)


@formula
def visit_count(visits: Iterable[int]) -> Quantity:
    """Visits logged.

    Entries of the log, or those with work of one kind; an entry counts once, whatever was done at it.

    Parameters
    ----------
    visits
        The numbers of the entries; the same one may come twice.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        visits = number of entries

    """
    return counted(len(set(visits)))


def _figure(run: Run, name: str, visits: Iterable[int]) -> Figure:
    wanted = set(visits)
    rows = (entry.source for entry in run.rows.entries if entry.index in wanted)
    return figure(f"work.{name}", visit_count(wanted), visit_count, rows)


def _by_phase(run: Run, timeline: Timeline, name: str, visits: Iterable[int]) -> tuple[Named, ...]:
    """Visits in each phase that had any; those that lie in none are not listed."""
    wanted = set(visits)
    phases = {visit.entry.index: visit.phase for visit in timeline.visits if visit.phase}
    found = []
    for phase in dict.fromkeys(phase.name for phase in timeline.phases):
        own = [entry for entry in wanted if phases.get(entry) == phase]
        if own:
            key = slug(phase)
            found.append(Named(key, Label(phase, "phase"), _figure(run, f"{name}_by_phase.{key}", own)))
    return tuple(found)


def _tasks(run: Run) -> tuple[Named, ...]:
    """Visits with each kind of work by hand that the log has."""
    done = {str(deed): [event.entry for event in run.rows.of(deed)] for deed in HANDS_ON}
    done["harvest"] = [pick.entry for pick in run.rows.picks]
    return tuple(
        Named(task, Label(task, "work"), _figure(run, f"tasks.{task}", visits))
        for task, visits in done.items()
        if visits
    )


def work_of(run: Run, timeline: Timeline) -> Work:
    """Visits, how many of them were for what, and when."""
    rows = run.rows
    visits = [entry.index for entry in rows.entries]
    waterings = [event.entry for event in rows.of(Deed.WATER, Deed.CHANGE)]
    hands_on = [*(e.entry for e in rows.of(*HANDS_ON)), *(pick.entry for pick in rows.picks)]
    return Work(
        visits=_figure(run, "visits", visits),
        waterings=_figure(run, "waterings", waterings),
        feedings=_figure(run, "feedings", (e.entry for e in rows.of(Deed.FEED))),
        hands_on=_figure(run, "hands_on", hands_on),
        tasks=_tasks(run),
        visits_by_phase=_by_phase(run, timeline, "visits", visits),
        waterings_by_phase=_by_phase(run, timeline, "waterings", waterings),
        hands_on_by_phase=_by_phase(run, timeline, "hands_on", hands_on),
    )
