"""Published standards of germination and base temperatures."""

from __future__ import annotations

import pytest

from sitegen.core.records.setup import Crop
from sitegen.core.reference.base_temperatures import BASES, base_temperature_of
from sitegen.core.reference.germination_standards import STANDARDS, standard_of

# 7 CFR 201.31, read in a copy of the regulations: percent.
PRINTED = {
    "lettuce": 80,
    "tomato": 75,
    "pepper": 55,
    "radish": 75,
    "carrot": 55,
    "cucumber": 80,
    "chard": 65,
    "beet": 65,
    "pak-choi": 75,
    "turnip": 80,
    "husk-tomato": 50,
    "watermelon": 70,
    "melon": 75,
}


@pytest.mark.parametrize(("crop", "percent"), PRINTED.items())
def test_standards_as_printed(crop: str, percent: int) -> None:
    """A crop's minimum is the one of the regulations, whichever crops have names that end alike."""
    found = standard_of(Crop(f"early-{crop}", f"Early {crop.replace('-', ' ')}", "leafy"))
    assert found is not None
    assert (found.crop, found.percent) == (crop, percent)


def test_standard_by_botanical_name() -> None:
    """A crop of another name is found by its botanical one; one of neither has none."""
    found = standard_of(Crop("pixie", "Pixie", "fruiting", "Capsicum annuum"))
    assert found is not None
    assert found.crop == "pepper"
    assert standard_of(Crop("pixie", "Pixie", "herb")) is None


def test_crops_are_listed_once() -> None:
    """No crop has two standards or two bases."""
    for rows in (STANDARDS, BASES):
        names = [row.crop for row in rows]
        assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("crop", "celsius"), [("bean", 10), ("pea", 4.44), ("lettuce", 4.44), ("pepper", 18.33)]
)
def test_bases(crop: str, celsius: float) -> None:
    """A base temperature as printed in degrees Fahrenheit, with its source."""
    found = base_temperature_of(Crop(f"dwarf-{crop}", "Something", "leafy"))
    assert found is not None
    assert found.celsius == pytest.approx(celsius, abs=0.005)
    assert found.source


def test_no_base() -> None:
    """A crop that no list has goes without a base."""
    assert base_temperature_of(Crop("basil", "Basil", "herb", "Ocimum basilicum")) is None
