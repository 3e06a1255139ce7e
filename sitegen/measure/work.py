"""How often someone was there, and for what.

In: entries, events and picks. Out: `Work`. Counts visits, not minutes: nobody logged those.
"""

from __future__ import annotations

from collections.abc import Iterable

from sitegen.core.facts import Figure, Work
from sitegen.core.quantity import Quantity, counted
from sitegen.core.rows import Deed, Run
from sitegen.measure.working import figure

__all__ = ["visit_count", "work_of"]

HANDS_ON = (
    Deed.PRUNE,
    Deed.TRAIN,
    Deed.POLLINATE,
    Deed.CLEAN,
    Deed.TREAT,
    Deed.THIN,
    Deed.TRANSPLANT,
)


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


def work_of(run: Run) -> Work:
    """Visits, and how many of them were for what."""
    rows = run.rows
    picked = [pick.entry for pick in rows.picks]
    return Work(
        visits=_figure(run, "visits", (entry.index for entry in rows.entries)),
        waterings=_figure(run, "waterings", (e.entry for e in rows.of(Deed.WATER, Deed.CHANGE))),
        feedings=_figure(run, "feedings", (e.entry for e in rows.of(Deed.FEED))),
        hands_on=_figure(run, "hands_on", [*(e.entry for e in rows.of(*HANDS_ON)), *picked]),
    )
