"""How far plants came with something that was done to them, and without it, where the run was split for just that.

In: facts, the plants that were touched. Out: `Split`, a group or a tub that was touched beside others that were not;
sentences with the days of each, and why one run cannot decide. A deed splits a run where it touched all plants of one
group or tub, and nothing of the kind touched any other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.indices import PlantSetFacts, SetStageFacts
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import tub_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.arms import splits_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.setup import Compared, Plant, Setup
from sitegen.core.values.day import Day

_OF_KIND: dict[Compared, str] = {"groups": "by_group", "tubs": "by_tub"}
# Of those without it, and with it.
_THERE = (
    tr_noop("{arm}, without it: {share}, {days} after sowing."),
    tr_noop("{arm}, with it: {share}, {days} after sowing."),
)
_NOT_THERE = (
    tr_noop("{arm}, without it: {share} when last checked."),
    tr_noop("{arm}, with it: {share} when last checked."),
)
# In the order in which they weigh: what else divided the plants with it from those without.
_CAVEATS = {
    "variety": tr_noop("They were also of different varieties, so either may be the reason."),
    "tub": tr_noop("They were also in different tubs, so either may be the reason."),
    "": tr_noop("Plants in one tub share water, light and luck: it takes other runs to tell."),
}


@dataclass(frozen=True, slots=True)
class Split:
    """The group or tub whose plants were touched, and the others of its kind; `besides` is what else divides them."""

    kind: Compared
    treated: str
    others: tuple[str, ...]
    besides: str


def split_of(
    setup: Setup, touched: frozenset[str], ever: frozenset[str], roster: Roster, day: Day
) -> Split | None:
    """The split that a deed of a day is of, by the plants that it touched, and those that its like `ever` did."""
    standing = set(roster.standing(day.first))
    for kind, sets in splits_of(setup).items():
        for key, plants in sets.items():
            there, others = standing & {*plants}, {p for k, ids in sets.items() if k != key for p in ids}
            if kind in _OF_KIND and there and touched == there and not ever & others and standing & others:
                return Split(kind, key, tuple(k for k in sets if k != key), _besides(setup, touched, others))
    return None


def _besides(setup: Setup, touched: frozenset[str], others: set[str]) -> str:
    """What the two sides have not in common, that weighs most."""
    first = [plant for plant in setup.plants if plant.id in touched]
    second = [plant for plant in setup.plants if plant.id in others]
    apart = {name: _apart(name, first, second) for name in ("variety", "tub")}
    return next((name for name, found in apart.items() if found), "")


def _apart(name: str, first: list[Plant], second: list[Plant]) -> bool:
    return not {getattr(plant, name) for plant in first} & {getattr(plant, name) for plant in second}


def answer_words(facts: Facts, split: Split, stage: str, wording: Wording) -> str:
    """When the stage came to either side, and what the answer is worth."""
    sets: tuple[PlantSetFacts, ...] = getattr(facts.sets, _OF_KIND[split.kind])
    sides = [tr("This run was split to test that."), *_sides(sets, split, stage, wording)]
    return " ".join((*sides, tr(_CAVEATS[split.besides])))


def _sides(sets: tuple[PlantSetFacts, ...], split: Split, stage: str, wording: Wording) -> Iterator[str]:
    by_key = {each.key: each for each in sets}
    for key in (split.treated, *split.others):
        found = next((each for each in by_key[key].stages if each.key == stage), None)
        if found is None or not found.share.recorded:
            yield tr("When each plant got there was not recorded.")
            return
        name = label_words(by_key[key].label)
        arm = tub_words(name) if split.kind == "tubs" else name
        yield _side(arm, found, wording, treated=key == split.treated)


def _side(arm: str, stage: SetStageFacts, wording: Wording, *, treated: bool) -> str:
    """One side: `Early, with it: all 3, 36–41 days after sowing`."""
    days = _days(stage)
    message = (_THERE if days else _NOT_THERE)[treated]
    return tr(
        message,
        arm=opening(arm),
        share=wording.say_in_sentence(stage.share),
        days=wording.say_in_sentence(days) if days else "",
    )


def _days(stage: SetStageFacts) -> Figure | None:
    """From the first plant to the last one that reached the stage; of one plant, its own days."""
    return next((each for each in (stage.range, stage.values) if each.recorded), None)
