"""Ranges of readings: possible ones and usual ones.

In: a crop. Out: `PHYSICAL` (a reading outside is an error), `USUAL` and `SOLUTIONS` (a reading outside is a warning),
each with its evidence. Sources disagree about solutions, so those ranges only ask for a second look.

References
----------
.. [1] Singh, H. and Dunn, B., Electrical Conductivity and pH Guide for Hydroponics, Oklahoma State University
   Extension, HLA-6722, Table 2. The rows were read in a transcription, not in the fact sheet itself.

"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from sitegen.core.records.setup import Crop
from sitegen.core.reference.crop_rows import rows_by_latin, rows_by_name
from sitegen.core.values.units import Dimension


class Evidence(StrEnum):
    """The evidence for a range."""

    DEFINITION = "by definition"
    SECOND_HAND = "read in a transcription of the source"
    PRACTICE = "common practice, no source"
    MEMORY = "from memory"


class ReadingRange(NamedTuple):
    """The bounds of a reading, in the canonical unit of its dimension."""

    reading: str
    low: float
    high: float
    dimension: Dimension
    evidence: Evidence


_D, _S = Dimension, Evidence

# Outside these a meter, a decimal point or a unit is wrong. A pH below 0 or above 14 exists, but not in a tub.
PHYSICAL: dict[str, ReadingRange] = {
    band.reading: band
    for band in (
        ReadingRange("ph", 0, 14, _D.ACIDITY, _S.PRACTICE),
        ReadingRange("humidity", 0, 100, _D.SHARE, _S.DEFINITION),
        ReadingRange("ec", 0, 20, _D.CONDUCTIVITY, _S.PRACTICE),
        ReadingRange("air_temperature", -20, 60, _D.TEMPERATURE, _S.PRACTICE),
        ReadingRange("leaf_temperature", -20, 60, _D.TEMPERATURE, _S.PRACTICE),
        ReadingRange("water_temperature", 0, 50, _D.TEMPERATURE, _S.PRACTICE),
        ReadingRange("ppfd", 0, 5000, _D.PHOTON_FLUX, _S.PRACTICE),
        ReadingRange("lux", 0, 500_000, _D.ILLUMINANCE, _S.PRACTICE),
        ReadingRange("light", 0, 24, _D.DURATION, _S.DEFINITION),
        ReadingRange("distance", 0, 1000, _D.LENGTH, _S.PRACTICE),
        ReadingRange("height", 0, 1000, _D.LENGTH, _S.PRACTICE),
        ReadingRange("spread", 0, 1000, _D.LENGTH, _S.PRACTICE),
        ReadingRange("leaves", 0, 10_000, _D.COUNT, _S.PRACTICE),
        ReadingRange("count", 0, 100_000, _D.COUNT, _S.PRACTICE),
        ReadingRange("pick", 0, 50_000, _D.MASS, _S.PRACTICE),
        ReadingRange("water", 0, 1_000_000, _D.VOLUME, _S.PRACTICE),
    )
}

USUAL: dict[str, ReadingRange] = {
    band.reading: band
    for band in (
        ReadingRange("ph", 4.5, 8, _D.ACIDITY, _S.MEMORY),
        ReadingRange("humidity", 10, 100, _D.SHARE, _S.MEMORY),
        ReadingRange("ec", 0.3, 5, _D.CONDUCTIVITY, _S.MEMORY),
        ReadingRange("air_temperature", 5, 40, _D.TEMPERATURE, _S.MEMORY),
        ReadingRange("water_temperature", 10, 30, _D.TEMPERATURE, _S.MEMORY),
        ReadingRange("light", 12, 18, _D.DURATION, _S.PRACTICE),
    )
}

# Plain water until seedlings are up and a weak feed after: a low EC says nothing before.
# Common practice, no source.
WEAK_FEED_DAYS = 28

# Suits most crops without soil, so it is usual for each of them. Common practice, no source.
_ANY_PH = (5.5, 6.5)


class Solution(NamedTuple):
    """EC [mS/cm] and pH of one crop as in [1]_; one pH there stands for half a unit either way.

    `other_ec` and `other_ph` are from other sources (read second-hand): they widen the range.
    """

    crop: str
    ec: tuple[float, float]
    ph: tuple[float, float]
    latin: str = ""
    also: tuple[str, ...] = ()
    other_ec: tuple[float, float] | None = None
    other_ph: tuple[float, float] | None = None
    evidence: Evidence = Evidence.SECOND_HAND

    @property
    def usual_ec(self) -> tuple[float, float]:
        """The EC [mS/cm] that any source gives."""
        return _hull(self.ec, self.other_ec)

    @property
    def usual_ph(self) -> tuple[float, float]:
        """The pH that any source gives, widened by the range that suits most crops."""
        low, high = _hull(self.ph, self.other_ph)
        wide = (low - 0.5, high + 0.5) if low == high else (low, high)
        return _hull(wide, _ANY_PH)


def _hull(one: tuple[float, float], other: tuple[float, float] | None) -> tuple[float, float]:
    return one if other is None else (min(one[0], other[0]), max(one[1], other[1]))


SOLUTIONS: tuple[Solution, ...] = (
    Solution("asparagus", (1.4, 1.8), (6.0, 6.8), "Asparagus officinalis"),
    Solution("african-violet", (1.2, 1.5), (6.0, 7.0), "Streptocarpus ionanthus"),
    Solution("basil", (1.0, 1.6), (5.5, 6.0), "Ocimum basilicum"),
    Solution("bean", (2.0, 4.0), (6.0, 6.0), "Phaseolus", ("beans",)),
    Solution("banana", (1.8, 2.2), (5.5, 6.5), "Musa"),
    Solution("broccoli", (2.8, 3.5), (6.0, 6.8)),
    Solution("cabbage", (2.5, 3.0), (6.5, 7.0)),
    Solution("carnation", (2.0, 3.5), (6.0, 6.0), "Dianthus caryophyllus"),
    Solution("celery", (1.8, 2.4), (6.5, 6.5), "Apium graveolens var. dulce"),
    Solution("courgette", (1.8, 2.4), (6.0, 6.0), also=("zucchini",)),
    Solution("cucumber", (1.7, 2.0), (5.0, 5.5), "Cucumis sativus", other_ph=(5.8, 6.0)),
    Solution("eggplant", (2.5, 3.5), (6.0, 6.0), "Solanum melongena", ("aubergine",)),
    Solution("ficus", (1.6, 2.4), (5.5, 6.0), "Ficus"),
    Solution("leek", (1.4, 1.8), (6.5, 7.0), "Allium ampeloprasum", ("leeks",)),
    Solution("lettuce", (1.2, 1.8), (6.0, 7.0), "Lactuca sativa", other_ec=(0.8, 1.2)),
    Solution("marrow", (1.8, 2.4), (6.0, 6.0)),
    Solution("okra", (2.0, 2.4), (6.5, 6.5), "Abelmoschus esculentus"),
    Solution("pak-choi", (1.5, 2.0), (7.0, 7.0), "Brassica rapa subsp. chinensis", ("bok-choy", "pak-choy")),
    Solution("parsley", (1.8, 2.2), (6.0, 6.5), "Petroselinum crispum"),
    Solution("pepper", (0.8, 1.8), (5.5, 6.0), "Capsicum", ("peppers",), other_ec=(2.0, 3.5)),
    Solution("rhubarb", (1.6, 2.0), (5.5, 6.0), "Rheum"),
    Solution("sage", (1.0, 1.6), (5.5, 6.5), "Salvia officinalis"),
    Solution("spinach", (1.8, 2.3), (6.0, 7.0), "Spinacia oleracea"),
    Solution("strawberry", (1.8, 2.2), (6.0, 6.0), "Fragaria", ("strawberries",)),
    Solution("tomato", (2.0, 4.0), (6.0, 6.5), "Solanum lycopersicum", ("tomatoes",)),
)


def solution_of(crop: Crop) -> Solution | None:
    """The row of a crop: by its botanical name where it has one, else by the last word of its id or name."""
    rows = rows_by_latin(SOLUTIONS, crop) if crop.latin else rows_by_name(SOLUTIONS, crop)
    return next(iter(rows), None)
