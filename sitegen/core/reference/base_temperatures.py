"""Temperatures below which a crop does not develop: the base of its degree days.

In: nothing. Out: `BASES`, `base_temperature_of`. A journal's own base always wins. Sources disagree, so a base never goes
without its source.

References
----------
.. [1] Peet, M., Sustainable Practices for Vegetable Production in the South, North Carolina State University,
   Appendix 2 (bean 50 °F; turnip, cabbage, pea 40 °F; pepper 65 °F).
.. [2] University of Delaware, Weekly Crop Update (2025): pea, lettuce, cole crops, potato 40 °F.

"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.language.text import slug
from sitegen.core.records.setup import Crop

_PEET = "Peet, Sustainable Practices for Vegetable Production in the South, Appendix 2"
_DELAWARE = "University of Delaware, Weekly Crop Update 2025"


@dataclass(frozen=True, slots=True)
class BaseTemperature:
    """One crop's base temperature as printed [°F], and where."""

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
    """The base of a crop: by its botanical name where it has one, else by the last word of its id or name."""
    latin = f"{crop.latin.lower()} "
    found = (row for row in BASES if crop.latin and row.latin and latin.startswith(f"{row.latin.lower()} "))
    names = [f"-{slug(name)}" for name in (crop.id, crop.name)]
    named = (
        row for row in BASES for word in (row.crop, *row.also) for name in names if name.endswith(f"-{word}")
    )
    return next(found, None) or next(named, None)
