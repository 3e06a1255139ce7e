"""What else could explain a gap between two runs."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from sitegen.core.facts.across import Condition, Differed
from sitegen.core.records.setup import Seed
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.across.conditions import conditions_of
from sitegen.measure.across.differences import differed
from tests.measure.builders import run_of, setup_of


def between(*pairs: tuple[Condition | None, Condition | None]) -> list[str]:
    """The codes in which two runs with these conditions differ."""
    here, there = (tuple(each for each in side if each) for side in zip(*pairs, strict=True))
    return [each.code for each in differed(here, there)]


def air(low: float, high: float | None = None) -> Condition:
    """Air temperature in °C."""
    return Condition("temperature", Quantity(low, low if high is None else high, Dimension.TEMPERATURE))


@pytest.mark.parametrize(
    ("one", "other", "differs"),
    [
        pytest.param(air(20), air(21), False, id="within 1 °C"),
        pytest.param(air(20), air(21.1), True, id="more than 1 °C"),
        pytest.param(air(18, 22), air(21, 25), False, id="ranges that meet"),
        pytest.param(
            Condition("plants", counted(4)), Condition("plants", counted(6)), True, id="numbers of plants"
        ),
        pytest.param(
            Condition("density", exactly(20, Dimension.COUNT)),
            Condition("density", exactly(21.9, Dimension.COUNT)),
            False,
            id="within a tenth",
        ),
        pytest.param(
            Condition("lamp", names=("Bar", "Strip")),
            Condition("lamp", names=("Strip", "Bar")),
            False,
            id="order",
        ),
        pytest.param(
            Condition("system", names=("Tub",)), Condition("system", names=("Raft",)), True, id="names"
        ),
        pytest.param(
            Condition("variety", names=("a",)), Condition("variety", names=("b",)), False, id="variety"
        ),
        pytest.param(air(20), None, True, id="of one alone"),
        pytest.param(Condition("lamp"), Condition("lamp", counted(2)), True, id="an amount of one alone"),
    ],
)
def test_differences(one: Condition, other: Condition | None, differs: bool) -> None:
    """Values differ where ranges are apart by more than thermometers may be; names as sets; the variety never."""
    assert between((one, other)) == ([one.code] if differs else [])
    assert between((other, one)) == ([one.code] if differs else [])


def test_not_recorded_of_one() -> None:
    """A circumstance that only one run recorded has None for the other."""
    assert differed((air(20),), ()) == (Differed("temperature", air(20), None),)


def test_other_feeds_have_no_amounts() -> None:
    """Amounts of different feeds are not compared; those of the same are."""
    dose = Condition("feed", exactly(2, Dimension.VOLUME_DOSE), ("Leaf mix",))
    other = Condition("feed", exactly(3, Dimension.VOLUME_DOSE), ("Bloom",))
    (found,) = differed((dose,), (other,))
    assert (found.here, found.there) == (replace(dose, value=None), replace(other, value=None))
    more = replace(dose, value=exactly(3, Dimension.VOLUME_DOSE))
    assert differed((dose,), (more,)) == (Differed("feed", dose, more),)


def test_conditions_of_a_run() -> None:
    """Month of sowing, age of the seed, plants and system come from the set-up; what is not recorded is left out."""
    setup = replace(setup_of(4), start=Start(dt.date(2025, 3, 1), "day"), seed=Seed(packed="packed for 2023"))
    found = {each.code: each for each in conditions_of(measure(replace(run_of(), setup=setup)))}
    assert (found["month"].value, found["seed_age"].value) == (counted(3), counted(2))
    assert found["plants"].value == counted(4)
    assert found["system"].names == tuple(dict.fromkeys(tub.system.name for tub in setup.tubs))
    assert not {"temperature", "ec", "feed"} & found.keys()
