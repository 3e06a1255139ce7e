"""Prices as people write them: `9.50 per 500 ml`, `12 per kg`.

In: the text of one scalar and the dimension that its key wants. Out: a `Price`, or None and a finding.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.records.setup import Price
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Scalar

_MONEY = re.compile(r"\d{1,9}(\.\d{1,9})?")
_AMOUNT = re.compile(r"[\d.,/]+\s*")

# An example of a price for each dimension, for findings.
_EXAMPLES: dict[Dimension | None, str] = {
    Dimension.ENERGY: "0.31 per kWh",
    Dimension.VOLUME: "0.004 per L",
    Dimension.MASS: "12 per kg",
}

_LIKE_PRICE = re.compile(
    r"(?P<sign>[^\w\s]?)\s*(?P<amount>\d{1,9}(?:[.,]\d{1,2})?)\s*(?P<currency>[^\W\d]{3}|[^\w\s/])?\s*(?:per|for|/|a)\s*(?P<per>\S.*)"
)


def _price_mend(scalar: Scalar, example: str) -> str | Mend:
    """The mend for a text that is no price: the author's own amount, without its currency."""
    said = _LIKE_PRICE.fullmatch(scalar.text.strip())
    if said is None:
        return f"write an amount and what it buys, such as `{example}`; the currency stands in journal.yaml"
    text = f"{said['amount'].replace(',', '.')} per {said['per']}"
    return scalar.written(text, safe=not (said["sign"] or said["currency"]))


def parse_price(scalar: Scalar, dimension: Dimension | None, findings: Findings) -> Price | None:
    """`9.50 per 500 ml`; without a dimension by weight or by volume, depending on its unit."""
    expected = "an amount of money per quantity"
    amount, _, per = scalar.text.partition(" per ")
    if not per or not _MONEY.fullmatch(amount):
        mend = _price_mend(scalar, _EXAMPLES.get(dimension, "9.50 per 500 ml"))
        message = f"`{scalar.text}` is not a price"
        if isinstance(mend, Mend) and not mend.safe:
            message = f"{message}: its currency stands in journal.yaml"
        scalar.report(findings, "not-a-price", message, mend, expected)
        return None
    written = per if re.match(r"\d", per) else f"1 {per}"
    match = _AMOUNT.match(written)
    number = match.group() if match else ""
    unit = written[len(number) :].strip()
    if dimension is None and unit == "oz":
        message = f"`{scalar.text}` of a product can be a price by weight or by volume"
        mend = f"write `{amount} per {number}fl oz`, or the weight in `g`"
        scalar.report(findings, "ambiguous-number", message, mend, expected)
        return None
    wanted = dimension or (Dimension.MASS if unit_named(unit, Dimension.MASS) else Dimension.VOLUME)
    inner = Scalar(written, scalar.part(len(amount) + 5, len(per)))
    quantity = parse_quantity(inner, wanted, findings, "price")
    return None if quantity is None else Price(float(amount), quantity)
