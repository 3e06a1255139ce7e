"""Seeds sown and seedlings up.

In: sowings and sprouted counts. Out: `Germination`. Counts are cumulative: a count said again adds nothing, one that
holds another is never added to it, and where nobody counted there is no share.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal

from sitegen.core.facts.claimant import claimant
from sitegen.core.facts.figure import (
    NOT_RECORDED,
    Figure,
    Label,
    Named,
    Remark,
    RemarkCode,
    Share,
    counted_remark,
    remark,
)
from sitegen.core.facts.indices import GerminationClaims
from sitegen.core.facts.tree import CountStep, Germination
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Event, Run, SeedlingCount, Sowing
from sitegen.core.reference.germination_standards import SOURCE, TEST_SEEDS, standard_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.emergence import emergence_rates
from sitegen.measure.methods import day_key, figure, formula
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import last_day, meet
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
        return replace(count, low=low)
    return before if before.high is None or before.single else replace(before, low=low)


def _reaches(count: Quantity, number: float) -> bool:
    return count.high is None or count.high >= number


def _larger(one: Quantity, other: Quantity) -> Quantity:
    """The larger of two counts; of two that are equal either may be, with its flags."""
    found = max(one, other, key=lambda count: (count.low, count.single))
    equal = [count for count in (one, other) if count.low == found.low]
    about, by_eye = any(count.about for count in equal), any(count.by_eye for count in equal)
    return replace(found, about=about, by_eye=by_eye)


def _spots(event: Event, run: Run) -> frozenset[str]:
    return frozenset(event.which.ids if event.which and event.which.ids else run.setup.plant_ids)


def _scope(event: Event, run: Run) -> frozenset[str]:
    """The spots that a count is about; a count of all is about those, too, whose plant was lost by then."""
    everyone = event.which is not None and event.which.word == "all"
    return frozenset(run.setup.plant_ids) if everyone else _spots(event, run)


def _seeds(event: Sowing) -> Quantity:
    """The seeds of a sowing in all its spots."""
    if event.seeds is None or not event.each or event.which is None or not event.which.ids:
        return event.seeds or unknown(Dimension.COUNT)
    # Seeds come whole: so many a spot is known to the seed, not to the multiple.
    return replace(event.seeds.times(len(event.which.ids)), step=event.seeds.step)


def _at_least(number: int) -> Quantity:
    return Quantity(number, None, Dimension.COUNT, open=1, step=1)


def _sowings(run: Run, day: int | None = None, scope: frozenset[str] | None = None) -> tuple[Sowing, ...]:
    """The sowings by a day whose spots all lie in a scope."""
    return tuple(
        event
        for event in run.rows.of(Sowing)
        if (day is None or event.day.first <= day) and (scope is None or _spots(event, run) <= scope)
    )


def _seen(event: SeedlingCount, run: Run) -> Quantity:
    """The seedlings of one record: a count, or every seed."""
    which = event.which
    if event.seedlings is not None:
        return event.seedlings
    if which is None or not which.ids:
        return _at_least(1) if which is None or which.count is None else counted(which.count)
    seeds = seeds_sown(_seeds(e) for e in _sowings(run, event.day.last, _spots(event, run)))
    return seeds if seeds.single and seeds.low > 0 else _at_least(len(which.ids))


def _whole(quantity: Quantity) -> int | None:
    return round(quantity.low) if quantity.exact else None


def _seeds_by(run: Run, day: int | None = None) -> int | None:
    """Seeds sown by a day: from the sowings, else from the number that a count was out of."""
    sowings = _sowings(run, day)
    if sowings and (known := _whole(seeds_sown(_seeds(event) for event in sowings))) is not None:
        return known
    said_of = [_out_of(e) for e in _counts(run) if day is None or e.day.first <= day]
    return next((of for of in reversed(said_of) if of), None)


def _out_of(event: SeedlingCount) -> int | None:
    return event.out_of or (event.which.of if event.which else None)


def _counts(run: Run) -> tuple[SeedlingCount, ...]:
    return tuple(sorted(run.rows.of(SeedlingCount), key=lambda e: (*day_key(e.day), e.entry, e.source)))


def _spot_counts(events: Iterable[SeedlingCount], run: Run) -> list[SpotCount]:
    return [SpotCount(_scope(event, run), _seen(event, run)) for event in events]


def _found_none(counts: Iterable[SeedlingCount], run: Run) -> bool:
    """Whether the counts of one entry found no seedling."""
    return all(_seen(event, run) == counted(0) for event in counts)


def _of_all_spots(counts: Iterable[SeedlingCount], run: Run) -> bool:
    """Whether the counts of one entry are of every spot that was sown, or of every spot where no sowing is recorded."""
    spots = frozenset[str]().union(*(_scope(event, run) for event in counts))
    sown = frozenset[str]().union(*(_spots(event, run) for event in run.rows.of(Sowing)))
    return spots >= (sown or frozenset(run.setup.plant_ids))


def _visits(run: Run) -> Iterator[tuple[SeedlingCount, ...]]:
    """The counts of each entry, in order."""
    for _, events in groupby(_counts(run), key=lambda event: event.entry):
        yield tuple(events)


def _steps(run: Run) -> tuple[CountStep, ...]:
    """One step for each entry that counted; none in some of the spots says nothing of the others."""
    so_far: list[SeedlingCount] = []
    steps = []
    for events in _visits(run):
        so_far += events
        if _found_none(events, run) and not _of_all_spots(events, run):
            continue
        up, last = seedlings_up(_spot_counts(so_far, run)), events[-1]
        of = _seeds_by(run, last.day.last)
        steps.append(CountStep(last.day, round(up.low), of, last.source, least=not up.single))
    return tuple(steps)


def _late_sowings(run: Run) -> Remark | None:
    counts = _counts(run)
    late = [e for e in run.rows.of(Sowing) if counts and e.day.first > counts[-1].day.last]
    return counted_remark("sowings_after_last_count", len(late))


def _share(run: Run, up: Quantity | None) -> Figure:
    rows = [event.source for event in run.rows.of(Sowing)] + [event.source for event in _counts(run)]
    part, whole = None if up is None else _whole(up), _seeds_by(run)
    if part is None or whole is None:
        missing = remark("seedlings_not_counted" if part is None else "seeds_not_counted")
        return figure("germination.share", None, wilson_interval, rows, missing)
    share = share_of(part, whole)
    why = _late_sowings(run) if share else remark("more_seedlings_than_seeds")
    return figure("germination.share", share, wilson_interval, rows, why)


def _by_spot(run: Run) -> tuple[Named, ...]:
    """Seedlings of each spot that was counted by itself."""
    found = []
    for plant in run.setup.plant_ids:
        scope = frozenset((plant,))
        events = [event for event in _counts(run) if _scope(event, run) == scope]
        if events:
            found.append(Named(plant, Label(plant), _spot(run, plant, events)))
    return tuple(found)


def _spot(run: Run, plant: str, events: Sequence[SeedlingCount]) -> Figure:
    name, rows = f"germination.by_spot.{plant}", [event.source for event in events]
    up = seedlings_up(_spot_counts(events, run))
    sowings = [e for e in run.rows.of(Sowing) if plant in _spots(e, run)]
    each = [e.seeds for e in sowings if e.seeds and (e.each or _spots(e, run) == {plant})]
    seeds = _whole(seeds_sown(each)) if sowings and len(each) == len(sowings) else None
    share: Share | None = None
    if seeds and (part := _whole(up)) is not None:
        share = share_of(part, seeds)
    if share is None:
        return figure(name, up, seedlings_up, rows)
    return figure(name, share, wilson_interval, [*rows, *(event.source for event in sowings)])


def _first_day(run: Run, seen: Sequence[SeedlingCount]) -> Figure:
    """The first seedling, with the last look before it that found none up."""
    none = [events for events in _visits(run) if _found_none(events, run) and _of_all_spots(events, run)]
    sown = min((event.day.first for event in run.rows.of(Sowing)), default=0)
    first = first_seedling([event.day for event in seen], [events[0].day for events in none], sown)
    found = min((event.day for event in seen), key=by_day, default=None)
    before = [e for e in none if found is None or by_day(e[0].day) < by_day(found)]
    last = max(before, key=lambda events: by_day(events[0].day), default=())
    rows = [event.source for event in (*seen, *last) if first and (event in last or event.day == found)]
    said = remark("none_up_on", day=last[0].day) if last else None
    return figure("germination.first_day", first, first_seedling, rows, said)


def _last_day(steps: Sequence[CountStep]) -> Figure:
    """The day of the last count that had more than the one before."""
    counts = [0, *(step.count for step in steps)]
    rises = [step for before, step in zip(counts, steps, strict=False) if step.count > before]
    last = last_day(step.day for step in rises)
    rows = (step.source for step in rises if meet(step.day, last))
    return figure("germination.last_day", last, last_day, rows, None if last else NOT_RECORDED)


def germination_of(run: Run) -> Germination:
    """The germination of a run."""
    sowings, counts = run.rows.of(Sowing), _counts(run)
    sown = seeds_sown(_seeds(event) for event in sowings) if sowings else None
    up = seedlings_up(_spot_counts(counts, run)) if counts else None
    seen = [event for event in counts if _seen(event, run).low > 0]
    steps, share = _steps(run), _share(run, up)
    uncounted = counted_remark("sowings_not_counted", sown.unweighed if sown else 0)
    return Germination(
        sown=figure("germination.sown", sown, seeds_sown, (e.source for e in sowings), uncounted),
        sprouted=figure(
            "germination.sprouted",
            up,
            seedlings_up,
            (e.source for e in counts),
            remark("not_counted") if up and not up.single else None,
        ),
        share=share,
        first_day=_first_day(run, seen),
        steps=steps,
        by_spot=_by_spot(run),
        last_day=_last_day(steps),
        rate=emergence_rates(run, steps, up),
        claims=germination_claims(run, share),
    )


Comparison = Literal["below", "in keeping", "above"]
_COMPARISONS: dict[Comparison, RemarkCode] = {
    "below": "claim_below",
    "in keeping": "claim_met",
    "above": "claim_above",
}


@formula(reads=("claims.germination",), exact_if={"a standard claims it": ("claims.germination",)})
def share_against(share: Share, claimed: Quantity) -> Comparison:
    """Share compared with a claim.

    Whether a count contradicts the share claimed for the seed, or the one that a standard names.

    Parameters
    ----------
    share
        What came up, with its 95 % interval [share from 0 to 1].
    claimed
        What is claimed [%].

    Returns
    -------
    str
        `below` where the whole interval lies under the claim, `above` where it lies over it, else `in keeping`.

    Notes
    -----
    With the interval from l to u and the claim from c₁ to c₂::

        below: u < c₁      above: l > c₂      fits: else

    A home tray is no seed test: those take 400 seeds and give them the best conditions (7 CFR 201.54).

    """
    if 100 * share.high < claimed.low:
        return "below"
    return "above" if claimed.high is not None and 100 * share.low > claimed.high else "in keeping"


def _against(
    name: str,
    share: Figure,
    claimed: Quantity | None,
    rows: Iterable[Source],
    said: Remark | None,
    *,
    least: bool = False,
) -> Figure:
    """The claim as a value, and a remark on how the count compares with it."""
    path = f"germination.claims.{name}"
    if claimed is None:
        return figure(path, None, share_against, (), said)
    if not isinstance(share.value, Share):
        return figure(path, claimed, share_against, rows, said, remark("claim_without_count"))
    # More than a least share breaks no promise.
    wanted = replace(claimed, high=None) if least else claimed
    found = remark(_COMPARISONS[share_against(share.value, wanted)])
    return figure(path, claimed, share_against, rows, said, found)


def germination_claims(run: Run, share: Figure) -> GerminationClaims:
    """The share claimed for the seed, and the legal minimum where the crop has one."""
    setup, standard = run.setup, standard_of(run.setup.crop)
    claimed = setup.seed.claims.germination if setup.seed else None
    said = claimant(setup.seed) if claimed else remark("no_share_claimed")
    least = exactly(standard.percent, Dimension.SHARE, 1) if standard else None
    test = (
        remark("minimum_of_test", source=SOURCE, seeds=TEST_SEEDS) if standard else remark("minimum_unknown")
    )
    return GerminationClaims(
        _against("seed", share, claimed, (*share.rows, setup.at("seed")), said),
        _against("standard", share, least, share.rows or (setup.at("crop"),), test, least=True),
    )
