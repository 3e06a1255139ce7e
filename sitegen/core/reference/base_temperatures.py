"""Temperatures below which a crop does not develop: the base of its degree days.

In: a crop. Out: `BASES`, `base_temperature_of`. A journal's own base has precedence. Sources disagree, so each base
comes with its source.

References
----------
.. [1] Peet, M., Sustainable Practices for Vegetable Production in the South, North Carolina State University,
   Appendix 2 (bean 50 °F; turnip, cabbage, pea 40 °F; pepper 65 °F).
.. [2] University of Delaware, Weekly Crop Update (2025): pea, lettuce, cole crops, potato 40 °F.

"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.records.setup import Crop
from sitegen.core.reference.crop_rows import rows_by_latin, rows_by_name

_PEET = "Peet, Sustainable Practices for Vegetable Production in the South, Appendix 2"
_DELAWARE = "University of Delaware, Weekly Crop Update 2025"


@dataclass(frozen=True, slots=True)
class BaseTemperature:
    """The base temperature of one crop as printed [°F], and its source."""

    crop: str
    fahrenheit: int
    source: str
    latin: str = ""
    also: tuple[str, ...] = ()

    @property
    def celsius(self) -> float:
        """The base [°C]."""
        return (self.fahrenheit - 32) * 5 / 9


BASES: tuple[BaseTemperature, ...] = (
    BaseTemperature("bean", 50, _PEET, "Phaseolus", ("beans",)),
    BaseTemperature("pea", 40, _PEET, "Pisum sativum", ("peas",)),
    BaseTemperature("turnip", 40, _PEET, also=("turnips",)),
    BaseTemperature("cabbage", 40, _PEET),
    BaseTemperature("pepper", 65, f"{_PEET}; growers' lists also give 50 °F", "Capsicum", ("peppers",)),
    BaseTemperature("lettuce", 40, _DELAWARE, "Lactuca sativa"),
    BaseTemperature("potato", 40, _DELAWARE, "Solanum tuberosum", ("potatoes",)),
)


def base_temperature_of(crop: Crop) -> BaseTemperature | None:
    """The base of a crop: by its botanical name where a row has it, else by the last word of its id or name."""
    return next(iter(rows_by_latin(BASES, crop) or rows_by_name(BASES, crop)), None)
