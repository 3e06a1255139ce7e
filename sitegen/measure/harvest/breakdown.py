"""Yields of single plants, groups, varieties and tubs.

In: picks made ready. Out: one `Named` figure each, and remarks on weights. A weight counts for a
plant only if that plant alone was weighed, for a group only if all its plants belong to the group.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.remark import Label, Remark, counted_remark
from sitegen.core.records.roster import Roster
from sitegen.core.values.quantity import Quantity
from sitegen.measure.harvest.totals import HarvestRecords, Weighing, total_weight
from sitegen.measure.working import figure

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
