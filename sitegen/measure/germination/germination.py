"""Seeds sown and seedlings up.

In: sowings and sprouted counts. Out: `Germination`. Counts are cumulative: a count said again adds nothing, one that
holds another is never added to it, and where nobody counted there is no share.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
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
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run, SeedlingCount, Sowing
from sitegen.core.reference.germination_standards import SOURCE, TEST_SEEDS, standard_of
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.counts import (
    counts_of,
    found_none,
    of_all_spots,
    scope_of,
    seedlings_up,
    seeds_of,
    seeds_sown,
    sowings_of,
    spot_counts,
    spots_of,
    visits_of,
)
from sitegen.measure.germination.emergence import emergence_rates
from sitegen.measure.germination.first_seedling import first_day_of_run
from sitegen.measure.methods import figure, formula
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import last_day, meet


def _whole(quantity: Quantity) -> int | None:
    return round(quantity.low) if quantity.exact else None


def _seeds_by(run: Run, day: int | None = None) -> int | None:
    """Seeds sown by a day: from the sowings, else from the number that a count was out of."""
    sowings = sowings_of(run, day)
    if sowings and (known := _whole(seeds_sown(seeds_of(event) for event in sowings))) is not None:
        return known
    said_of = [_out_of(e) for e in counts_of(run) if day is None or e.day.first <= day]
    return next((of for of in reversed(said_of) if of), None)


def _out_of(event: SeedlingCount) -> int | None:
    return event.out_of or (event.which.of if event.which else None)


def _steps(run: Run) -> tuple[CountStep, ...]:
    """One step for each entry that counted; none in some of the spots says nothing of the others."""
    so_far: list[SeedlingCount] = []
    steps = []
    for events in visits_of(run):
        so_far += events
        if found_none(events, run) and not of_all_spots(events, run):
            continue
        up, last = seedlings_up(spot_counts(so_far, run)), events[-1]
        of = _seeds_by(run, last.day.last)
        steps.append(CountStep(last.day, round(up.low), of, last.source, least=not up.single))
    return tuple(steps)


def _late_sowings(run: Run) -> Remark | None:
    counts = counts_of(run)
    late = [e for e in run.rows.of(Sowing) if counts and e.day.first > counts[-1].day.last]
    return counted_remark("sowings_after_last_count", len(late))


def _share(run: Run, up: Quantity | None) -> Figure:
    rows = [event.source for event in run.rows.of(Sowing)] + [event.source for event in counts_of(run)]
    part, whole = None if up is None else _whole(up), _seeds_by(run)
    if part is None or whole is None:
        missing = (
            remark("seeds_not_counted")
            if part is not None
            else remark("seedlings_not_all_counted" if up is not None else "seedlings_not_counted")
        )
        return figure("germination.share", None, wilson_interval, rows, missing)
    share = share_of(part, whole)
    why = _late_sowings(run) if share else remark("more_seedlings_than_seeds")
    return figure("germination.share", share, wilson_interval, rows, why)


def _by_spot(run: Run) -> tuple[Named, ...]:
    """Seedlings of each spot that was counted by itself."""
    found = []
    for plant in run.setup.plant_ids:
        scope = frozenset((plant,))
        events = [event for event in counts_of(run) if scope_of(event, run) == scope]
        if events:
            found.append(Named(plant, Label(plant), _spot(run, plant, events)))
    return tuple(found)


def _spot(run: Run, plant: str, events: Sequence[SeedlingCount]) -> Figure:
    name, rows = f"germination.by_spot.{plant}", [event.source for event in events]
    up = seedlings_up(spot_counts(events, run))
    sowings = [e for e in run.rows.of(Sowing) if plant in spots_of(e, run)]
    each = [e.seeds for e in sowings if e.seeds and (e.each or spots_of(e, run) == {plant})]
    seeds = _whole(seeds_sown(each)) if sowings and len(each) == len(sowings) else None
    share: Share | None = None
    if seeds and (part := _whole(up)) is not None:
        share = share_of(part, seeds)
    if share is None:
        return figure(name, up, seedlings_up, rows)
    return figure(name, share, wilson_interval, [*rows, *(event.source for event in sowings)])


def _last_day(steps: Sequence[CountStep]) -> Figure:
    """The day of the last count that had more than the one before."""
    counts = [0, *(step.count for step in steps)]
    rises = [step for before, step in zip(counts, steps, strict=False) if step.count > before]
    last = last_day(step.day for step in rises)
    rows = (step.source for step in rises if meet(step.day, last))
    return figure("germination.last_day", last, last_day, rows, None if last else NOT_RECORDED)


def germination_of(run: Run) -> Germination:
    """The germination of a run."""
    sowings, counts = run.rows.of(Sowing), counts_of(run)
    sown = seeds_sown(seeds_of(event) for event in sowings) if sowings else None
    up = seedlings_up(spot_counts(counts, run)) if counts else None
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
        first_day=first_day_of_run(run),
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

        below: u < c₁
        above: l > c₂
        fits: else

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
