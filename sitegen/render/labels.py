"""What figures are called: the words beside a number.

In: facts. Out: `Labels`: for each figure its words, with the plant, group or tub that it is about; the
subject that its working stands under. A figure without words here is called by the last part of its name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass

from sitegen.core.day import Day, DayAxis
from sitegen.core.facts import Dosing, Facts, Figure, MilestoneFacts, Named, PlantFacts, TubFacts
from sitegen.core.indices import TubClimate
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Run
from sitegen.core.wording import opening

__all__ = ["SUBJECTS", "Labels", "subject_of"]

SUBJECTS = {
    "harvest": "Harvest",
    "germination": "Germination",
    "milestones": "Stages",
    "growth": "Growth",
    "solution": "Water and feed",
    "climate": "Air and light",
    "plants": "Plants",
    "work": "Work",
    "": "The run",
}

# By name; a `*` stands for the key of a plant, group, tub …
_WORDS = {
    "length": "length",
    "last_entry": "last entry",
    "germination.sown": "seeds sown",
    "germination.sprouted": "seedlings",
    "germination.share": "seeds that came up",
    "germination.first_day": "first seedling",
    "germination.last_day": "last count that rose",
    "germination.by_spot.*": "seeds that came up",
    "germination.rate.mean_time": "mean time to come up",
    "germination.rate.half_time": "half of those that came up were up after",
    "germination.rate.variation": "spread of the time to come up, as a share of the mean",
    "germination.rate.speed": "speed of emergence, seedlings",
    "germination.rate.synchrony": "synchrony of emergence, 0 to 1",
    "germination.rate.uncertainty": "uncertainty of emergence, bits",
    "germination.claims.packet": "the packet names",
    "germination.claims.standard": "the standard for such seed",
    "milestones.*.first": "first seen",
    "milestones.*.share": "reached by",
    "milestones.*.median": "half the plants by",
    "milestones.*.interval": "95 % interval of that",
    "milestones.*.since_before": "from the stage before",
    "growth.tallest": "tallest",
    "growth.widest": "widest",
    "growth.most_leaves": "most leaves on a plant",
    "growth.headroom": "left below the lamp",
    "growth.rate.packet": "height that the packet names",
    "harvest.total": "harvest",
    "harvest.picks": "picks",
    "harvest.first_pick": "first pick",
    "harvest.last_pick": "last pick",
    "harvest.pieces": "pieces",
    "harvest.spoilt": "spoilt",
    "harvest.per_spot": "harvest a spot, all spots started",
    "harvest.shared": "picked from several plants together",
    "harvest.by_part.*": "harvest",
    "harvest.by_grade.*": "harvest of grade",
    "harvest.by_flush.*": "harvest",
    "harvest.by_plant.*": "harvest",
    "harvest.by_group.*": "harvest",
    "harvest.by_variety.*": "harvest",
    "harvest.by_tub.*": "harvest",
    "harvest.per.stem": "harvest a stem",
    "harvest.per.plant_picked": "harvest a plant that was picked from",
    "harvest.per.square_metre": "harvest for the ground",
    "harvest.per.litre": "harvest for the water",
    "harvest.per.kilowatt_hour": "harvest for the electricity",
    "harvest.per.mol": "harvest for the light",
    "harvest.per.day": "harvest for the time",
    "harvest.per.week_of_picking": "harvest a week of picking",
    "harvest.per.by_group.*": "harvest a spot",
    "harvest.per.by_variety.*": "harvest a spot",
    "harvest.per.by_tub.*": "harvest a spot",
    "harvest.timing.from_sowing": "from sowing to the first pick",
    "harvest.timing.from_transplant": "from transplanting to the first pick",
    "harvest.timing.packet": "the packet names",
    "harvest.timing.expected": "first pick by the packet",
    "harvest.timing.picking": "from the first pick to the last",
    "harvest.timing.window.*": "from the last stage to the pick",
    "harvest.costs.electricity": "cost of electricity",
    "harvest.costs.feed": "cost of feed",
    "harvest.costs.water": "cost of water",
    "harvest.costs.total": "cost of electricity, feed and water",
    "harvest.costs.per_100_g": "cost of 100 g",
    "harvest.costs.value": "what a shop asks for as much",
    "solution.water": "water added",
    "solution.refills": "fillings",
    "solution.tubs.*.water": "water added",
    "solution.tubs.*.refills": "fillings",
    "solution.tubs.*.changes": "full changes",
    "solution.tubs.*.ec": "EC",
    "solution.tubs.*.ph": "pH",
    "solution.tubs.*.doses.*.total": "in all",
    "solution.tubs.*.doses.*.times": "times given",
    "solution.tubs.*.doses.*.per_litre": "for the water",
    "solution.tubs.*.adjusted.*.total": "in all",
    "solution.tubs.*.adjusted.*.times": "times given",
    "solution.tubs.*.adjusted.*.per_litre": "for the water",
    "solution.tubs.*.uptake.per_day": "water taken up",
    "solution.tubs.*.uptake.per_plant_day": "water taken up by a plant",
    "solution.tubs.*.uptake.interval": "between two fillings",
    "solution.tubs.*.trend.ec": "EC moved by",
    "solution.tubs.*.trend.ph": "pH moved by",
    "solution.tubs.*.trend.ec_within": "EC readings in the usual band",
    "solution.tubs.*.trend.ph_within": "pH readings in the usual band",
    "climate.air": "air",
    "climate.humidity": "humidity of the air",
    "climate.water": "water temperature",
    "climate.light_hours": "lamp hours",
    "climate.vpd": "vapour pressure deficit of the air",
    "climate.leaf_vpd": "vapour pressure deficit at the leaf",
    "climate.energy": "electricity for light",
    "climate.tubs.*.dli": "light a day",
    "climate.tubs.*.light_sum": "light over the run",
    "climate.tubs.*.energy": "electricity for light",
    "climate.tubs.*.degree_days": "warmth above the base temperature",
    "plants.*.harvest": "harvest",
    "work.visits": "visits logged",
    "work.waterings": "visits with water",
    "work.feedings": "visits with feed",
    "work.hands_on": "visits with hands on the plants",
    "work.gaps.*": "longest time without",
    "work.by_phase.*": "visits in the phase",
    "work.tasks.*": "visits for",
}
_SERIES = {"height": "height", "spread": "spread", "leaves": "leaves"}
_WORDS |= {
    f"growth.rate.{name}.{kind}.*": words.format(word)
    for name, word in _SERIES.items()
    for kind, words in {
        "absolute": "growth in {}",
        "relative": "relative growth in {}",
        "by_group": "relative growth in {}, mean",
        "plateau": "no more {} from",
    }.items()
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
        return self.words.get(figure.name) or _label(figure.name, ())


def subject_of(name: str) -> str:
    """The subject that a figure's working stands under."""
    first, dot, _ = name.partition(".")
    return first if dot and first in SUBJECTS else ""


