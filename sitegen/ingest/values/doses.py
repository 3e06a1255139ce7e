"""Doses as people write them: `10 ml`, `2 g`, `2 ml/L`.

In: a single value. Out: a `Quantity`, or None and a finding.
"""

from __future__ import annotations

import re
from functools import lru_cache

from sitegen.core.findings.finding import Findings
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.values.quantity_errors import UNKNOWN
from sitegen.ingest.yaml.nodes import Scalar


def parse_dose(scalar: Scalar, findings: Findings, key: str, *, rates_only: bool = False) -> Quantity | None:
    """An amount (`10 ml`, `2 g`) or a rate (`2 ml/L`), distinguished by its unit."""
    dimension, refused = _dimension_of(scalar.text, rates_only=rates_only)
    if refused:
        code, message, mend = refused
        scalar.report(findings, code, message, mend, "a dose")
        return None
    return parse_quantity(scalar, dimension, findings, key)


@lru_cache(1024)  # logs repeat doses
def _dimension_of(text: str, *, rates_only: bool) -> tuple[Dimension, tuple[str, str, str] | None]:
    """The dimension of a dose by its unit; code, message and mend of a finding where it is invalid or ambiguous."""
    words = text.removesuffix(" by eye").split()
    unit, two = words[-1] if words else "", " ".join(words[-2:])
    order = [Dimension.VOLUME_DOSE, Dimension.MASS_DOSE]
    if not rates_only:
        order += [Dimension.MASS, Dimension.VOLUME]
    fits = [d for d in order if (unit_named(unit, d) or unit_named(two, d)) and unit != "oz"]
    fallback = Dimension.VOLUME_DOSE if rates_only or "/" in unit else Dimension.VOLUME
    return fits[0] if fits else fallback, _refusal(text, unit, two)


def _refusal(text: str, unit: str, two: str) -> tuple[str, str, str] | None:
    """Code, message and mend of a finding about a dose; None where it is valid."""
    if not re.search(r"[\d½¼¾⅓⅔⅛⅜⅝⅞]", text) and text not in UNKNOWN:
        mend = "write `10 ml`, `2 ml/L`, `as labelled` or `unmeasured`"
        return "not-a-quantity", f"`{text}` is not a dose", mend
    if re.fullmatch(r"(?:.*\d\s*)?oz", unit) and two != "fl oz":
        fluid = re.sub(r"\s*oz\b", " fl oz", text, count=1)
        message = f"`{text}` of a product can be a weight or a volume"
        return "ambiguous-number", message, f"write `{fluid}`, or the weight in `g`"
    if per := re.fullmatch(r"(.*\S)\s+(?:per|a)\s+(\S+)", text):
        return "unknown-unit", f"`{text}` is not a dose", f"write `{per[1]}/{per[2]}`"
    return None
