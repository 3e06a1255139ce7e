"""What figures are called: the words beside a number.

In: facts. Out: `Labels`: for each figure its words, with the plant, group or tub that it is about; the
subject that its working stands under. A figure without words here is called by the last part of its name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Named, inner_fields
from sitegen.core.facts.indices import TubClimate
from sitegen.core.facts.tree import Dosing, Facts, MilestoneFacts, PlantFacts, TubFacts
from sitegen.core.language.catalogue import noted, tr
from sitegen.core.language.wording import opening

SUBJECTS = {
    "harvest": noted("Harvest"),
    "germination": noted("Germination"),
    "milestones": noted("Stages"),
    "growth": noted("Growth"),
    "solution": noted("Water and feed"),
    "climate": noted("Air and light"),
    "plants": noted("Plants"),
    "work": noted("Work"),
    "": noted("The run"),
}

# By name; a `*` stands for the key of a plant, group, tub …, `{key}` for its words inside the label.
_WORDS = {
    "length": noted("length"),
    "last_entry": noted("last entry"),
    "germination.sown": noted("seeds sown"),
    "germination.sprouted": noted("seedlings"),
    "germination.share": noted("seeds that came up"),
    "germination.first_day": noted("first seedling"),
    "germination.last_day": noted("last count that rose"),
    "germination.by_spot.*": noted("seeds that came up"),
    "germination.rate.mean_time": noted("mean time to come up"),
    "germination.rate.half_time": noted("half of those that came up were up after"),
    "germination.rate.variation": noted("spread of the time to come up, as a share of the mean"),
    "germination.rate.speed": noted("speed of emergence, seedlings"),
    "germination.rate.synchrony": noted("synchrony of emergence, 0 to 1"),
    "germination.rate.uncertainty": noted("uncertainty of emergence, bits"),
    "germination.claims.packet": noted("the packet names"),
    "germination.claims.standard": noted("the standard for such seed"),
    "milestones.*.first": noted("first seen"),
    "milestones.*.share": noted("reached by"),
    "milestones.*.median": noted("half the plants by"),
    "milestones.*.interval": noted("95 % interval of that"),
    "milestones.*.since_before": noted("from the stage before"),
    "growth.tallest": noted("tallest"),
    "growth.widest": noted("widest"),
    "growth.most_leaves": noted("most leaves on a plant"),
    "growth.headroom": noted("left below the lamp"),
    "growth.rate.packet": noted("height that the packet names"),
    "harvest.total": noted("harvest"),
    "harvest.picks": noted("picks"),
    "harvest.first_pick": noted("first pick"),
    "harvest.last_pick": noted("last pick"),
    "harvest.pieces": noted("pieces"),
    "harvest.spoilt": noted("spoilt"),
    "harvest.per_spot": noted("harvest a spot, all spots started"),
    "harvest.shared": noted("picked from several plants together"),
    "harvest.by_part.*": noted("harvest"),
    "harvest.by_grade.*": noted("harvest of grade"),
    "harvest.by_flush.*": noted("harvest"),
    "harvest.by_plant.*": noted("harvest"),
    "harvest.by_group.*": noted("harvest"),
    "harvest.by_variety.*": noted("harvest"),
    "harvest.by_tub.*": noted("harvest"),
    "harvest.per.stem": noted("harvest a stem"),
    "harvest.per.plant_picked": noted("harvest a plant that was picked from"),
    "harvest.per.square_metre": noted("harvest for the ground"),
    "harvest.per.litre": noted("harvest for the water"),
    "harvest.per.kilowatt_hour": noted("harvest for the electricity"),
    "harvest.per.mol": noted("harvest for the light"),
    "harvest.per.day": noted("harvest for the time"),
    "harvest.per.week_of_picking": noted("harvest a week of picking"),
    "harvest.per.by_group.*": noted("harvest a spot"),
    "harvest.per.by_variety.*": noted("harvest a spot"),
    "harvest.per.by_tub.*": noted("harvest a spot"),
    "harvest.timing.from_sowing": noted("from sowing to the first pick"),
    "harvest.timing.from_transplant": noted("from transplanting to the first pick"),
    "harvest.timing.packet": noted("the packet names"),
    "harvest.timing.expected": noted("first pick by the packet"),
    "harvest.timing.picking": noted("from the first pick to the last"),
    "harvest.timing.window.*": noted("from the last stage to the pick"),
    "harvest.costs.electricity": noted("cost of electricity"),
    "harvest.costs.feed": noted("cost of feed"),
    "harvest.costs.water": noted("cost of water"),
    "harvest.costs.total": noted("cost of electricity, feed and water"),
    "harvest.costs.per_100_g": noted("cost of 100 g"),
    "harvest.costs.value": noted("what a shop asks for as much"),
    "solution.water": noted("water added"),
    "solution.refills": noted("fillings"),
    "solution.tubs.*.water": noted("water added"),
    "solution.tubs.*.refills": noted("fillings"),
    "solution.tubs.*.changes": noted("full changes"),
    "solution.tubs.*.ec": noted("EC"),
    "solution.tubs.*.ph": noted("pH"),
    "solution.tubs.*.doses.*.total": noted("in all"),
    "solution.tubs.*.doses.*.times": noted("times given"),
    "solution.tubs.*.doses.*.per_litre": noted("for the water"),
    "solution.tubs.*.adjusted.*.total": noted("in all"),
    "solution.tubs.*.adjusted.*.times": noted("times given"),
    "solution.tubs.*.adjusted.*.per_litre": noted("for the water"),
    "solution.tubs.*.uptake.per_day": noted("water taken up"),
    "solution.tubs.*.uptake.per_plant_day": noted("water taken up by a plant"),
    "solution.tubs.*.uptake.interval": noted("between two fillings"),
    "solution.tubs.*.trend.ec": noted("EC moved by"),
    "solution.tubs.*.trend.ph": noted("pH moved by"),
    "solution.tubs.*.trend.ec_within": noted("EC readings in the usual band"),
    "solution.tubs.*.trend.ph_within": noted("pH readings in the usual band"),
    "climate.air": noted("air"),
    "climate.humidity": noted("humidity of the air"),
    "climate.water": noted("water temperature"),
    "climate.light_hours": noted("lamp hours"),
    "climate.vpd": noted("vapour pressure deficit of the air"),
    "climate.leaf_vpd": noted("vapour pressure deficit at the leaf"),
    "climate.energy": noted("electricity for light"),
    "climate.tubs.*.dli": noted("light a day"),
    "climate.tubs.*.light_sum": noted("light over the run"),
    "climate.tubs.*.energy": noted("electricity for light"),
    "climate.tubs.*.degree_days": noted("warmth above the base temperature"),
    "plants.*.harvest": noted("harvest"),
    "work.visits": noted("visits logged"),
    "work.waterings": noted("visits with water"),
    "work.feedings": noted("visits with feed"),
    "work.hands_on": noted("visits with hands on the plants"),
    "climate.gaps.*": noted("gaps in the samples"),
    "work.gaps.*": noted("longest time without"),
    "work.visits_by_phase.*": noted("visits in the phase “{key}”"),
    "work.waterings_by_phase.*": noted("visits with water in the phase “{key}”"),
    "work.hands_on_by_phase.*": noted("visits with hands on the plants in the phase “{key}”"),
    "work.tasks.*": noted("visits for {key}"),
}
_WORDS |= {
    "growth.rate.height.absolute.*": noted("growth in height"),
    "growth.rate.height.relative.*": noted("relative growth in height"),
    "growth.rate.height.by_group.*": noted("relative growth in height, mean"),
    "growth.rate.height.plateau.*": noted("no more height from"),
    "growth.rate.spread.absolute.*": noted("growth in spread"),
    "growth.rate.spread.relative.*": noted("relative growth in spread"),
    "growth.rate.spread.by_group.*": noted("relative growth in spread, mean"),
    "growth.rate.spread.plateau.*": noted("no more spread from"),
    "growth.rate.leaves.absolute.*": noted("growth in leaves"),
    "growth.rate.leaves.relative.*": noted("relative growth in leaves"),
    "growth.rate.leaves.by_group.*": noted("relative growth in leaves, mean"),
    "growth.rate.leaves.plateau.*": noted("no more leaves from"),
}
# Where the thing comes before what is said of it: "Flower bud, first seen".
_KEY_FIRST = ("milestones", "doses", "adjusted")


@dataclass(frozen=True, slots=True)
class Labels:
    """The words of every figure of one experiment, by its name."""

    words: dict[str, str]

    @classmethod
    def of(cls, facts: Facts) -> Labels:
        """The words of all figures there are."""
        return cls({name: _label(name, keys) for name, keys in _walk(facts, (), facts)})

    def say(self, figure: Figure) -> str:
        """What a figure is called."""
        return opening(self.inside(figure))

    def inside(self, figure: Figure) -> str:
        """What a figure is called inside a sentence."""
        return self.words.get(figure.name) or _label(figure.name, ())


def subject_of(name: str) -> str:
    """The subject that a figure's working stands under."""
    first, dot, _ = name.partition(".")
    return first if dot and first in SUBJECTS else ""


