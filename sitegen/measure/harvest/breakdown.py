"""Picks as counts, and yields of single plants, groups, varieties and tubs.

In: picks made ready. Out: numbers of picks, of pieces and of flushes; one `Named` figure for each part, and remarks
on weights. A weight counts for a plant only if that plant alone was weighed, for a group only if all its plants
belong to the group. Never takes a pick without a count for one of nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from sitegen.core.facts.figure import Figure, Label, Named, Remark, counted_remark
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Pick
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.totals import HarvestRecords, Weighing, total_weight
from sitegen.measure.methods import figure, formula

FLUSH_GAP_DAYS = 14  # common practice, no source: a plant cut or stripped bare needs about two weeks


@formula
def pick_count(picks: Sequence[Pick]) -> Quantity:
    """Picks logged.

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


@formula
def piece_count(pieces: Iterable[Weighing]) -> Quantity:
    """Pieces picked.

    The counts of all picks; a lower bound where a pick was not counted.

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


@formula
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


Remarks = tuple[Remark | None, ...]


def weight_remarks(weighings: Sequence[Weighing], weights: Sequence[Quantity] | None = None) -> Remarks:
    """Remarks on a sum of weights: not weighed, by eye, at least, bounded by a tally.

    `weights` are the amounts left after tallies took the place of picks; without them, each pick's own.
    """
    amounts = [item.amount for item in weighings] if weights is None else weights
    return (
        counted_remark("picks_not_weighed", sum(q.unweighed for q in amounts)),
        counted_remark("picks_by_eye", sum(q.by_eye for q in amounts)),
        counted_remark("weights_are_lower_bounds", sum(q.open for q in amounts)),
        counted_remark("picks_between_tallies", sum(item.bounded for item in weighings)),
    )


def _others(item: Weighing, scope: frozenset[str], records: HarvestRecords) -> tuple[str, ...]:
    """The plants that a weight was shared with; none where they are too many or not known."""
    rest = tuple(plant for plant in records.run.setup.plant_ids if plant in item.scope - scope)
    return rest if len(rest) <= 3 and item.scope != records.everyone else ()


def _shared_remarks(shared: Sequence[Weighing], scope: frozenset[str], records: HarvestRecords) -> Remarks:
    picks = [item for item in shared if not item.left]
    with_whom = {_others(item, scope, records) for item in picks}
    plants = with_whom.pop() if len(with_whom) == 1 else ()
    together = (
        counted_remark("picks_with_plants", len(picks), plants=plants)
        if plants
        else counted_remark("picks_with_other_plants", len(picks))
    )
    return together, _tally_remark(shared)


def _tally_remark(shared: Sequence[Weighing]) -> Remark | None:
    return counted_remark("tallies_cover_others", sum(item.left for item in shared))


def _named(
    records: HarvestRecords,
    weighings: Sequence[Weighing],
    scopes: Mapping[str, frozenset[str]],
    path: str,
    labels: Mapping[str, str],
) -> tuple[Named, ...]:
    """One figure for each scope, from the weights that lie in it; the rest is said."""
    if not weighings:
        return ()
    found = []
    for key, scope in scopes.items():
        own = [item for item in (*weighings, *_own_tallies(records, scope)) if item.scope <= scope]
        shared = [item for item in weighings if item.scope & scope and not item.scope <= scope]
        value = None if shared and not own else total_weight(own)
        remarks = (*weight_remarks(own), *_shared_remarks(shared, scope, records))
        rows = [item.source for item in (*own, *shared)]
        made = figure(f"harvest.{path}.{key}", value, total_weight, rows, *remarks)
        found.append(Named(key, Label(labels.get(key, key)), made))
    return tuple(found)


def _own_tallies(records: HarvestRecords, scope: frozenset[str]) -> list[Weighing]:
    """Running tallies of these plants alone."""
    return [item for item in records.everything if item.holds == "tally" and item.scope <= scope]


def by_plant(records: HarvestRecords, weighings: Sequence[Weighing]) -> tuple[Named, ...]:
    """Each plant's own picks."""
    scopes = {plant: frozenset((plant,)) for plant in records.run.setup.plant_ids}
    return _named(records, weighings, scopes, "by_plant", {})


def by_group(records: HarvestRecords, weighings: Sequence[Weighing]) -> tuple[Named, ...]:
    """Picks of each group's plants."""
    scopes = {group: frozenset(plants) for group, plants in records.run.setup.groups}
    return _named(records, weighings, scopes, "by_group", {})


def by_variety(records: HarvestRecords, weighings: Sequence[Weighing]) -> tuple[Named, ...]:
    """Picks of each variety's plants."""
    setup = records.run.setup
    scopes = {
        variety: frozenset(plant.id for plant in setup.plants if plant.variety == variety)
        for variety in setup.variety_ids
    }
    labels = {variety: setup.variety_name(variety) for variety in scopes}
    return _named(records, weighings, scopes, "by_variety", labels)


def by_tub(records: HarvestRecords, weighings: Sequence[Weighing]) -> tuple[Named, ...]:
    """Picks of the plants that stood in each tub on the day of the pick."""
    tubs = records.run.setup.tubs
    labels = {tub.id: tub.system.name if len(tubs) == 1 else tub.id for tub in tubs}
    return tuple(
        Named(tub, Label(label), _of_tub(records, weighings, tub))
        for tub, label in labels.items()
        if weighings
    )


def _of_tub(records: HarvestRecords, weighings: Sequence[Weighing], tub: str) -> Figure:
    roster = Roster.of(records.run.setup, records.run.rows)
    scope = frozenset(f"{plant}@{tub}" for plant in records.run.setup.plant_ids)
    tallies = _own_tallies(records, records.everyone)
    own = [item for item in (*weighings, *tallies) if _placed(item, roster) <= scope]
    shared = [item for item in weighings if _placed(item, roster) & scope and item not in own]
    return figure(
        f"harvest.by_tub.{tub}",
        None if shared and not own else total_weight(own),
        total_weight,
        [item.source for item in (*own, *shared)],
        *weight_remarks(own),
        counted_remark("picks_with_another_tub", sum(not item.left for item in shared)),
        _tally_remark(shared),
    )


def _placed(item: Weighing, roster: Roster) -> frozenset[str]:
    """The plants of a weight, each with the tub it stood in."""
    return frozenset(f"{plant}@{roster.tub_of(plant, item.order[0])}" for plant in item.scope)
