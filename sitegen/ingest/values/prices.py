"""Prices as people write them: `9.50 per 500 ml`, `12 per kg`.

In: a single value, and the dimension that its key wants, if one. Out: a `Price`, or None and a finding.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Price
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Scalar

_AMOUNT = re.compile(r"\d+(\.\d+)?")
_NUMBER = re.compile(r"[\d.,/]+\s*")

# One well-written price for each dimension: what a finding offers.
_PRICES: dict[Dimension | None, str] = {
    Dimension.ENERGY: "0.31 per kWh",
    Dimension.VOLUME: "0.004 per L",
    Dimension.MASS: "12 per kg",
}


def parse_price(scalar: Scalar, dimension: Dimension | None, findings: Findings) -> Price | None:
    """`9.50 per 500 ml`; without a dimension by weight or by volume, as its unit says."""
    amount, _, per = scalar.text.partition(" per ")
    if not per or not _AMOUNT.fullmatch(amount):
        _not_a_price(scalar, dimension, findings)
        return None
    written = per if re.match(r"\d", per) else f"1 {per}"
    number, unit = _number_and_unit(written)
    if dimension is None and unit == "oz":
        _weight_or_volume(scalar, f"{amount} per {number}fl oz", findings)
        return None
    wanted = dimension or (Dimension.MASS if unit_named(unit, Dimension.MASS) else Dimension.VOLUME)
    inner = Scalar(written, scalar.part(len(amount) + 5, len(per)))
    quantity = parse_quantity(inner, wanted, findings, "price")
    return None if quantity is None else Price(float(amount), quantity)


def _number_and_unit(text: str) -> tuple[str, str]:
    """`8 ` and `fl oz` of `8 fl oz`."""
    match = _NUMBER.match(text)
    number = match.group() if match else ""
    return number, text[len(number) :].strip()


def _weight_or_volume(scalar: Scalar, fluid: str, findings: Findings) -> None:
    scalar.report(
        findings,
        "ambiguous-number",
        f"`{scalar.text}` of a product can be a price by weight or by volume",
        f"write `{fluid}`, or the weight in `g`",
        "an amount of money per quantity",
    )


def _not_a_price(scalar: Scalar, dimension: Dimension | None, findings: Findings) -> None:
    scalar.report(
        findings,
        "not-a-price",
        f"`{scalar.text}` is not a price",
        f"write it as `{_PRICES.get(dimension, '9.50 per 500 ml')}`; the currency stands in journal.yaml",
        "an amount of money per quantity",
    )
