"""Picks as counts: how many, of how many pieces, in which flush.

In: picks, or amounts of picks. Out: numbers. Never takes a pick without a count for one of nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sitegen.core.records.rows import Pick
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.totals import Weighing, total_weight
from sitegen.measure.methods import formula

FLUSH_GAP_DAYS = 14  # common practice, no source: a plant cut or stripped bare needs about two weeks


@formula
def pick_count(picks: Sequence[Pick]) -> Quantity:
    """Picks logged.

    Each weight, or each thing picked without a weight, that the log gives by itself.

    Parameters
    ----------
    picks
        The picks.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        picks = number of picks in the log

    """
    return counted(len(picks))


@formula
def piece_count(pieces: Iterable[Weighing]) -> Quantity:
    """Pieces picked.

    The counts of all picks; a lower bound where a pick was not counted.

    Parameters
    ----------
    pieces
        Picks with their counts [count].

    Returns
    -------
    Quantity
        Pieces in all [count].

    Notes
    -----
    ::

        pieces = Σ count

    """
    return total_weight(pieces, Dimension.COUNT)


@formula
def flush_numbers(picks: Sequence[Pick]) -> tuple[int, ...]:
    """Flush of each pick.

    A flush is a stretch of picking; a rest of two weeks ends it. A number given in the log holds from that
    pick on.

    Parameters
    ----------
    picks
        In the order of days.

    Returns
    -------
    tuple[int, ...]
        One number for each pick, from 1.

    Notes
    -----
    ::

        flush = flush before + 1   where day - day before ≥ 14

    The gap of 14 days is common practice and has no source.

    """
    numbers: list[int] = []
    for position, pick in enumerate(picks):
        before = numbers[-1] if numbers else 1
        rested = position > 0 and pick.day.first - picks[position - 1].day.last >= FLUSH_GAP_DAYS
        numbers.append(pick.flush if pick.flush is not None else before + rested)
    return tuple(numbers)
