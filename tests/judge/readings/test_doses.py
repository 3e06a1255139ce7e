"""Doses of feed far from the label."""

from __future__ import annotations

import pytest

from sitegen.core.records.rows import Deed
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.readings.doses import dose_unlike_label
from tests.judge.builders import by, done, fed, ml, run, sown, watered


def test_dose_above_label() -> None:
    """Feed far above the label for the water added with it is asked about."""
    assert by(dose_unlike_label, run(sown(), watered(20, 4), fed(20, ml(80)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 10 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]


def test_dose_below_label() -> None:
    """Feed far below the label is asked about."""
    assert by(dose_unlike_label, run(sown(), watered(20, 4), fed(20, ml(1)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 0.125 times the 2 ml/L of its "
            "label (check the amount, its unit and the water added)"
        )
    ]


def test_dose_written_as_a_dose() -> None:
    """A dose a litre is held against the label without water."""
    assert by(dose_unlike_label, run(sown(), fed(20, exactly(9, Dimension.VOLUME_DOSE, 1)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 4.5 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]


@pytest.mark.parametrize("amount", [1.6, 4, 8, 20])
def test_dose_near_label(amount: float) -> None:
    """From a fifth to two and a half times the label, a dose is the grower's choice."""
    assert by(dose_unlike_label, run(sown(), watered(20, 4), fed(20, ml(amount)))) == []


def test_dose_without_water() -> None:
    """An amount without water at the same visit is held against nothing."""
    assert by(dose_unlike_label, run(sown(), watered(18, 4), fed(20, ml(80)))) == []


def test_dose_into_a_filled_tub() -> None:
    """The first filling is as much as the system holds, a full change too."""
    first = done(Deed.WATER, 0, tub="tub", filled=True), fed(0, ml(16))
    change = done(Deed.CHANGE, 20, tub="tub", filled=True), fed(20, ml(80))

    assert by(dose_unlike_label, run(sown(), *first, *change)) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 5 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]
