"""The arms of a planned run dealt at random to its spots or its tubs.

In: a `Draft`, what is compared, the arms, a seed. Out: the draft with `groups`, `variety` or `tubs`, with `compare`, and
with comments that say how to deal them so again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import click

from sitegen.app.begin.draft import Draft
from sitegen.app.begin.layout import Block, random_layout
from sitegen.app.begin.trials.like import OldRun, leave_groups
from sitegen.app.begin.yaml_text import flow_text, list_node, mapping_node, text_node
from sitegen.core.language.text import plural
from sitegen.core.records.arms import arms_of
from sitegen.core.records.setup import Compared
from sitegen.ingest.yaml.nodes import Mapping as MappingNode
from sitegen.ingest.yaml.nodes import Node


@dataclass(frozen=True, slots=True)
class Plan:
    """What is compared: the kind of arms, their names, how many spots there are (None: as before), the seed."""

    compare: Compared
    arms: tuple[str, ...]
    spots: int | None
    seed: int


@dataclass(frozen=True, slots=True)
class Places:
    """The plants of the run, each in a spot of its own, with the tub and the variety of each; `tubs` in their order."""

    plants: tuple[str, ...]
    tubs: tuple[str, ...] = ()
    tub_of: Mapping[str, str] | None = None
    variety_of: Mapping[str, str] | None = None

    def stretches(self, plan: Plan) -> tuple[tuple[str, ...], ...]:
        """The plants that are alike but for the arm, in order: of one tub, and of one variety if that is not compared."""
        found: dict[tuple[str, str], list[str]] = {}
        varieties = {} if plan.compare == "varieties" else self.variety_of or {}
        for plant in self.plants:
            kind = (self.tub_of or {}).get(plant, ""), varieties.get(plant, "")
            found.setdefault(kind, []).append(plant)
        return tuple(map(tuple, found.values()))


def arms_like(old: OldRun, compare: Compared) -> tuple[str, ...]:
    """The arms of an earlier run by what is compared; of tubs, those that a group has a name for."""
    arms = arms_of(replace(old.setup, compare=compare))
    wanted: Compared = "varieties" if compare == "varieties" else "groups"
    keys = tuple(key for arm in arms if (key := arm.key_of(wanted)))
    return keys if len(keys) == len(arms) else ()


def deal(draft: Draft, plan: Plan, old: OldRun | None, plants: int) -> None:
    """Write a random layout of the arms into the draft."""
    _name_lone_tub(draft)
    places = _places(draft, plan, old, plan.spots or plants)
    if old is not None and "groups" in draft.values:
        leave_groups(draft, old)
    if plan.compare == "tubs":
        _deal_tubs(draft, plan, places)
    else:
        _deal_spots(draft, plan, places, old)


def _name_lone_tub(draft: Draft) -> None:
    """A lone tub that is written under `tubs` becomes a `system`: which plants stand in it goes without saying."""
    tubs = draft.values.get("tubs")
    if isinstance(tubs, MappingNode) and len(tubs.pairs) == 1:
        del draft.values["tubs"]
        tub = tubs.pairs[0].value
        assert isinstance(tub, MappingNode), "it was read as one"
        draft.values |= {pair.key.text: pair.value for pair in tub if pair.key.text != "plants"}


def _places(draft: Draft, plan: Plan, old: OldRun | None, spots: int) -> Places:
    """The spots as the draft has them; where their number changes, what names plants cannot be kept."""
    if spots < len(plan.arms):
        raise click.UsageError(
            f"{len(plan.arms)} arms need as many spots or more, not {spots}; give `--spots`"
        )
    if old is None or spots != len(old.setup.plants):
        draft.values["plants"] = text_node(str(spots))
        if old is not None:
            _without_plants(draft, plan, old)
        return Places(tuple(f"P{number}" for number in range(1, spots + 1)))
    setup = old.setup
    varieties = {plant.id: plant.variety for plant in setup.plants}
    if len(setup.tubs) == 1:
        return Places(setup.plant_ids, variety_of=varieties)
    tubs = tuple(tub.id for tub in setup.tubs)
    return Places(setup.plant_ids, tubs, {plant.id: plant.tub for plant in setup.plants}, varieties)


def _without_plants(draft: Draft, plan: Plan, old: OldRun) -> None:
    number = len(old.setup.plants)
    if len(old.setup.tubs) > 1:
        raise click.UsageError(
            f"`{old.id}` has several tubs, and `--spots` does not say which plants stand in which: leave it out for "
            f"{plural(number, 'spot')} as there"
        )
    variety = draft.values.get("variety")
    if isinstance(variety, MappingNode) and plan.compare != "varieties":
        del draft.values["variety"]
        draft.note("variety", f"variety: {flow_text(variety)}  # of {old.id}, which had {number} plants")


def _deal_spots(draft: Draft, plan: Plan, places: Places, old: OldRun | None) -> None:
    stretches = places.stretches(plan)
    layout = random_layout(plan.arms, [len(plants) for plants in stretches], plan.seed)
    arm_of = {
        plant: arm
        for plants, blocks in zip(stretches, layout, strict=True)
        for plant, arm in zip(plants, (arm for block in blocks for arm in block), strict=True)
    }
    said = _layout_words("spots", plan, stretches, layout)
    key = "variety" if plan.compare == "varieties" else "groups"
    draft.note(key, *said)
    if key == "variety":
        draft.values[key] = mapping_node({plant: text_node(arm_of[plant]) for plant in places.plants})
        _doubt_seed(draft, plan, old)
    else:
        draft.values[key] = _groups(plan, places.plants, arm_of)
    draft.values["compare"] = text_node(plan.compare)


def _doubt_seed(draft: Draft, plan: Plan, old: OldRun | None) -> None:
    """Seed of other varieties is not that of these."""
    if old is not None and "seed" in draft.values and set(plan.arms) != set(old.setup.variety_ids):
        seed = flow_text(draft.values.pop("seed"))
        draft.note("seed", f"seed: {seed}  # of {old.id}, which had other varieties")


def _groups(plan: Plan, plants: Sequence[str], arm_of: Mapping[str, str]) -> Node:
    return mapping_node(
        {arm: list_node(tuple(plant for plant in plants if arm_of[plant] == arm)) for arm in plan.arms}
    )


def _deal_tubs(draft: Draft, plan: Plan, places: Places) -> None:
    """Each arm gets whole tubs: a group has the arm's name, since a tub keeps its own."""
    plants_in = _plants_by_tub(draft, plan, places)
    tubs = tuple(plants_in)
    if len(tubs) < len(plan.arms):
        raise click.UsageError(f"there are {len(tubs)} tubs for {len(plan.arms)} arms; give each arm a tub")
    layout = random_layout(plan.arms, [len(tubs)], plan.seed)
    dealt = dict(zip(tubs, (arm for block in layout[0] for arm in block), strict=True))
    arm_of = {plant: dealt[tub] for tub, plants in plants_in.items() for plant in plants}
    draft.note("groups", *_layout_words("tubs", plan, (tubs,), layout))
    draft.values["groups"] = _groups(plan, places.plants, arm_of)
    # With more tubs than arms it is the groups that differ: each tub would else be an arm of its own.
    draft.values["compare"] = text_node("tubs" if len(tubs) == len(plan.arms) else "groups")