def subject_words(subject: str) -> str:
    """What a subject is called."""
    word = SUBJECTS[subject]
    return tr(word)


Keys = tuple[tuple[str, str], ...]


def _walk(node: object, keys: Keys, facts: Facts) -> Iterator[tuple[str, Keys]]:
    """Each figure's name with the keys on the way to it and their words."""
    if isinstance(node, Figure):
        yield node.name, keys
    elif isinstance(node, tuple):
        for item in node:
            yield from _walk(item, keys, facts)
    elif inner := inner_fields(node):
        own = _key(node, facts)
        keys = (*keys, own) if own else keys
        for name in inner:
            yield from _walk(getattr(node, name), keys, facts)


def _key(node: object, facts: Facts) -> tuple[str, str] | None:
    """The key of a row and how a reader knows it; a lone tub needs no name."""
    if isinstance(node, (TubFacts, TubClimate)):
        return node.key, node.label if len(facts.run.setup.tubs) > 1 else ""
    if isinstance(node, Named):
        return node.key, node.label
    if isinstance(node, MilestoneFacts):
        return node.name, tr(node.noun)
    if isinstance(node, Dosing):
        return node.product, node.label
    return (node.plant, node.plant) if isinstance(node, PlantFacts) else None


def _label(name: str, keys: Keys) -> str:
    parts = name.split(".")
    message = _WORDS.get(_pattern(name, keys), "")
    words = tr(message) if message else parts[-1].replace("_", " ")
    said = [label for _, label in keys if label]
    if "{key}" in words and said:
        return words.format(key=said[-1])
    first = any(part in _KEY_FIRST for part in parts)
    return ", ".join([*said, words] if first else [words, *said])


def _pattern(name: str, keys: Keys) -> str:
    """The name with a `*` for each key, in the order in which they are met."""
    for key, _ in keys:
        name = re.sub(rf"\.{re.escape(key)}(?=\.|$)", ".*", name, count=1)
    return name
