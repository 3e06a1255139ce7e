"""Which flush of picking a pick belongs to.

In: picks. Out: one number a pick. A number that the log gives always wins.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.rows import Pick

__all__ = ["FLUSH_GAP_DAYS", "flush_numbers"]

FLUSH_GAP_DAYS = 14  # common practice, no source: a plant cut or stripped bare needs about two weeks


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
