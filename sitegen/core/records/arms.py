"""Arms: the plants of a run, divided by what its question is about.

In: a set-up. Out: the splits that it has (by group, tub, variety), those that cross each other, and the arms of the one
that is compared. A group that shares a plant with another group is no arm: nothing could be said of the two apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from sitegen.core.records.setup import Compared, Setup

KINDS: tuple[Compared, ...] = ("groups", "tubs", "varieties")  # in the order in which one is taken unasked
_NAMED_BY: tuple[Compared, ...] = ("groups", "varieties", "tubs")  # a group has its name for the comparison

Split = Mapping[str, tuple[str, ...]]  # plants by the id of their group, tub or variety


@dataclass(frozen=True, slots=True)
class Arm:
    """Plants that differ from the others in what is compared.

    `kind` and `key` name it; `alike` has every group, tub and variety that is just these plants, itself among them.
    """

    kind: Compared
    key: str
    plants: tuple[str, ...]
    alike: tuple[tuple[Compared, str], ...]

    def key_of(self, kind: Compared) -> str | None:
        """The id of the group, tub or variety that is just these plants."""
        return dict(self.alike).get(kind)


def sets_of(setup: Setup) -> dict[Compared, Split]:
    """Every group, tub and variety with its plants, where there are several of a kind."""
    by_variety = {v: tuple(p.id for p in setup.plants if p.variety == v) for v in setup.variety_ids}
    by_tub = {tub.id: tuple(p.id for p in setup.plants if p.tub == tub.id) for tub in setup.tubs}
    every: dict[Compared, Split] = {"groups": dict(setup.groups), "tubs": by_tub, "varieties": by_variety}
    with_plants = {kind: {key: ids for key, ids in sets.items() if ids} for kind, sets in every.items()}
    return {kind: sets for kind, sets in with_plants.items() if len(sets) > 1}


def shared_plants(split: Split) -> tuple[str, ...]:
    """Plants that are in more than one set, in the order of the sets."""
    twice = (plant for one, other in combinations(split.values(), 2) for plant in one if plant in other)
    return tuple(dict.fromkeys(twice))


def splits_of(setup: Setup) -> dict[Compared, Split]:
    """The sets of each kind that can be compared: no plant is in two of them."""
    return {kind: split for kind, split in sets_of(setup).items() if not shared_plants(split)}


def _refines(fine: Split, coarse: Split) -> bool:
    """Whether each set of `fine` lies in one of `coarse`, as far as its plants are in any."""
    places = {plant: key for key, plants in coarse.items() for plant in plants}
    return all(len({places[plant] for plant in plants if plant in places}) < 2 for plants in fine.values())


def crossed(setup: Setup) -> tuple[Compared, ...]:
    """The kinds whose splits cross each other: neither only divides the sets of the other further."""
    splits = splits_of(setup)
    pairs = [
        (one, other)
        for one, other in combinations(splits, 2)
        if not _refines(splits[one], splits[other]) and not _refines(splits[other], splits[one])
    ]
    return tuple(kind for kind in KINDS if any(kind in pair for pair in pairs))


def arms_of(setup: Setup) -> tuple[Arm, ...]:
    """The arms of the split that the set-up compares, else of the first that it has; none without one."""
    splits = splits_of(setup)
    kind = setup.compare or next(iter(splits), None)
    if kind is None or kind not in splits:
        return ()
    return tuple(_named(plants, splits) for plants in splits[kind].values())


def _named(plants: tuple[str, ...], splits: Mapping[Compared, Split]) -> Arm:
    alike = tuple(_alike(plants, splits))
    kind, key = min(alike, key=lambda each: _NAMED_BY.index(each[0]))
    return Arm(kind, key, plants, alike)


def _alike(plants: tuple[str, ...], splits: Mapping[Compared, Split]) -> Iterator[tuple[Compared, str]]:
    for kind, split in splits.items():
        yield from ((kind, key) for key, members in split.items() if set(members) == set(plants))
