"""Seeds and seedlings counted: formulas that put counts together.

In: counts as stated in the log. Out: `Quantity`s. Never adds a count to one that holds it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import formula


@dataclass(frozen=True, slots=True)
class SpotCount:
    """The number of seedlings in some spots by a day."""

    scope: frozenset[str]
    count: Quantity


@formula
def seeds_sown(sowings: Iterable[Quantity]) -> Quantity:
    """Seeds sown.

    All sowings together, later ones in the same spot included.

    Parameters
    ----------
    sowings
        Seeds of each sowing [count].

    Returns
    -------
    Quantity
        Seeds in all [count].

    Notes
    -----
    ::

        sown = Σ seeds

    """
    return total(sowings, Dimension.COUNT)


@formula
def seedlings_up(counts: Sequence[SpotCount]) -> Quantity:
    """Seedlings up so far.

    Each count says how many had come up in some spots since sowing. Counts of separate spots add up; a count
    of several spots together stands beside those of the spots in it, and the larger of the two holds.

    Parameters
    ----------
    counts
        Cumulative counts in the order of days [count].

    Returns
    -------
    Quantity
        Seedlings since sowing [count].

    Notes
    -----
    For spots counted together and singly::

        up = max(count together, Σ count of each spot)

    """
    latest: dict[frozenset[str], Quantity] = {}
    for each in counts:
        before = latest.get(each.scope)
        if before is None or each.count.low >= before.low:
            latest[each.scope] = each.count
    parts: list[SpotCount] = []
    for scope in sorted(latest, key=lambda scope: (len(scope), sorted(scope))):
        inside = total((part.count for part in parts if part.scope <= scope), Dimension.COUNT)
        parts = [part for part in parts if not part.scope <= scope]
        parts.append(SpotCount(scope, max(inside, latest[scope], key=lambda q: (q.low, q.single))))
    return total((part.count for part in parts), Dimension.COUNT)
