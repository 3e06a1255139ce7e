"""Labels of figures: the words beside a number.

In: facts. Out: `Labels`: for each figure its words, with the plant, group or tub that it is about; the subject that its
working stands under. Every figure of `Facts` has its row in `WORDS`.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Named, inner_fields
from sitegen.core.facts.indices import PlantSetFacts, SetStageFacts, TubClimate
from sitegen.core.facts.tree import Dosing, Facts, MilestoneFacts, PlantFacts, TubFacts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import name_in_text, tub_words
from sitegen.core.language.wording import opening

SUBJECTS = {
    "harvest": tr_noop("Harvest"),
    "germination": tr_noop("Germination"),
    "milestones": tr_noop("Stages"),
    "growth": tr_noop("Growth"),
    "solution": tr_noop("Water and feed"),
    "climate": tr_noop("Air and light"),
    "plants": tr_noop("Plants"),
    "work": tr_noop("Work"),
    "sets": tr_noop("Groups, varieties and tubs"),
    "": tr_noop("The run"),
}

_OF_SETS = {
    "lost": tr_noop("plants lost"),
    "germination": tr_noop("seeds that came up"),
    "emergence": tr_noop("first seedling"),
    "height.number": tr_noop("plants measured for height one by one"),
    "height.mean": tr_noop("greatest height of each plant, mean"),
    "height.range": tr_noop("greatest height of each plant"),
    "height.deviation": tr_noop("greatest height of each plant, standard deviation"),
    "spread.number": tr_noop("plants measured for spread one by one"),
    "spread.mean": tr_noop("widest spread of each plant, mean"),
    "spread.range": tr_noop("widest spread of each plant"),
    "spread.deviation": tr_noop("widest spread of each plant, standard deviation"),
    "leaves.number": tr_noop("plants with their leaves counted one by one"),
    "leaves.mean": tr_noop("most leaves on each plant, mean"),
    "leaves.range": tr_noop("most leaves on each plant"),
    "leaves.deviation": tr_noop("most leaves on each plant, standard deviation"),
    "harvest.number": tr_noop("plants in the mean harvest"),
    "harvest.mean": tr_noop("harvest of each plant, mean"),
    "harvest.range": tr_noop("harvest of each plant"),
    "harvest.deviation": tr_noop("harvest of each plant, standard deviation"),
    "plant_day": tr_noop("harvest per plant and day"),
    "picks.first": tr_noop("first pick"),
    "picks.last": tr_noop("last pick"),
    "picks.per_spot": tr_noop("harvest per spot"),
    "picks.square_metre": tr_noop("harvest for the floor space used"),
    "picks.litre": tr_noop("harvest for the water used"),
    "picks.kilowatt_hour": tr_noop("harvest for the electricity used"),
}
_STAGES_OF_SETS = {
    "reached": tr_noop("plants that reached that stage"),
    "not_yet": tr_noop("plants not there yet when last checked"),
    "picked": tr_noop("plants picked before that"),
    "lost": tr_noop("plants lost before that"),
    "unknown": tr_noop("plants not checked for it"),
    "median": tr_noop("half the plants by"),
    "values": tr_noop("days from sowing, plant by plant"),
    "range": tr_noop("days from sowing, first to last plant"),
    "share": tr_noop("reached by"),
}
# By path in the facts; a `*` stands for the key of a plant, group, tub …, `{key}` for its words inside the label.
WORDS = {
    "length": tr_noop("length"),
    "last_entry": tr_noop("last visit"),
    "germination.sown": tr_noop("seeds sown"),
    "germination.sprouted": tr_noop("seedlings"),
    "germination.share": tr_noop("seeds that came up"),
    "germination.first_day": tr_noop("first seedling"),
    "germination.last_day": tr_noop("last new seedling counted"),
    "germination.by_spot.*": tr_noop("seeds that came up"),
    "germination.rate.mean_time": tr_noop("mean time to come up"),
    "germination.rate.half_time": tr_noop("time until half of them were up"),
    "germination.rate.variation": tr_noop("how spread out they came up, as a share of the mean"),
    "germination.rate.speed": tr_noop("speed of emergence, seedlings"),
    "germination.rate.synchrony": tr_noop("synchrony of emergence, 0 to 1"),
    "germination.rate.uncertainty": tr_noop("uncertainty of emergence, bits"),
    "germination.claims.seed": tr_noop("share claimed for the seed"),
    "germination.claims.standard": tr_noop("the standard for this kind of seed"),
    "milestones.*.first": tr_noop("first seen"),
    "milestones.*.share": tr_noop("reached by"),
    "milestones.*.median": tr_noop("half the plants by"),
    "milestones.*.interval": tr_noop("interval of the halfway day"),
    "milestones.*.values": tr_noop("days from sowing, plant by plant"),
    "milestones.*.since_before": tr_noop("since the stage before"),
    "growth.tallest": tr_noop("tallest"),
    "growth.widest": tr_noop("widest"),
    "growth.most_leaves": tr_noop("most leaves on each plant"),
    "growth.headroom": tr_noop("room left under the lamp when measured"),
    "growth.rate.claim": tr_noop("height claimed for the seed"),
    "growth.rate.height.absolute.*": tr_noop("growth in height"),
    "growth.rate.height.relative.*": tr_noop("relative growth in height"),
    "growth.rate.height.by_group.*": tr_noop("relative growth in height, mean"),
    "growth.rate.height.plateau.*": tr_noop("grew no taller after"),
    "growth.rate.spread.absolute.*": tr_noop("growth in spread"),
    "growth.rate.spread.relative.*": tr_noop("relative growth in spread"),
    "growth.rate.spread.by_group.*": tr_noop("relative growth in spread, mean"),
    "growth.rate.spread.plateau.*": tr_noop("grew no wider after"),
    "growth.rate.leaves.absolute.*": tr_noop("growth in leaves"),
    "growth.rate.leaves.relative.*": tr_noop("relative growth in leaves"),
    "growth.rate.leaves.by_group.*": tr_noop("relative growth in leaves, mean"),
    "growth.rate.leaves.plateau.*": tr_noop("no more new leaves after"),
    "harvest.total": tr_noop("harvest"),
    "harvest.picks": tr_noop("picks"),
    "harvest.first_pick": tr_noop("first pick"),
    "harvest.last_pick": tr_noop("last pick"),
    "harvest.pieces": tr_noop("pieces"),
    "harvest.spoilt": tr_noop("spoilt"),
    "harvest.per_spot": tr_noop("harvest per spot, every spot sown"),
    "harvest.shared": tr_noop("weighed from several plants together"),
    "harvest.by_part.*": tr_noop("harvest"),
    "harvest.by_grade.*": tr_noop("harvest of grade"),
    "harvest.by_flush.*": tr_noop("harvest"),
    "harvest.by_plant.*": tr_noop("harvest"),
    "harvest.by_group.*": tr_noop("harvest"),
    "harvest.by_variety.*": tr_noop("harvest"),
    "harvest.by_tub.*": tr_noop("harvest"),
    "harvest.per.stem": tr_noop("harvest per stem"),
    "harvest.per.plant_picked": tr_noop("harvest per plant picked from"),
    "harvest.per.square_metre": tr_noop("harvest for the floor space used"),
    "harvest.per.litre": tr_noop("harvest for the water used"),
    "harvest.per.kilowatt_hour": tr_noop("harvest for the electricity used"),
    "harvest.per.kilogram": tr_noop("electricity for the harvest"),
    "harvest.per.mol": tr_noop("harvest for the light"),
    "harvest.per.day": tr_noop("harvest per day of the run"),
    "harvest.per.plant_day": tr_noop("harvest per plant and day"),
    "harvest.per.week_of_picking": tr_noop("harvest per week of picking"),
    "harvest.timing.from_sowing": tr_noop("from sowing to the first pick"),
    "harvest.timing.from_transplant": tr_noop("from transplanting to the first pick"),
    "harvest.timing.claim": tr_noop("first pick, compared with the days claimed"),
    "harvest.timing.expected": tr_noop("first pick, going by the days claimed"),
    "harvest.timing.picking": tr_noop("from the first pick to the last"),
    "harvest.timing.window.*": tr_noop("from the last stage to the pick"),
    "harvest.costs.electricity": tr_noop("cost of electricity"),
    "harvest.costs.feed": tr_noop("cost of feed"),
    "harvest.costs.water": tr_noop("cost of water"),
    "harvest.costs.total": tr_noop("cost of electricity, feed and water"),
    "harvest.costs.per_100_g": tr_noop("cost of 100 g"),
    "harvest.costs.value": tr_noop("what the same weight costs in a shop"),
    "harvest.culls.weight": tr_noop("weight of what was spoilt"),
    "harvest.culls.share": tr_noop("spoilt, as a share of the weight"),
    "harvest.culls.sound": tr_noop("harvest without what was spoilt"),
    "solution.water": tr_noop("water added"),
    "solution.refills": tr_noop("refills"),
    "solution.tubs.*.water": tr_noop("water added"),
    "solution.tubs.*.refills": tr_noop("refills"),
    "solution.tubs.*.changes": tr_noop("water changes"),
    "solution.tubs.*.ec": tr_noop("EC"),
    "solution.tubs.*.ppm": tr_noop("EC in ppm"),
    "solution.tubs.*.ph": tr_noop("pH"),
    "solution.tubs.*.doses.*.total": tr_noop("amount in all"),
    "solution.tubs.*.doses.*.times": tr_noop("doses"),
    "solution.tubs.*.doses.*.per_litre": tr_noop("dose for the water added"),
    "solution.tubs.*.adjusted.*.total": tr_noop("amount in all"),
    "solution.tubs.*.adjusted.*.times": tr_noop("doses"),
    "solution.tubs.*.adjusted.*.per_litre": tr_noop("dose for the water added"),
    "solution.tubs.*.uptake.per_day": tr_noop("water used"),
    "solution.tubs.*.uptake.per_plant_day": tr_noop("water used per plant"),
    "solution.tubs.*.uptake.interval": tr_noop("from one refill to the next"),
    "solution.tubs.*.trend.ec": tr_noop("change in EC"),
    "solution.tubs.*.trend.ph": tr_noop("change in pH"),
    "solution.tubs.*.trend.ec_within": tr_noop("EC readings in the usual range"),
    "solution.tubs.*.trend.ph_within": tr_noop("pH readings in the usual range"),
    "climate.air": tr_noop("air"),
    "climate.humidity": tr_noop("humidity of the air"),
    "climate.water": tr_noop("water temperature"),
    "climate.light_hours": tr_noop("lamp hours"),
    "climate.vpd": tr_noop("vapour pressure deficit of the air"),
    "climate.leaf_vpd": tr_noop("vapour pressure deficit at the leaf"),
    "climate.energy": tr_noop("electricity for the lamps"),
    "climate.tubs.*.dli": tr_noop("light a day"),
    "climate.tubs.*.mean_dli": tr_noop("light a day, mean over the run"),
    "climate.tubs.*.light_sum": tr_noop("light over the run"),
    "climate.tubs.*.energy": tr_noop("electricity for the lamps"),
    "climate.tubs.*.degree_days": tr_noop("warmth above the base temperature"),
    "climate.tubs.*.day_temperature": tr_noop("air temperature while the lamp is on, mean"),
    "climate.tubs.*.night_temperature": tr_noop("air temperature while the lamp is off, mean"),
    "climate.tubs.*.day_vpd": tr_noop("vapour pressure deficit while the lamp is on, mean"),
    "climate.tubs.*.night_vpd": tr_noop("vapour pressure deficit while the lamp is off, mean"),
    "plants.*.harvest": tr_noop("harvest"),
    "work.visits": tr_noop("visits"),
    "work.waterings": tr_noop("visits to add water"),
    "work.feedings": tr_noop("visits to feed"),
    "work.hands_on": tr_noop("visits to work on the plants"),
    "climate.gaps.*": tr_noop("gaps in the readings"),
    "work.visits_by_phase.*": tr_noop("visits in the stage “{key}”"),
    "work.waterings_by_phase.*": tr_noop("visits to add water in the stage “{key}”"),
    "work.hands_on_by_phase.*": tr_noop("visits to work on the plants in the stage “{key}”"),
    "work.tasks.*": tr_noop("visits for {key}"),
    **{
        f"sets.{kind}.*.{end}": words
        for kind in ("by_group", "by_variety", "by_tub")
        for end, words in (
            *_OF_SETS.items(),
            *((f"stages.*.{end}", words) for end, words in _STAGES_OF_SETS.items()),
        )
    },
}
# The row comes before the label: "Flower bud, first seen".
_KEY_FIRST = ("milestones", "doses", "adjusted", "sets")


@dataclass(frozen=True, slots=True)
class Labels:
    """The words of every figure of one experiment, by its name."""

    words: dict[str, str]

    @classmethod
    def of(cls, facts: Facts) -> Labels:
        """The words of all figures there are."""
        words: dict[str, str] = {}
        _label_all(facts, "", (), words, lone_tub=len(facts.run.setup.tubs) == 1)
        return cls(words)

    def say(self, figure: Figure) -> str:
        """The name of a figure in words."""
        return opening(self.inside(figure))

    def inside(self, figure: Figure) -> str:
        """The name of a figure inside a sentence; one of no experiment goes by the last part of its name."""
        return self.words.get(figure.name) or figure.name.rpartition(".")[2].replace("_", " ")


def subject_of(name: str) -> str:
    """The subject that a figure's working stands under."""
    first, dot, _ = name.partition(".")
    return first if dot and first in SUBJECTS else ""


