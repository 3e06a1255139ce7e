"""Plants that got shorter, and doses unlike the label."""

from __future__ import annotations

import pytest

from sitegen.core.records.rows import Deed
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from tests.judge.builders import Row, by, done, fed, height, ml, named, picked, run, some_of, sown, watered


def test_shorter() -> None:
    """Plants that got shorter without a cut are said together."""
    made = run(sown(), height(20, 24, "P1", "P2"), height(27, 19, "P1", "P2"))

    assert by("shrunk", made) == [
        (
            "e.yaml:127:5: warning[shrunk]: `P1` and `P2` got shorter: 24 cm on day 20, 19 cm on day 27 "
            "(check both heights, or write what was cut under `prune`)"
        )
    ]


@pytest.mark.parametrize(
    "row",
    [
        done(Deed.PRUNE, 24, named("P1")),
        done(Deed.PRUNE, 27, some_of(2, 4)),
        done(Deed.TRAIN, 24),
        done(Deed.TROUBLE, 24, named("P1")),
        picked(24, 20, named("P1")),
    ],
)
def test_shorter_after_a_cut(row: Row) -> None:
    """A cut, a bend, trouble or a pick that may be the plant's explains that it is shorter."""
    assert by("shrunk", run(sown(), height(20, 24, "P1"), row, height(27, 19, "P1"))) == []


def test_shorter_after_another_plants_cut() -> None:
    """A cut of another plant explains nothing."""
    made = run(sown(), height(20, 24, "P1"), picked(24, 20, named("P2")), height(27, 19, "P1"))

    assert len(by("shrunk", made)) == 1


@pytest.mark.parametrize("later", [24, 22, 23])
def test_about_as_tall(later: float) -> None:
    """Within a tenth a plant is as tall as before."""
    assert by("shrunk", run(sown(), height(20, 24, "P1"), height(27, later, "P1"))) == []


def test_small_plant_within_its_step() -> None:
    """A fall of one step says nothing, however small the plant."""
    assert by("shrunk", run(sown(), height(20, 4, "P1"), height(27, 3, "P1"))) == []


def test_measured_to_another_place() -> None:
    """Heights to the leaf and to the stem tip are two series."""
    made = run(sown(), height(20, 24, "P1"), height(27, 15, "P1", at="stem tip"))

    assert by("shrunk", made) == []


def test_dose_above_label() -> None:
    """Feed far above the label for the water added with it is asked about."""
    assert by("doses", run(sown(), watered(20, 4), fed(20, ml(80)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 10 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]


def test_dose_below_label() -> None:
    """Feed far below the label is asked about."""
    assert by("doses", run(sown(), watered(20, 4), fed(20, ml(1)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 0.125 times the 2 ml/L of its "
            "label (check the amount, its unit and the water added)"
        )
    ]


def test_dose_written_as_a_dose() -> None:
    """A dose a litre is held against the label without water."""
    assert by("doses", run(sown(), fed(20, exactly(9, Dimension.VOLUME_DOSE, 1)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 4.5 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]


@pytest.mark.parametrize("amount", [1.6, 4, 8, 20])
def test_dose_near_label(amount: float) -> None:
    """From a fifth to two and a half times the label, a dose is the grower's choice."""
    assert by("doses", run(sown(), watered(20, 4), fed(20, ml(amount)))) == []


def test_dose_without_water() -> None:
    """An amount without water at the same visit is held against nothing."""
    assert by("doses", run(sown(), watered(18, 4), fed(20, ml(80)))) == []


def test_dose_into_a_filled_tub() -> None:
    """The first filling is as much as the system holds, a full change too."""
    first = done(Deed.WATER, 0, tub="tub", filled=True), fed(0, ml(16))
    change = done(Deed.CHANGE, 20, tub="tub", filled=True), fed(20, ml(80))

    assert by("doses", run(sown(), *first, *change)) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 5 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]
