"""Germination standards for vegetable seed in the United States: the least share by law, by crop.

In: a crop. Out: `STANDARDS`, `standard_of`. For comparison only, never for a finding: a tray of seeds is a small part
of a seed test.

References
----------
.. [1] 7 CFR 201.31, Germination standards for vegetable seeds in interstate commerce (US Federal Seed Act
   regulations), read in a copy of the regulations. A test takes 400 seeds (7 CFR 201.54).

"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.records.setup import Crop
from sitegen.core.reference.crop_rows import rows_by_latin, rows_by_name

SOURCE = "7 CFR 201.31"
TEST_SEEDS = 400


@dataclass(frozen=True, slots=True)
class Standard:
    """The least share that comes up of one crop's seed [%], as in [1]_."""

    crop: str
    percent: int
    latin: str = ""
    also: tuple[str, ...] = ()


STANDARDS: tuple[Standard, ...] = (
    Standard("chard", 65, "Beta vulgaris subsp. cicla", ("swiss-chard",)),
    Standard("pak-choi", 75, "Brassica rapa subsp. chinensis", ("pak-choy", "bok-choy")),
    Standard("turnip", 80, "Brassica rapa subsp. rapa", ("turnips",)),
    Standard("lettuce", 80, "Lactuca sativa"),
    Standard("tomato", 75, "Solanum lycopersicum", ("tomatoes",)),
    Standard("husk-tomato", 50, "Physalis pubescens"),
    Standard("pepper", 55, "Capsicum", ("peppers",)),
    Standard("radish", 75, "Raphanus sativus", ("radishes",)),
    Standard("carrot", 55, "Daucus carota", ("carrots",)),
    Standard("cucumber", 80, "Cucumis sativus", ("cucumbers",)),
    Standard("broccoli", 75),
    Standard("cauliflower", 75),
    Standard("cabbage", 75),
    Standard("kale", 75),
    Standard("collards", 80),
    Standard("bean", 70, "Phaseolus vulgaris", ("beans",)),
    Standard("pea", 80, "Pisum sativum", ("peas",)),
    Standard("beet", 65, also=("beets", "beetroot")),
    Standard("spinach", 60, "Spinacia oleracea"),
    Standard("onion", 70, "Allium cepa", ("onions",)),
    Standard("leek", 60, "Allium ampeloprasum", ("leeks",)),
    Standard("chives", 50, "Allium schoenoprasum"),
    Standard("parsley", 60, "Petroselinum crispum"),
    Standard("celery", 55, "Apium graveolens var. dulce"),
    Standard("dill", 60, "Anethum graveolens"),
    Standard("sage", 60, "Salvia officinalis"),
    Standard("squash", 75),
    Standard("eggplant", 60, "Solanum melongena", ("aubergine",)),
    Standard("okra", 50, "Abelmoschus esculentus"),
    Standard("watermelon", 70, "Citrullus lanatus"),
    Standard("melon", 75, "Cucumis melo"),
    Standard("corn-salad", 70, "Valerianella locusta"),
    Standard("garden-cress", 75, "Lepidium sativum"),
)


def standard_of(crop: Crop) -> Standard | None:
    """The standard of a crop: by the last words of its id or name, else by its botanical name.

    One botanical name can stand for several crops of the table, such as chard and beet: the common name is more exact.
    """
    by_name = rows_by_name(STANDARDS, crop)
    if by_name:
        # `husk-tomato` ends with `tomato`: the longer name is the crop meant.
        return max(by_name, key=lambda row: len(row.crop))
    return next(iter(rows_by_latin(STANDARDS, crop)), None)