def subject_words(subject: str) -> str:
    """The name of a subject in words."""
    word = SUBJECTS[subject]
    return tr(word)


def _label_all(
    node: object, pattern: str, keys: tuple[str, ...], words: dict[str, str], *, lone_tub: bool
) -> None:
    """Put the words of each figure below a part of the facts by its name; `keys` are the words of rows on the way."""
    if isinstance(node, Figure):
        if node.name:
            words[node.name] = _label(pattern, keys)
    elif isinstance(node, tuple):
        for item in node:
            key = _key(item, lone_tub=lone_tub)
            if pattern.endswith("by_tub"):
                key = tub_words(key)
            elif _named_by_author(item) and not _key_first(pattern):
                key = name_in_text(key)
            inner = (*keys, key) if key else keys
            _label_all(item, f"{pattern}.*", inner, words, lone_tub=lone_tub)
    elif isinstance(node, Named):
        _label_all(node.figure, pattern, keys, words, lone_tub=lone_tub)
    else:
        for name in inner_fields(node):
            path = f"{pattern}.{name}" if pattern else name
            _label_all(getattr(node, name), path, keys, words, lone_tub=lone_tub)


def _key(row: object, *, lone_tub: bool) -> str:
    """The words that a reader knows a row by; a lone tub needs none."""
    if isinstance(row, (TubFacts, TubClimate)):
        return "" if lone_tub else tub_words(row.label)
    if isinstance(row, (Named, MilestoneFacts, Dosing, PlantSetFacts, SetStageFacts)):
        return label_words(row.label)
    return row.plant if isinstance(row, PlantFacts) else ""


def _label(pattern: str, keys: tuple[str, ...]) -> str:
    words = tr(WORDS[pattern])
    if "{key}" in words and keys:
        return words.format(key=keys[-1])
    return ", ".join([*keys, words] if _key_first(pattern) else [words, *keys])


def _key_first(pattern: str) -> bool:
    return any(part in _KEY_FIRST for part in pattern.split("."))


def _named_by_author(row: object) -> bool:
    """Whether a row has the name of a plant, group, variety or grade."""
    return isinstance(row, PlantFacts) or (isinstance(row, Named) and not row.label.kind)
