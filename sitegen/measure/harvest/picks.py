"""Picks as events: how many, of how many pieces, and in which flush.

In: the picks and tallies of a run. Out: numbers of picks and pieces, the flush of each pick. Never takes a pick
without a count for one of nothing, nor a pause for a new flush.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from sitegen.core.records.rows import Deed, Event, Pick, Run, Which
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


def flush_bounds(run: Run, picks: Sequence[Pick]) -> tuple[range, ...]:
    """The flushes that each pick can be of, on whichever day of its span everything was; "about" a day opens it."""
    found: list[range] = []
    for position, pick in enumerate(picks):
        before, earlier = found[-1] if found else range(1, 2), picks[:position]
        if pick.flush is not None:
            found.append(range(pick.flush, pick.flush + 1))
        elif not earlier:
            found.append(before)
        else:
            least = before.start + _begins_flush(run, earlier, pick, _reach)
            found.append(range(least, before.stop + _may_begin_flush(run, earlier, pick)))
    return tuple(found)


Bounds = Callable[[Day], tuple[float, float]]


def _span(day: Day) -> tuple[float, float]:
    return day.first, day.last


def _reach(day: Day) -> tuple[float, float]:
    return day.reach


def _begins_flush(run: Run, earlier: Sequence[Pick], pick: Pick, bounds: Bounds = _span) -> bool:
    """Whether the plants rested and went on growing between the picking before and a pick, by all of the bounds."""
    picked, until = bounds(pick.day)
    tallied = [tally.day for tally in run.rows.tallies if bounds(tally.day)[0] < until]
    rested = max(bounds(day)[1] for day in [*(before.day for before in earlier), *tallied])
    if picked - rested < FLUSH_GAP_DAYS:
        return False
    pruned = (bounds(prune.day) for prune in _pruned(run, pick))
    if any(rested <= first and last < picked for first, last in pruned):
        return True
    stages = _stages_seen(run, bounds)
    before_rest = {name for name, first, _ in stages if first <= rested}
    return any(name not in before_rest and last <= picked for name, _, last in stages)


def _may_begin_flush(run: Run, earlier: Sequence[Pick], pick: Pick) -> bool:
    """Whether there may have been a rest before a pick, and growth in it."""
    first, until = pick.day.reach
    tallied = [tally.day for tally in run.rows.tallies if tally.day.reach[1] < first]
    since = max(day.reach[0] for day in [*(before.day for before in earlier), *tallied])
    if until - since < FLUSH_GAP_DAYS:
        return False
    pruned = (prune.day.reach for prune in _pruned(run, pick))
    if any(last >= since and first < until for first, last in pruned):
        return True
    stages = _stages_seen(run, _reach)
    before_rest = {name for name, _, last in stages if last <= since}
    return any(name not in before_rest and first <= until for name, first, _ in stages)


def _pruned(run: Run, pick: Pick) -> list[Event]:
    """The prunes of plants that a pick can be of."""
    return [prune for prune in run.rows.of(Deed.PRUNE) if _may_share(prune.which, pick.which)]


def _may_share(one: Which | None, other: Which) -> bool:
    """Whether two records can be of the same plant."""
    return one is None or not one.ids or not other.ids or not set(one.ids).isdisjoint(other.ids)


def _stages_seen(run: Run, bounds: Bounds) -> list[tuple[str, float, float]]:
    """Each stage that was seen, with the bounds of the day."""
    seen = (row for row in run.rows.milestones if row.reached and not row.which.nobody)
    return [(row.name, *bounds(row.day)) for row in seen]