Keys = tuple[tuple[str, str], ...]


def _walk(node: object, keys: Keys, facts: Facts) -> Iterator[tuple[str, Keys]]:
    """Each figure's name with the keys on the way to it and their words."""
    if isinstance(node, Figure):
        yield node.name, keys
    elif isinstance(node, tuple):
        for item in node:
            yield from _walk(item, keys, facts)
    elif is_dataclass(node) and not isinstance(node, (Quantity, Day, Run, DayAxis)):
        own = _key(node, facts)
        for each in fields(node):
            yield from _walk(getattr(node, each.name), (*keys, own) if own else keys, facts)


def _key(node: object, facts: Facts) -> tuple[str, str] | None:
    """The key of a row and how a reader knows it; a lone tub needs no name."""
    if isinstance(node, (TubFacts, TubClimate)):
        return node.key, node.label if len(facts.run.setup.tubs) > 1 else ""
    if isinstance(node, Named):
        return node.key, node.label
    if isinstance(node, MilestoneFacts):
        return node.name, node.noun
    if isinstance(node, Dosing):
        return node.product, node.label
    return (node.plant, node.plant) if isinstance(node, PlantFacts) else None


def _label(name: str, keys: Keys) -> str:
    parts = name.split(".")
    words = _WORDS.get(_pattern(name, keys), parts[-1].replace("_", " "))
    said = [label for _, label in keys if label]
    first = any(part in _KEY_FIRST for part in parts)
    return opening(", ".join([*said, words] if first else [words, *said]))


def _pattern(name: str, keys: Keys) -> str:
    """The name with a `*` for each key, in the order in which they are met."""
    for key, _ in keys:
        name = re.sub(rf"\.{re.escape(key)}(?=\.|$)", ".*", name, count=1)
    return name
