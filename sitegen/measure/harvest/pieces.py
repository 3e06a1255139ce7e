"""Pieces picked, and what of them was spoilt: by number and by weight.

In: the picks and tallies of a run. Out: the figures of pieces and spoilt pieces, and `Culls`. A pick that does not say
what was spoilt is never taken for a sound one. A share is given only where each pick says both of its numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import NOT_RECORDED, Figure, Remark, Value, counted_remark, remark
from sitegen.core.facts.indices import Culls
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Pick
from sitegen.core.values.quantity import Quantity, counted, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.parts import weights_in
from sitegen.measure.harvest.picks import piece_count
from sitegen.measure.harvest.totals import HarvestRecords, Weighing, parts_of, total_weight
from sitegen.measure.methods import WEIGHTS, Column, Conditions, coarse, figure, formula
from sitegen.measure.ranges import share_of, wilson_interval

PERCENT = 100.0
SPOILT: tuple[Column, ...] = (
    "picks.spoilt",
    "picks.spoilt_weight",
    "picks.count",
    "picks.weight",
    "picks.earlier",
)
SPOILT_HELD: Conditions = {"a later weight holds it": tuple(dict.fromkeys((*WEIGHTS, *SPOILT)))}


@formula(reads=SPOILT, exact_if=SPOILT_HELD)
def spoilt_weight(weighings: Iterable[Weighing]) -> Quantity:
    """Weight of what was spoilt.

    Of all picks: what was weighed of their spoilt pieces, nothing of a pick without any, and all of a pick of which
    every piece was spoilt. A pick that does not say makes it "at least", and so does a total so
    far that is more than its picks.

    Parameters
    ----------
    weighings
        The spoilt part of each pick [g].

    Returns
    -------
    Quantity
        Spoilt in all [g].

    Notes
    -----
    ::

        spoilt = Σ spoilt weight

    """
    return total_weight(weighings)


@formula(reads=(*WEIGHTS, *SPOILT), exact_if=SPOILT_HELD)
def spoilt_share(spoilt: float, picked: float) -> float:
    """Share that was spoilt, by weight.

    Given where every pick was weighed and says the weight of its spoilt part.

    Parameters
    ----------
    spoilt
        Weight of what was spoilt [g].
    picked
        Total picked, more than 0 [g].

    Returns
    -------
    float
        Share [%].

    Notes
    -----
    ::

        share = 100 · spoilt / total, at most 100

    """
    return min(PERCENT, PERCENT * spoilt / picked)


@formula(reads=(*WEIGHTS, *SPOILT), exact_if=SPOILT_HELD)
def sound_weight(picked: float, spoilt: float) -> float:
    """Harvest without what was spoilt.

    Parameters
    ----------
    picked
        Total picked [g].
    spoilt
        Weight of what was spoilt; of a pick that does not say, from nothing to all of it [g].

    Returns
    -------
    float
        What was left [g].

    Notes
    -----
    ::

        sound = total - spoilt

    References
    ----------
    By definition of the quantities.

    """
    return max(0.0, picked - spoilt)


def _beyond_picks(records: HarvestRecords) -> list[tuple[Weighing, Quantity]]:
    """The running tallies that are certainly above the weights before them, each with that surplus."""
    return [
        (item, beyond)
        for part in parts_of(records.everything)
        for item, beyond in weights_in(part)
        if item.holds == "tally" and beyond.low > beyond.step / 2
    ]


def _not_logged(records: HarvestRecords, dimension: Dimension) -> list[Weighing]:
    """The unknown amounts of picks that were not logged but are in a running tally."""
    return [replace(item, amount=unknown(dimension), holds="") for item, _ in _beyond_picks(records)]


def _tallied_remark(records: HarvestRecords) -> Remark | None:
    return counted_remark("tallies_above_picks", len(_beyond_picks(records)))


def _counts(records: HarvestRecords, counts: Sequence[int | None]) -> Quantity:
    """The sum of counts, one for each pick; None where a pick has none."""
    weighings = [
        records.weighing(pick, counted(count) if count is not None else unknown(Dimension.COUNT))
        for pick, count in zip(records.picks, counts, strict=True)
    ]
    return piece_count([*weighings, *_not_logged(records, Dimension.COUNT)])


def pieces_of(records: HarvestRecords) -> Figure:
    """The pieces of all picks."""
    picks = records.picks
    uncounted = sum(pick.count is None for pick in picks)
    if not picks or uncounted == len(picks):
        return figure("harvest.pieces", None, piece_count, (), remark("not_counted") if picks else None)
    rows = (pick.source for pick in picks if pick.count is not None)
    return figure(
        "harvest.pieces",
        _counts(records, [pick.count for pick in picks]),
        piece_count,
        rows,
        counted_remark("picks_not_counted", uncounted),
        _tallied_remark(records),
    )


def spoilt_of(records: HarvestRecords, pieces: Value) -> Figure:
    """A share where each pick says its pieces and how many were spoilt; else the number that is known."""
    picks, name = records.picks, "harvest.spoilt"
    saying = [pick for pick in picks if pick.spoilt is not None]
    rows = [pick.source for pick in saying]
    if not saying:
        return figure(name, None, piece_count, (), NOT_RECORDED if picks else None)
    spoilt = _counts(records, [pick.spoilt for pick in picks])
    unsaid = counted_remark("picks_without_spoilt", len(picks) - len(saying))
    if isinstance(pieces, Quantity) and pieces.single and spoilt.single:
        return figure(name, share_of(round(spoilt.low), round(pieces.low)), wilson_interval, rows)
    known = spoilt if spoilt.low or spoilt.high is not None else None
    return figure(
        name,
        known,
        piece_count,
        rows,
        _of_pieces(pieces) if known else None,
        unsaid,
        _tallied_remark(records) if not isinstance(pieces, Quantity) else None,
    )


def _of_pieces(pieces: Value) -> Remark:
    """The number of pieces that the spoilt ones are of."""
    if not isinstance(pieces, Quantity):
        return remark("spoilt_of_unknown_number")
    return remark("of_pieces" if pieces.single else "of_at_least_pieces", pieces=round(pieces.low))


def _spoilt_part(pick: Pick) -> Quantity:
    """The weight of the spoilt part of a pick, as far as it says."""
    if pick.spoilt_weight is not None:
        return pick.spoilt_weight
    if pick.spoilt == 0:
        return total((), Dimension.MASS)
    return pick.weight if pick.spoilt is not None and pick.spoilt == pick.count else unknown(Dimension.MASS)


def _at_most(amount: Quantity, whole: Quantity) -> Quantity:
    """An amount that is a part of another."""
    highs = [high for high in (amount.high, whole.high) if high is not None]
    return replace(amount, high=max(amount.low, min(highs)) if highs else None)


def culls_of(records: HarvestRecords, picked: Figure) -> Culls:
    """The spoilt part of the harvest by weight; nothing where no pick gives such a weight."""
    picks = records.picks
    if all(pick.spoilt_weight is None for pick in picks):
        return Culls()
    parts = [_spoilt_part(pick) for pick in picks]
    spoilt = spoilt_weight(
        [
            *(records.weighing(pick, part) for pick, part in zip(picks, parts, strict=True)),
            *_not_logged(records, Dimension.MASS),
        ]
    )
    said = (
        counted_remark("spoilt_parts_not_weighed", sum(part.unweighed for part in parts)),
        _tallied_remark(records),
    )
    rows = [p.source for p in picks if p.spoilt_weight is not None or p.spoilt is not None]
    return Culls(
        figure("harvest.culls.weight", spoilt if spoilt.known else None, spoilt_weight, rows, *said),
        _share(spoilt, picked, rows, said),
        _sound(records, spoilt, picked, said),
    )


def _share(spoilt: Quantity, picked: Figure, rows: Sequence[Source], said: Sequence[Remark | None]) -> Figure:
    name, whole = "harvest.culls.share", picked.value
    both = (*rows, *picked.rows)
    known = isinstance(whole, Quantity) and whole.low > 0 and not whole.unweighed
    if not isinstance(whole, Quantity) or not known or spoilt.unweighed or spoilt.high is None:
        return figure(name, None, spoilt_share, both, *said, *picked.remarks)
    typical = PERCENT * spoilt.middle / whole.middle
    step = coarse(PERCENT * max(spoilt.step, whole.step) / whole.middle, typical)
    value = propagate(
        spoilt_share, increasing=[spoilt], decreasing=[whole], dimension=Dimension.SHARE, step=step
    )
    return figure(name, value, spoilt_share, both, *picked.remarks)


def _sound(
    records: HarvestRecords, spoilt: Quantity, picked: Figure, said: Sequence[Remark | None]
) -> Figure:
    """The total without what was spoilt, of which a pick has no more than its own weight."""
    name, whole = "harvest.culls.sound", picked.value
    if not isinstance(whole, Quantity):
        return figure(name, None, sound_weight, picked.rows, *said)
    most = total_weight(
        [
            *(records.weighing(pick, _at_most(_spoilt_part(pick), pick.weight)) for pick in records.picks),
            *(
                replace(item, amount=_at_most(unknown(Dimension.MASS), beyond), holds="")
                for item, beyond in _beyond_picks(records)
            ),
        ]
    )
    spoilt = replace(spoilt, high=most.high if most.high is None else max(spoilt.low, most.high))
    value = propagate(
        sound_weight,
        increasing=[whole],
        decreasing=[spoilt],
        dimension=Dimension.MASS,
        step=total((whole, spoilt), Dimension.MASS).step,
    )
    known = value.low > 0 or value.high is not None
    return figure(name, value if known else None, sound_weight, picked.rows, *picked.remarks, *said)
