"""The columns of a spreadsheet that an item of `readings:` names, and the tub of its readings.

In: an item of `readings:` with its sheet. Out: `SheetColumn`s, or findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.findings.finding import Findings
from sitegen.core.format import TABLES
from sitegen.core.format.fields import Form
from sitegen.core.format.spelling import meant
from sitegen.core.language.text import listed
from sitegen.core.records.setup import Setup
from sitegen.core.values.units import CANONICAL, Dimension, Unit, unit_named, units_of
from sitegen.ingest.sheets.cells import Sheet
from sitegen.ingest.values.plants import PlantNames, report_unknown
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_DIMENSIONS = {f.key: f.dimension for f in TABLES["entry"].fields if f.form is Form.READING}
READINGS: dict[str, Dimension] = {key: dimension for key, dimension in _DIMENSIONS.items() if dimension}
EMPTY = ("", "-", "–", "n/a", "na")
UNITLESS = (Dimension.COUNT, Dimension.ACIDITY)


@dataclass(frozen=True, slots=True)
class SheetItem:
    """An item of `readings:`, with its sheet and the set-up of its experiment."""

    fields: TypedFields
    sheet: Sheet
    setup: Setup
    names: PlantNames

    @property
    def findings(self) -> Findings:
        """The findings about the item."""
        return self.fields.findings

    @property
    def decimal_comma(self) -> bool:
        """Whether numbers have a decimal comma."""
        return bool(self.fields.choice("decimal") == "comma")


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """One column: a reading of a plant, or of a sensor where `plant` is empty."""

    heading: str
    index: int
    reading: str
    unit: Unit | None
    plant: str = ""

    @property
    def dimension(self) -> Dimension:
        """The dimension of its reading."""
        return READINGS[self.reading]


def columns_of(item: SheetItem) -> Iterator[SheetColumn]:
    """The columns that an item names, as far as the sheet has them."""
    node = item.fields.node("columns")
    mapping = None if node is None else expect_mapping(node, "columns", item.findings, example="{Rot 1: P1}")
    common = item.fields.scalar("reading")
    headings = item.sheet.headings
    for heading, value in mapping or ():
        target = expect_scalar(value, heading.text, item.findings, example="P1")
        if target is None:
            continue
        if headings.count(heading.text) != 1:
            item.sheet.report_heading(heading, item.findings)
            continue
        plant = meant(target.text, item.names.plants) if common is not None else ""
        if common is not None and not plant:
            report_unknown(target, item.names, item.findings)
            continue
        # `Rot 1: P1` with a common reading, or `Temp: air_temperature C`.
        reading = _reading_and_unit(common or target, item.findings)
        if reading is not None:
            yield SheetColumn(heading.text, headings.index(heading.text), *reading, plant)


def _reading_and_unit(scalar: Scalar, findings: Findings) -> tuple[str, Unit | None] | None:
    name, _, unit_text = scalar.text.strip().partition(" ")
    for end in [match.start() for match in re.finditer(r"\s|$", scalar.text.strip())]:
        if word := meant(scalar.text.strip()[:end], READINGS):
            name, unit_text = word, scalar.text.strip()[end:].strip()
    if name not in READINGS:
        reading = Scalar(name, scalar.part(0, len(name)))
        reading.report_unknown(findings, "unknown-choice", f"`{name}` is not a reading", READINGS, "")
        return None
    dimension = READINGS[name]
    if dimension in UNITLESS or not unit_text:
        return name, CANONICAL[dimension] if not unit_text and dimension in UNITLESS else None
    unit = unit_named(unit_text, dimension)
    if unit is None:
        parse_quantity(Scalar(f"1 {unit_text}", scalar.source), dimension, findings, name)
        return None
    return name, unit


def report_no_unit(reading: Scalar, column: SheetColumn, findings: Findings) -> None:
    """A finding for a reading of bare numbers that is named without their unit."""
    units = sorted(units_of(column.dimension), key=lambda unit: unit.system not in (findings.units, "both"))
    offers = [f"`{column.reading} {unit.symbol}`" for unit in units[:2]]
    message, mend = f"`{column.heading}` holds numbers without a unit", f"write {listed(offers, 'or')}"
    reading.report(findings, "no-unit", message, mend, "a reading and the unit of its numbers")


def tub_of(item: SheetItem) -> str | None:
    """The tub of readings that belong to one; None and a finding where there are several and none is named."""
    tubs = [tub.id for tub in item.setup.tubs]
    if len(tubs) == 1 or item.fields.has("tub"):
        return item.names.tub(item.fields.text("tub")) or tubs[0]
    message = f"these readings belong to a tub; this experiment has {len(tubs)}"
    mend = f"write {listed([f'`tub: {tub}`' for tub in tubs], 'or')} beside `file:`"
    item.fields.report("file", "which-tub", message, mend, expected=" | ".join(tubs))
    return None
