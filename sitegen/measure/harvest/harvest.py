"""The harvest: totals, by plant, group, variety, tub, part, grade and flush.

In: picks and running tallies. Out: `Harvest`. A weight for several plants together is never split; what was
not weighed is never taken for nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sitegen.core.facts.figure import (
    NOT_RECORDED,
    NOT_SAID,
    Figure,
    Label,
    LabelKind,
    Named,
    counted_remark,
    remark,
)
from sitegen.core.facts.tree import CumulativePoint, Harvest
from sitegen.core.records.rows import Run
from sitegen.core.site.addresses import slug
from sitegen.core.values.quantity import Quantity, counted, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.breakdown import (
    by_group,
    by_plant,
    by_tub,
    by_variety,
    flush_numbers,
    pick_count,
    piece_count,
    weight_remarks,
)
from sitegen.measure.harvest.totals import (
    HarvestRecords,
    bounded,
    parts_of,
    running_parts,
    total_weight,
    weight_kept_together,
)
from sitegen.measure.methods import figure, formula
from sitegen.measure.ranges import share_of, wilson_interval
from sitegen.measure.run.axis import first_day, last_day, meet


@formula
def weight_per_spot(picked: Quantity, spots: int) -> Quantity:
    """Yield of a spot.

    The total over every spot that was sown, those whose plant was lost included.

    Parameters
    ----------
    picked
        Total picked [g].
    spots
        Spots sown [count].

    Returns
    -------
    Quantity
        Yield [g a spot], rounded to the coarsest weight that went in.

    Notes
    -----
    ::

        yield = total / spots

    """
    return propagate(lambda w: w / spots, increasing=[picked], dimension=Dimension.MASS, step=picked.step)


def _pieces(records: HarvestRecords) -> Figure:
    picks = records.picks
    uncounted = sum(pick.count is None for pick in picks)
    if not picks or uncounted == len(picks):
        return figure("harvest.pieces", None, piece_count, (), remark("not_counted") if picks else None)
    weighings = [
        records.weighing(pick, counted(pick.count) if pick.count is not None else unknown(Dimension.COUNT))
        for pick in picks
    ]
    rows = (pick.source for pick in picks if pick.count is not None)
    unsaid = counted_remark("picks_not_counted", uncounted)
    return figure("harvest.pieces", piece_count(weighings), piece_count, rows, unsaid)


def _spoilt(records: HarvestRecords) -> Figure:
    picks = [pick for pick in records.picks if pick.spoilt is not None]
    rows = [pick.source for pick in picks]
    spoilt = sum(pick.spoilt or 0 for pick in picks)
    if not picks:
        return figure("harvest.spoilt", None, piece_count, (), NOT_RECORDED if records.picks else None)
    if any(pick.count is None for pick in picks):
        return figure(
            "harvest.spoilt", counted(spoilt), piece_count, rows, remark("spoilt_of_unknown_number")
        )
    share = share_of(spoilt, sum(pick.count or 0 for pick in picks))
    unsaid = counted_remark("picks_without_spoilt", len(records.picks) - len(picks))
    return figure("harvest.spoilt", share, wilson_interval, rows, unsaid)


def _sorted_out(
    records: HarvestRecords, path: str, key_of: Callable[[int], tuple[str, Label]]
) -> tuple[Named, ...]:
    """Totals of picks that share a key, in the order in which the keys first appear."""
    keys = [key_of(position) for position in range(len(records.picks))]
    found = []
    for key, label in dict(keys).items():
        picks = [pick for pick, (other, _) in zip(records.picks, keys, strict=True) if other == key]
        weights = [records.weighing(pick) for pick in picks]
        value = figure(
            f"harvest.{path}.{key}",
            total_weight(weights),
            total_weight,
            (pick.source for pick in picks),
            *weight_remarks(weights),
        )
        found.append(Named(key, label, value))
    return tuple(found)


def _by_word(
    records: HarvestRecords, path: str, words: Sequence[str], kind: LabelKind = ""
) -> tuple[Named, ...]:
    """By part or grade; nothing where the log never names one."""
    if not any(words):
        return ()
    labels: dict[str, Label] = {}
    for word in words:
        labels.setdefault(slug(word) or word or "not-said", Label(word, kind) if word else NOT_SAID)

    def key_of(position: int) -> tuple[str, Label]:
        key = slug(words[position]) or words[position] or "not-said"
        return key, labels[key]

    return _sorted_out(records, path, key_of)


def _by_flush(records: HarvestRecords) -> tuple[Named, ...]:
    """By flush, where there was more than one or the log numbers them."""
    numbers = flush_numbers(records.picks)
    if len(set(numbers)) < 2 and not any(pick.flush for pick in records.picks):
        return ()
    return _sorted_out(records, "by_flush", lambda at: (str(numbers[at]), Label(str(numbers[at]), "flush")))


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
        *weight_remarks(records.everything, weights),
        counted_remark("picks_may_hold_earlier", unclear),
    )


def _shared(records: HarvestRecords) -> Figure:
    together = [part for part in parts_of(records.everything) if len(part.scope) != 1]
    rows = [row for part in together for row in part.rows]
    value = weight_kept_together(records.everything) if records.everything else None
    apart = remark("not_kept_by_plant") if together else None
    return figure("harvest.shared", value, weight_kept_together, rows, apart)


def _per_spot(records: HarvestRecords, picked: Figure) -> Figure:
    spots = len(records.run.setup.plants)
    value = picked.value
    yielded = weight_per_spot(value, spots) if isinstance(value, Quantity) and spots else None
    return figure("harvest.per_spot", yielded, weight_per_spot, picked.rows, *picked.remarks)


def harvest_of(run: Run) -> Harvest:
    """Everything picked."""
    records = HarvestRecords.of(run)
    picks, picked = records.picks, _total(records)
    first, last = first_day(p.day for p in picks), last_day(p.day for p in picks)
    single = bounded(records.everything, records.everyone)
    return Harvest(
        total=picked,
        picks=figure("harvest.picks", pick_count(picks), pick_count, (p.source for p in picks)),
        first_pick=figure(
            "harvest.first_pick", first, first_day, (p.source for p in picks if meet(p.day, first))
        ),
        last_pick=figure("harvest.last_pick", last, last_day, (p.source for p in picks if meet(p.day, last))),
        pieces=_pieces(records),
        spoilt=_spoilt(records),
        per_spot=_per_spot(records, picked),
        shared=_shared(records),
        by_plant=by_plant(records, single),
        by_group=by_group(records, single),
        by_variety=by_variety(records, single),
        by_tub=by_tub(records, single),
        by_part=_by_word(records, "by_part", [pick.part for pick in picks], "part"),
        by_grade=_by_word(records, "by_grade", [pick.grade for pick in picks]),
        by_flush=_by_flush(records),
        cumulative=_cumulative(records),
    )
