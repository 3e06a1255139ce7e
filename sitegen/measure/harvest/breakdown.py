"""What is known of single plants, and of groups, varieties and tubs.

In: picks made ready. Out: one `Named` figure each, and remarks on weights in words. A weight counts for a
plant only if that plant alone was weighed, for a group only if all its plants belong to the group.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.language.text import listed
from sitegen.core.records.roster import Roster
from sitegen.core.values.quantity import Quantity
from sitegen.measure.harvest.totals import Crates, Taken, total_weight
from sitegen.measure.working import figure, remarks, said


def weight_note(taken: Sequence[Taken], weights: Sequence[Quantity] | None = None) -> str:
    """What to say with a sum of weights: not weighed, by eye, at least, bounded by a tally.

    `weights` are the amounts left after tallies took the place of picks; without them, each pick's own.
    """
    amounts = [item.amount for item in taken] if weights is None else weights
    between = sum(item.bounded for item in taken)
    return remarks(
        said(
            "{number} pick was not weighed",
            "{number} picks were not weighed",
            sum(q.unweighed for q in amounts),
        ),
        said(
            "{number} pick was weighed by eye",
            "{number} picks were weighed by eye",
            sum(q.by_eye for q in amounts),
        ),
        said(
            "{number} weight is a lower bound",
            "{number} weights are lower bounds",
            sum(q.open for q in amounts),
        ),
        said(
            "{number} pick follows from running totals", "{number} picks follow from running totals", between
        ),
    )


def _others(item: Taken, scope: frozenset[str], crates: Crates) -> str:
    """The plants that a weight was shared with; nothing where they are too many or not known."""
    rest = [plant for plant in crates.run.setup.plant_ids if plant in item.scope - scope]
    return listed(rest) if len(rest) <= 3 and item.scope != crates.everyone else ""


def _shared_note(shared: Sequence[Taken], scope: frozenset[str], crates: Crates) -> str:
    picks = [item for item in shared if not item.left]
    with_whom = dict.fromkeys(_others(item, scope, crates) for item in picks)
    whom = next(iter(with_whom)) if len(with_whom) == 1 else ""
    return remarks(_together(len(picks), whom), _tally_note(shared))


def _together(picks: int, whom: str) -> str:
    if not whom:
        return said(
            "{number} pick was weighed together with other plants",
            "{number} picks were weighed together with other plants",
            picks,
        )
    return said(
        "{number} pick was weighed together with {plants}",
        "{number} picks were weighed together with {plants}",
        picks,
        plants=whom,
    )


def _tally_note(shared: Sequence[Taken]) -> str:
    left = sum(item.left for item in shared)
    return said(
        "{number} running total covers other plants too",
        "{number} running totals cover other plants too",
        left,
    )


def _named(
    crates: Crates,
    taken: Sequence[Taken],
    scopes: Mapping[str, frozenset[str]],
    path: str,
    labels: Mapping[str, str],
) -> tuple[Named, ...]:
    """One figure for each scope, from the weights that lie in it; the rest is said."""
    if not taken:
        return ()
    found = []
    for key, scope in scopes.items():
        own = [item for item in (*taken, *_own_tallies(crates, scope)) if item.scope <= scope]
        shared = [item for item in taken if item.scope & scope and not item.scope <= scope]
        value = None if shared and not own else total_weight(own)
        note = remarks(weight_note(own), _shared_note(shared, scope, crates))
        rows = [item.source for item in (*own, *shared)]
        found.append(
            Named(key, labels.get(key, key), figure(f"harvest.{path}.{key}", value, total_weight, rows, note))
        )
    return tuple(found)


def _own_tallies(crates: Crates, scope: frozenset[str]) -> list[Taken]:
    """Running tallies of these plants alone."""
    return [item for item in crates.everything if item.holds == "tally" and item.scope <= scope]


def by_plant(crates: Crates, taken: Sequence[Taken]) -> tuple[Named, ...]:
    """Each plant's own picks."""
    scopes = {plant: frozenset((plant,)) for plant in crates.run.setup.plant_ids}
    return _named(crates, taken, scopes, "by_plant", {})


def by_group(crates: Crates, taken: Sequence[Taken]) -> tuple[Named, ...]:
    """Picks of each group's plants."""
    scopes = {group: frozenset(plants) for group, plants in crates.run.setup.groups}
    return _named(crates, taken, scopes, "by_group", {})


def by_variety(crates: Crates, taken: Sequence[Taken]) -> tuple[Named, ...]:
    """Picks of each variety's plants."""
    setup = crates.run.setup
    scopes = {
        variety: frozenset(plant.id for plant in setup.plants if plant.variety == variety)
        for variety in setup.variety_ids
    }
    labels = {variety: setup.variety_name(variety) for variety in scopes}
    return _named(crates, taken, scopes, "by_variety", labels)


def by_tub(crates: Crates, taken: Sequence[Taken]) -> tuple[Named, ...]:
    """Picks of the plants that stood in each tub on the day of the pick."""
    tubs = crates.run.setup.tubs
    labels = {tub.id: tub.system.name if len(tubs) == 1 else tub.id for tub in tubs}
    return tuple(Named(tub, label, _of_tub(crates, taken, tub)) for tub, label in labels.items() if taken)


def _of_tub(crates: Crates, taken: Sequence[Taken], tub: str) -> Figure:
    roster = Roster.of(crates.run.setup, crates.run.rows)
    scope = frozenset(f"{plant}@{tub}" for plant in crates.run.setup.plant_ids)
    tallies = _own_tallies(crates, crates.everyone)
    own = [item for item in (*taken, *tallies) if _placed(item, roster) <= scope]
    shared = [item for item in taken if _placed(item, roster) & scope and item not in own]
    picks = sum(not item.left for item in shared)
    together = said(
        "{number} pick was weighed together with another tub's",
        "{number} picks were weighed together with another tub's",
        picks,
    )
    return figure(
        f"harvest.by_tub.{tub}",
        None if shared and not own else total_weight(own),
        total_weight,
        [item.source for item in (*own, *shared)],
        remarks(weight_note(own), together, _tally_note(shared)),
    )


def _placed(item: Taken, roster: Roster) -> frozenset[str]:
    """The plants of a weight, each with the tub it stood in."""
    return frozenset(f"{plant}@{roster.tub_of(plant, item.turn[0])}" for plant in item.scope)
