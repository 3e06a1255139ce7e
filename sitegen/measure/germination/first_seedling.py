"""The day of the first seedling, of a run or of some of its spots.

In: seedling counts. Out: a figure. A count of none in every spot bounds it from below; a count that is of other spots too
says nothing of these.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from sitegen.core.facts.figure import Figure, remark
from sitegen.core.records.rows import Run, SeedlingCount, Sowing
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.measure.germination.counts import counts_of, scope_of, seen_of, sown_spots, spots_of
from sitegen.measure.methods import figure, formula
from sitegen.measure.stages.looks import by_day


@formula(
    reads=("events.day", "events.amount"),
    exact_if={
        "another count bounds it": ("events.day",),
        "it says that there was one": ("events.amount",),
    },
)
def first_seedling(seen: Sequence[Day], none: Iterable[Day], sown: int) -> Day | None:
    """First seedling.

    It came up after the last count that found none, and by the first count that found one. Where nobody counted
    before, nothing but the sowing says when it was not there.

    Parameters
    ----------
    seen
        The days of the counts that found seedlings [day].
    none
        The days of the counts of all spots that found none [day].
    sown
        The day of the first sowing [day].

    Returns
    -------
    Day or None
        The first and the last day on which it can have come up; None where none was seen.

    Notes
    -----
    ::

        first = max(sowing, last count of none + 1) to first count that found one

    """
    found = min(seen, key=by_day, default=None)
    if found is None:
        return None
    before = max(_looks_before(none, found), key=lambda day: day.first, default=None)
    first = sown if before is None else max(sown, before.first + 1)
    about = found.about or (before is not None and before.about)
    return Day(min(first, found.last), found.last, about)


def _looks_before(looks: Iterable[Day], found: Day) -> list[Day]:
    return [look for look in looks if by_day(look) < by_day(found)]


def first_day_of_run(run: Run) -> Figure:
    """The first seedling of a run, with the last look before it that found none up."""
    return _first_day("germination.first_day", run, sown_spots(run), counts_of(run))


def first_day_of_spots(name: str, run: Run, spots: Iterable[str], counts: Sequence[SeedlingCount]) -> Figure:
    """The first seedling of some spots, by the counts that are of them."""
    found = _first_day(name, run, frozenset(spots), counts)
    return found if found.recorded else figure(name, None, first_seedling, (), remark("spots_not_counted"))


def _first_day(name: str, run: Run, spots: frozenset[str], counts: Sequence[SeedlingCount]) -> Figure:
    seen = [event for event in counts if _came_up_in(spots, event, run)]
    visits = [tuple(events) for _, events in groupby(counts, key=lambda event: event.entry)]
    none = [zero for events in visits if (zero := _none_in(spots, events, run))]
    sown = min((event.day.first for event in run.rows.of(Sowing) if spots_of(event, run) & spots), default=0)
    first = first_seedling([event.day for event in seen], [events[0].day for events in none], sown)
    found = min((event.day for event in seen), key=by_day, default=None)
    before = [events for events in none if found is None or by_day(events[0].day) < by_day(found)]
    last = max(before, key=lambda events: by_day(events[0].day), default=())
    rows = [event.source for event in (*seen, *last) if first and (event in last or event.day == found)]
    said = remark("none_up_on", day=last[0].day) if last else None
    return figure(name, first, first_seedling, rows, said)


def _came_up_in(spots: frozenset[str], event: SeedlingCount, run: Run) -> bool:
    """Whether a count found a seedling in these spots for certain: it is of no other, or every seed was up."""
    every = event.seedlings is None and event.which is not None and event.which.word == "all"
    return seen_of(event, run).low > 0 and (every or scope_of(event, run) <= spots)


def _none_in(spots: frozenset[str], events: Sequence[SeedlingCount], run: Run) -> tuple[SeedlingCount, ...]:
    """The counts of one entry that found none in any of these spots; nothing where one may have found some there."""
    inside = [event for event in events if scope_of(event, run) & spots]
    zero = tuple(event for event in inside if seen_of(event, run) == counted(0))
    covered = frozenset[str]().union(*(scope_of(event, run) for event in zero))
    return zero if len(zero) == len(inside) and covered >= spots else ()
