"""The harvest: totals, by plant, group, variety, tub, part, grade and flush.

In: picks and running tallies. Out: `Harvest`. A weight for several plants together is never split; what was
not weighed is never taken for nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.figure import (
    Figure,
    Label,
    LabelKind,
    Named,
    counted_remark,
    remark,
)
from sitegen.core.facts.tree import CumulativePoint, Harvest
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.site.addresses import slug
from sitegen.core.values.quantity import Quantity, propagate, total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.breakdown import (
    breakdown,
    flush_cells,
    group_cells,
    plant_cells,
    rest_of,
    tub_cells,
    variety_cells,
    weight_remarks,
    word_cells,
)
from sitegen.measure.harvest.parts import weight_of_row
from sitegen.measure.harvest.picks import (
    flush_bounds,
    flush_numbers,
    pick_count,
)
from sitegen.measure.harvest.pieces import culls_of, pieces_of, spoilt_of
from sitegen.measure.harvest.totals import (
    HELD,
    HarvestRecords,
    parts_of,
    running_parts,
    total_weight,
)
from sitegen.measure.methods import WEIGHTS, figure, formula
from sitegen.measure.run.axis import first_day, last_day, meet

TOGETHER = Label("together", "site")


@formula(reads=WEIGHTS, exact_if=HELD)
def weight_per_spot(picked: Quantity, spots: int) -> Quantity:
    """Harvest per spot.

    The total divided by every spot sown, counting those whose plant was lost.

    Parameters
    ----------
    picked
        Total picked [g].
    spots
        Spots sown [count].

    Returns
    -------
    Quantity
        Harvest per spot [g], rounded to the coarsest weight that went in.

    Notes
    -----
    ::

        yield = total / spots

    """
    return propagate(lambda w: w / spots, increasing=[picked], dimension=Dimension.MASS, step=picked.step)


def _by_word(
    records: HarvestRecords, path: str, words: Sequence[str], kind: LabelKind = ""
) -> tuple[Named, ...]:
    """By part or grade; nothing where the log never names one."""
    said: dict[Source, tuple[str, Label]] = {}
    labels: dict[str, Label] = {}
    for pick, word in zip(records.picks, words, strict=True):
        if word:
            key = slug(word) or word
            said[pick.source] = (key, labels.setdefault(key, Label(word, kind)))
    return breakdown(records, path, word_cells(said)) if said else ()


def _by_flush(records: HarvestRecords) -> tuple[Named, ...]:
    """By flush, where there was more than one or the log numbers them."""
    numbers = flush_numbers(records.run, records.picks)
    if len(set(numbers)) < 2 and not any(pick.flush for pick in records.picks):
        return ()
    bounds = flush_bounds(records.run, records.picks)
    possible = dict(zip((pick.source for pick in records.picks), bounds, strict=True))
    return breakdown(records, "by_flush", flush_cells(sorted(set(numbers)), possible))


def _cumulative(records: HarvestRecords) -> tuple[CumulativePoint, ...]:
    """The running total after each pick and tally."""
    parts = {pick.source: pick.part for pick in records.picks}
    days = {pick.source: pick.day for pick in records.picks}
    days |= {tally.source: tally.day for tally in records.tallies}
    points = []
    everything = records.everything
    for item, parts_now in zip(everything, running_parts(everything), strict=True):
        so_far = total((part.amount for part in parts_now), Dimension.MASS)
        picked = total((), Dimension.MASS) if item.holds == "tally" else item.amount
        points.append(
            CumulativePoint(days[item.source], picked, so_far, parts.get(item.source, ""), item.source)
        )
    return tuple(points)


def _total(records: HarvestRecords) -> Figure:
    if not records.everything:
        return figure("harvest.total", None, total_weight, (), remark("no_harvest"))
    weights = [part.amount for part in parts_of(records.everything)]
    unclear = sum(pick.earlier == "unclear" for pick in records.picks)
    return figure(
        "harvest.total",
        total_weight(records.everything),
        total_weight,
        records.rows,
        *weight_remarks(weights),
        counted_remark("picks_may_hold_earlier", unclear),
    )


def _shared(records: HarvestRecords) -> Figure:
    """The remainder of the plants: what was weighed for several of them together."""
    if not records.everything:
        return figure("harvest.shared", None, weight_of_row)
    parts = parts_of(records.everything)
    rest = rest_of(plant_cells(records))
    row = weight_of_row(parts, rest.certain, rest.possible)
    apart = None if row.untouched else remark("not_kept_by_plant")
    return figure("harvest.shared", row.amount, weight_of_row, row.rows, apart)


def _per_spot(records: HarvestRecords, picked: Figure) -> Figure:
    spots = len(records.run.setup.plants)
    value = picked.value
    yielded = weight_per_spot(value, spots) if isinstance(value, Quantity) and spots else None
    return figure("harvest.per_spot", yielded, weight_per_spot, picked.rows, *picked.remarks)


def harvest_of(run: Run) -> Harvest:
    """Everything picked."""
    records = HarvestRecords.of(run)
    picks, picked, pieces = records.picks, _total(records), pieces_of(records)
    days = [pick.day for pick in picks]
    first, last = first_day(days), last_day(days)
    return Harvest(
        total=picked,
        picks=figure("harvest.picks", pick_count(picks), pick_count, (p.source for p in picks)),
        first_pick=figure(
            "harvest.first_pick", first, first_day, (p.source for p in picks if meet(p.day, first))
        ),
        last_pick=figure("harvest.last_pick", last, last_day, (p.source for p in picks if meet(p.day, last))),
        pieces=pieces,
        spoilt=spoilt_of(records, pieces.value),
        per_spot=_per_spot(records, picked),
        shared=_shared(records),
        by_plant=breakdown(records, "by_plant", plant_cells(records), None),
        by_group=breakdown(records, "by_group", group_cells(records), TOGETHER) if run.setup.groups else (),
        by_variety=breakdown(records, "by_variety", variety_cells(records), TOGETHER),
        by_tub=breakdown(records, "by_tub", tub_cells(records), TOGETHER),
        by_part=_by_word(records, "by_part", [pick.part for pick in picks], "part"),
        by_grade=_by_word(records, "by_grade", [pick.grade for pick in picks]),
        by_flush=_by_flush(records),
        cumulative=_cumulative(records),
        culls=culls_of(records, picked),
    )
