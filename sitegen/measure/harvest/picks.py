"""Picks as events: how many, of how many pieces, and in which flush.

In: the picks and tallies of a run. Out: numbers of picks and pieces, the flush of each pick. Never takes a pick
without a count for one of nothing, nor a pause for a new flush.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sitegen.core.records.rows import Deed, Pick, Run, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.totals import Weighing, total_weight
from sitegen.measure.methods import formula

FLUSH_GAP_DAYS = 14  # common practice, no source: a plant cut or stripped bare needs about two weeks


@formula(reads=())
def pick_count(picks: Sequence[Pick]) -> Quantity:
    """Picks in the log.

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


@formula(
    reads=("picks.count", "picks.spoilt", "picks.earlier"),
    exact_if={
        "a later pick holds it, or it is the number of the others": (
            "picks.count",
            "picks.spoilt",
            "picks.earlier",
        )
    },
)
def piece_count(pieces: Iterable[Weighing]) -> Quantity:
    """Pieces picked.

    The counts of all picks; "at least" where a pick was not counted.

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


@formula(reads=("picks.day", "tallies.day", "events.day", "milestones.day"))
def flush_numbers(run: Run, picks: Sequence[Pick]) -> tuple[int, ...]:
    """Flush of each pick.

    A flush is a stretch of picking. A rest of two weeks ends it where the plants went on growing: they were pruned in
    that time, or reached a stage that no plant had reached before. A number written in the log counts from that pick on.

    Parameters
    ----------
    run
        Its tallies, which are picking too, prunes and stages.
    picks
        In the order of days.

    Returns
    -------
    tuple[int, ...]
        One number for each pick, from 1.

    Notes
    -----
    ::

        flush = flush before + 1   where day - day before ≥ 14, after a prune or a later stage

    The gap of 14 days is common practice and has no source.

    """
    numbers: list[int] = []
    for position, pick in enumerate(picks):
        before = numbers[-1] if numbers else 1
        begun = position > 0 and _begins_flush(run, picks[:position], pick)
        numbers.append(pick.flush if pick.flush is not None else before + begun)
    return tuple(numbers)


def _begins_flush(run: Run, earlier: Sequence[Pick], pick: Pick) -> bool:
    """Whether the plants rested and went on growing between the picking before and a pick."""
    tallied = [tally.day for tally in run.rows.tallies if tally.day.first < pick.day.first]
    rest = Day(max(day.last for day in [*(p.day for p in earlier), *tallied]), pick.day.first)
    if rest.last - rest.first < FLUSH_GAP_DAYS:
        return False
    pruned = any(
        rest.first <= prune.day.first and prune.day.last < rest.last and _may_share(prune.which, pick.which)
        for prune in run.rows.of(Deed.PRUNE)
    )
    return pruned or _reached_new_stage(run, rest)


def flushes_certain(run: Run, picks: Sequence[Pick]) -> bool:
    """Whether each pick certainly begins a flush or certainly does not, on whichever day of its span everything was."""
    grown = [event.day for event in run.rows.of(Deed.PRUNE)]
    grown += [row.day for row in run.rows.milestones if row.reached]
    if all(day.single and not day.about for day in (*grown, *(pick.day for pick in picks))):
        return True
    return not any(
        _may_begin_flush(picks[:number], pick, grown) and not _begins_flush(run, picks[:number], pick)
        for number, pick in enumerate(picks)
        if number
    )


def _may_begin_flush(earlier: Sequence[Pick], pick: Pick, grown: Sequence[Day]) -> bool:
    """Whether there may have been a rest before a pick, and growth in it."""
    since, until = max(before.day.reach[0] for before in earlier), pick.day.reach[1]
    return until - since >= FLUSH_GAP_DAYS and any(d.reach[1] >= since and d.reach[0] <= until for d in grown)


def _may_share(one: Which | None, other: Which) -> bool:
    """Whether two records can be of the same plant."""
    return one is None or not one.ids or not other.ids or not set(one.ids).isdisjoint(other.ids)


def _reached_new_stage(run: Run, rest: Day) -> bool:
    """Whether a stage was first seen after one pick and by the next."""
    seen = [row for row in run.rows.milestones if row.reached and not row.which.nobody]
    before = {row.name for row in seen if row.day.first <= rest.first}
    return any(
        row.name not in before and row.day.first > rest.first and row.day.last <= rest.last for row in seen
    )
