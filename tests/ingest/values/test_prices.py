"""Prices as people write them."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Price
from sitegen.core.values.units import Dimension
from sitegen.ingest.values.prices import parse_price
from sitegen.ingest.values.quantities import parse_quantity
from tests.ingest.builders import said, scalar


@pytest.mark.parametrize(
    ("text", "dimension", "amount", "per"),
    [
        ("9.50 per 500 ml", None, 9.5, ("500 ml", Dimension.VOLUME)),
        ("9.50 per 8 fl oz", None, 9.5, ("8 fl oz", Dimension.VOLUME)),
        ("12 per kg", None, 12, ("1 kg", Dimension.MASS)),
        ("12 per 8 oz", Dimension.MASS, 12, ("8 oz", Dimension.MASS)),
        ("0.31 per kWh", Dimension.ENERGY, 0.31, ("1 kWh", Dimension.ENERGY)),
    ],
)
def test_price(text: str, dimension: Dimension | None, amount: float, per: tuple[str, Dimension]) -> None:
    """An amount of money for a quantity; without a number, for one of the unit."""
    quantity = parse_quantity(scalar(per[0]), per[1], Findings(), "price")
    findings = Findings()

    assert quantity is not None
    assert parse_price(scalar(text), dimension, findings) == Price(amount, quantity)
    assert said(findings) == []


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("9.50 per 8 oz", "write `9.50 per 8 fl oz`, or the weight in `g`"),
        ("9.50 per oz", "write `9.50 per 1 fl oz`, or the weight in `g`"),
    ],
)
def test_error_ounces(text: str, mend: str) -> None:
    """Ounces of a product weigh or pour: which is asked."""
    findings = Findings()

    assert parse_price(scalar(text), None, findings) is None
    assert said(findings) == [
        f"1:10: ambiguous-number: `{text}` of a product can be a price by weight or by volume ({mend})"
    ]


def test_error_comma() -> None:
    """A price with a decimal comma is a finding, and never a fault of ours."""
    findings = Findings()

    assert parse_price(scalar("9,50 per 500 ml"), None, findings) is None
    assert said(findings) == [
        ("1:10: not-a-price: `9,50 per 500 ml` is not a price (write `9.50 per 500 ml`)")
    ]
