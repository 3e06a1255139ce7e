"""Counts of seeds and seedlings, by spot.

In: sowings and seedling counts of a run. Out: seeds sown, seedlings up. Counts are cumulative: a count said again adds
nothing, and one that holds another is never added to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from sitegen.core.records.rows import Event, Run, SeedlingCount, Sowing
from sitegen.core.values.quantity import Quantity, counted, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import day_key, formula


@dataclass(frozen=True, slots=True)
class SpotCount:
    """The number of seedlings in some spots by a day."""

    scope: frozenset[str]
    count: Quantity


@formula(reads=("events.amount",))
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


@formula(reads=("events.amount",), exact_if={"a later or wider count holds it": ("events.amount",)})
def seedlings_up(counts: Sequence[SpotCount]) -> Quantity:
    """Seedlings up so far.

    Each count says how many had come up in some spots since sowing. Counts of separate spots add up; a count
    of several spots together is compared with those of the spots in it, and the larger one counts.

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
        latest[each.scope] = each.count if before is None else _later(before, each.count)
    parts: list[SpotCount] = []
    for scope in sorted(latest, key=lambda scope: (len(scope), sorted(scope))):
        inside = total((part.count for part in parts if part.scope <= scope), Dimension.COUNT)
        parts = [part for part in parts if not part.scope <= scope]
        parts.append(SpotCount(scope, _larger(inside, latest[scope])))
    return total((part.count for part in parts), Dimension.COUNT)


def _later(before: Quantity, count: Quantity) -> Quantity:
    """What is up after a later count: never fewer than before, and as many as either leaves open.

    A count that was open at first is closed by a later one.
    """
    low = max(count.low, before.low)
    if _reaches(count, before.low if before.high is None else before.high):
        kept = replace(count, low=low)
    else:
        kept = before if before.high is None or before.single else replace(before, low=low)
    # A bound taken from the other count is no better known than that count.
    other = before if before.low > count.low else count if count.low > before.low else kept
    return replace(kept, about=kept.about or other.about, by_eye=kept.by_eye or other.by_eye)


def _reaches(count: Quantity, number: float) -> bool:
    return count.high is None or count.high >= number


def _larger(one: Quantity, other: Quantity) -> Quantity:
    """The larger of two counts; of two that are equal either may be, with its flags."""
    found = max(one, other, key=lambda count: (count.low, count.single))
    equal = [count for count in (one, other) if count.low == found.low]
    about, by_eye = any(count.about for count in equal), any(count.by_eye for count in equal)
    return replace(found, about=about, by_eye=by_eye)


def spots_of(event: Event, run: Run) -> frozenset[str]:
    """The spots that a record names; every spot where it names none."""
    return frozenset(event.which.ids if event.which and event.which.ids else run.setup.plant_ids)


def scope_of(event: Event, run: Run) -> frozenset[str]:
    """The spots that a count is about; a count of all is about those, too, whose plant was lost by then."""
    everyone = event.which is not None and event.which.word == "all"
    return frozenset(run.setup.plant_ids) if everyone else spots_of(event, run)


def seeds_of(event: Sowing) -> Quantity:
    """The seeds of a sowing in all its spots."""
    if event.seeds is None or not event.each or event.which is None or not event.which.ids:
        return event.seeds or unknown(Dimension.COUNT)
    # Seeds come whole: so many a spot is known to the seed, not to the multiple.
    return replace(event.seeds.times(len(event.which.ids)), step=event.seeds.step)


def _at_least(number: int) -> Quantity:
    return Quantity(number, None, Dimension.COUNT, open=1, step=1)


def sowings_of(run: Run, day: int | None = None, scope: frozenset[str] | None = None) -> tuple[Sowing, ...]:
    """The sowings by a day whose spots all lie in a scope."""
    return tuple(
        event
        for event in run.rows.of(Sowing)
        if (day is None or event.day.first <= day) and (scope is None or spots_of(event, run) <= scope)
    )


def seen_of(event: SeedlingCount, run: Run) -> Quantity:
    """The seedlings of one record: a count, or every seed."""
    which = event.which
    if event.seedlings is not None:
        return event.seedlings
    if which is None or not which.ids:
        return _at_least(1) if which is None or which.count is None else counted(which.count)
    seeds = seeds_sown(seeds_of(e) for e in sowings_of(run, event.day.last, spots_of(event, run)))
    return seeds if seeds.single and seeds.low > 0 else _at_least(len(which.ids))


def counts_of(run: Run) -> tuple[SeedlingCount, ...]:
    """The seedling counts of a run, in order."""
    return tuple(sorted(run.rows.of(SeedlingCount), key=lambda e: (*day_key(e.day), e.entry, e.source)))


def spot_counts(events: Iterable[SeedlingCount], run: Run) -> list[SpotCount]:
    """Seedling counts with their spots."""
    return [SpotCount(scope_of(event, run), seen_of(event, run)) for event in events]


def visits_of(run: Run) -> Iterator[tuple[SeedlingCount, ...]]:
    """The counts of each entry, in order."""
    for _, events in groupby(counts_of(run), key=lambda event: event.entry):
        yield tuple(events)


def found_none(counts: Iterable[SeedlingCount], run: Run) -> bool:
    """Whether the counts of one entry found no seedling."""
    return all(seen_of(event, run) == counted(0) for event in counts)


def sown_spots(run: Run) -> frozenset[str]:
    """Every spot that was sown; every spot where no sowing is recorded."""
    sown = frozenset[str]().union(*(spots_of(event, run) for event in run.rows.of(Sowing)))
    return sown or frozenset(run.setup.plant_ids)


def of_all_spots(counts: Iterable[SeedlingCount], run: Run) -> bool:
    """Whether the counts of one entry are of every spot that was sown."""
    return frozenset[str]().union(*(scope_of(event, run) for event in counts)) >= sown_spots(run)