def _plants_by_tub(draft: Draft, plan: Plan, places: Places) -> dict[str, tuple[str, ...]]:
    """The tubs as they are; a lone one becomes one an arm, with plants in equal parts."""
    if places.tub_of is not None:
        tub_of = places.tub_of
        return {tub: tuple(p for p in places.plants if tub_of[p] == tub) for tub in places.tubs}
    system = draft.values.pop("system")
    each, more = divmod(len(places.plants), len(plan.arms))
    found, begin = {}, 0
    for number in range(len(plan.arms)):
        end = begin + each + (number < more)
        found[f"tub-{number + 1}"] = places.plants[begin:end]
        begin = end
    draft.values["tubs"] = mapping_node(
        {
            tub: mapping_node({"system": system, "plants": text_node(_span(plants, places.plants))})
            for tub, plants in found.items()
        }
    )
    return found


def _span(some: Sequence[str], every: Sequence[str]) -> str:
    """`P1-P3` of neighbours, as the format has it, else each."""
    neighbours = tuple(every[every.index(some[0]) :][: len(some)]) == tuple(some)
    return f"{some[0]}-{some[-1]}" if neighbours and len(some) > 1 else ", ".join(some)


def _layout_words(
    what: str, plan: Plan, stretches: Sequence[Sequence[str]], layout: Sequence[Sequence[Block]]
) -> Iterator[str]:
    """How the arms were dealt, so that anyone can do it again."""
    size, part = len(plan.arms), False
    yield f"Dealt at random, seed {plan.seed}, in blocks of {size} {what} in their order, each arm once in a block:"
    for names, blocks in zip(stretches, layout, strict=True):
        rest = list(names)
        for block in blocks:
            some, rest = rest[: len(block)], rest[len(block) :]
            part = part or len(block) < size
            yield f"  {', '.join(some)}: {', '.join(block)}" + (" (a part)" if len(block) < size else "")
    yield f"For each block in turn the arms ({', '.join(plan.arms)}) take numbers, one after the other, of Python's"
    yield f"random.Random({plan.seed}).random(), and stand in the order of their numbers, the smallest first."
    if part:
        yield f"In a part of a block those with the fewest {what} so far go before the others. The first of them get a"
        yield "place; to share these out, they take numbers once more."
