"""Doses of feed far from the label."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Event
from sitegen.core.records.setup import Product, Setup
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.ranges import dose_unlike_label
from tests.judge.builders import SYRUP, Row, by, checked, done, fed, ml, place, run, setup, sown, watered


def test_dose_above_label() -> None:
    """Feed far above the label for the water added with it is a warning."""
    assert by(dose_unlike_label, run(sown(), watered(20, 4), fed(20, ml(80)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 10 times the 2 ml/L of its label "
            "(check the amount, its unit and the water added)"
        )
    ]


def test_dose_below_label() -> None:
    """Feed far below the label is a warning."""
    assert by(dose_unlike_label, run(sown(), watered(20, 4), fed(20, ml(1)))) == [
        (
            "e.yaml:120:5: warning[dose-unlike-label]: `syrup` on day 20 is 0.125 times the 2 ml/L of its "
            "label (check the amount, its unit and the water added)"
        )
    ]


def test_dose_written_as_a_dose() -> None:
    """A dose per litre is compared with the label without water."""
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
    """An amount without water at the same visit is compared with nothing."""
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


def far(line: int, times: str, found: str, label: str = "2 ml/L", product: str = "syrup") -> Finding:
    """A dose far from the label."""
    return Finding(
        "dose-unlike-label",
        place(line),
        f"`{product}` on day {line - 100} is {times} times the {label} of its label",
        "check the amount, its unit and the water added",
        found,
        label,
    )


def dose(least: float, most: float | None = None) -> Quantity:
    """A dose by volume."""
    return Quantity(least, most or least, Dimension.VOLUME_DOSE, step=1)


def fill(when: int, tub: str = "tub", deed: Deed = Deed.WATER, **more: Any) -> Event:
    """A tub filled up."""
    return done(deed, when, tub=tub, filled=True, **more)


def litres(when: int, amount: float | None, tub: str = "tub") -> Event:
    """Water into a tub; None: not measured."""
    volume = unknown(Dimension.VOLUME) if amount is None else ml(amount * 1000)
    return done(Deed.WATER, when, tub=tub, amount=volume)


EIGHT_LITRES = [far(120, "5", "80 ml")]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([fed(20, dose(5))], []),
        ([fed(20, dose(5.1))], [far(120, "2.55", "5.1 ml/L")]),
        ([fed(20, dose(0.4))], []),
        ([fed(20, dose(0.39))], [far(120, "0.195", "0.39 ml/L")]),
        ([fed(20, dose(6, 9))], []),
        ([fed(20, replace(dose(6), high=None))], []),
        ([litres(20, 4), fed(20, ml(20))], []),
        ([litres(20, 4), fed(20, ml(21))], [far(120, "2.62", "21 ml")]),
        ([litres(20, 4), litres(20, 4), fed(20, ml(40))], []),
        ([litres(20, 4), litres(20, 4), fed(20, ml(41))], [far(120, "2.56", "41 ml")]),
        ([litres(20, 4), litres(20, None), fed(20, ml(80))], []),
        ([litres(20, 0), fed(20, ml(80))], []),
        ([litres(19, 4), fed(20, ml(80))], []),
        ([litres(20, 4, tub="other"), fed(20, ml(80))], []),
        ([litres(20, 4), fed(20, exactly(80, Dimension.MASS, 1))], []),
        ([litres(20, 4), done(Deed.ADJUST, 20, tub="tub", product="syrup", amount=ml(80))], []),
        ([litres(20, 4), done(Deed.FEED, 20, tub="tub", product="syrup", as_labelled=True)], []),
        ([litres(20, 4), done(Deed.FEED, 20, tub="tub", product="other", amount=ml(80))], []),
        ([fill(20), fed(20, ml(80))], EIGHT_LITRES),
        ([fill(10), fill(20), fed(20, ml(80))], []),
        ([litres(10, 4), fill(20), fed(20, ml(80))], []),
        ([fill(10, tub="other"), fill(20), fed(20, ml(80))], EIGHT_LITRES),
        ([fill(10), fill(20, deed=Deed.CHANGE), fed(20, ml(80))], EIGHT_LITRES),
        ([fill(20, amount=ml(4000)), fed(20, ml(80))], [far(120, "10", "80 ml")]),
        ([done(Deed.CHANGE, 20, tub="tub"), fed(20, ml(80))], []),
        (
            [fed(20, dose(9)), fed(21, dose(2)), fed(22, ml(9)), fed(23, dose(0.2))],
            [far(120, "4.5", "9 ml/L"), far(123, "0.1", "0.2 ml/L")],
        ),
    ],
)
def test_doses(rows: list[Row], expected: list[Finding]) -> None:
    """From a fifth to two and a half times the label a dose is right, for all water added to its tub at its visit."""
    assert checked(dose_unlike_label, run(sown(), *rows)) == expected


def labelled(dose: Quantity | None) -> Setup:
    """A head whose syrup has this dose on its label."""
    return setup(products=(Product("other", "Other", "feed"), replace(SYRUP, dose=dose)))


def powder(low: float, high: float | None) -> Quantity:
    """A dose by weight."""
    return Quantity(low, high, Dimension.MASS_DOSE, step=1)


@pytest.mark.parametrize(
    ("label", "given", "expected"),
    [
        (powder(1, 1), exactly(80, Dimension.MASS, 1), [far(120, "20", "80 g", "1 g/L")]),
        (powder(1, 3), exactly(80, Dimension.MASS, 1), [far(120, "10", "80 g", "1-3 g/L")]),
        (powder(1, None), exactly(80, Dimension.MASS, 1), []),
        (powder(0, 0), exactly(80, Dimension.MASS, 1), []),
        (powder(0, 0), powder(80, 80), []),
        (powder(1, 1), ml(80), []),
        (powder(1, 1), powder(9, 9), [far(120, "9", "9 g/L", "1 g/L")]),
        (powder(1, 1), dose(9), []),
        (None, ml(80), []),
    ],
)
def test_labels(label: Quantity | None, given: Quantity, expected: list[Finding]) -> None:
    """A label may be by weight or a range; one without a bound, of nothing or of another kind says nothing."""
    made = run(sown(), litres(20, 4), fed(20, given), head=labelled(label))

    assert checked(dose_unlike_label, made) == expected
