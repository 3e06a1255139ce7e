"""What the columns of a spreadsheet hold, and which tub they belong to.

In: an item of `readings:` and the sheet's headings. Out: `SheetColumn`s, or findings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.format import TABLES
from sitegen.core.format.fields import Form
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.setup import Setup
from sitegen.core.values.units import CANONICAL, Dimension, Unit, unit_named
from sitegen.ingest.sheets.cells import Sheet
from sitegen.ingest.values.plants import PlantNames, report_unknown
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Mapping, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

READINGS = {f.key: f for f in TABLES["entry"].fields if f.form is Form.READING}
EMPTY = ("", "-", "–", "n/a", "na")
_UNITLESS = (Dimension.COUNT, Dimension.ACIDITY)


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """What a column holds: a plant's reading, or a sensor's."""

    heading: str
    index: int
    reading: str
    unit: Unit | None
    plant: str = ""


def columns_of(
    fields: TypedFields, sheet: Sheet, names: PlantNames, findings: Findings
) -> Iterator[SheetColumn]:
    """The columns that an item names, as far as they are there."""
    node = fields.node("columns")
    mapping: Mapping | None = None
    if node is not None:
        mapping = expect_mapping(node, "columns", findings, example="{Rot 1: P1}")
    headings = [heading.strip() for heading in sheet.rows[0]]
    common = fields.scalar("reading")
    for pair in mapping or ():
        target = expect_scalar(pair.value, pair.key.text, findings, example="P1")
        if target is None:
            continue
        if headings.count(pair.key.text) != 1:
            unknown_column(pair.key, headings, sheet, findings)
            continue
        index = headings.index(pair.key.text)
        column = _column(pair.key.text, index, target, common, names, findings)
        if column is not None:
            yield column


def unknown_column(key: Scalar, headings: list[str], sheet: Sheet, findings: Findings) -> None:
    """A heading that no column has, or more than one."""
    if key.text in headings:
        key.report(
            findings,
            "unknown-column",
            f"`{key.text}` is the heading of {headings.count(key.text)} columns of `{Path(sheet.file).name}`",
            "give each column a heading of its own",
        )
        return
    key.report(
        findings,
        "unknown-column",
        f"`{key.text}` is not a heading of `{Path(sheet.file).name}`",
        did_you_mean(key.text, [h for h in headings if h]),
        ", ".join(headings),
    )


def _column(
    heading: str, index: int, target: Scalar, common: Scalar | None, names: PlantNames, findings: Findings
) -> SheetColumn | None:
    """`Rot 1: P1` with a common reading, or `Temp: air_temperature C`."""
    if common is not None:
        if target.text not in names.plants:
            report_unknown(target.text, target.source, names, findings)
            return None
        kind = _reading_and_unit(common, findings)
        return None if kind is None else SheetColumn(heading, index, kind[0], kind[1], target.text)
    kind = _reading_and_unit(target, findings)
    return None if kind is None else SheetColumn(heading, index, kind[0], kind[1])


def _reading_and_unit(scalar: Scalar, findings: Findings) -> tuple[str, Unit | None] | None:
    name, _, unit_text = scalar.text.partition(" ")
    if name not in READINGS:
        findings.add(
            "unknown-choice",
            scalar.part(0, len(name)),
            f"`{name}` is not a reading",
            mend=did_you_mean(name, READINGS),
            found=name,
            expected=", ".join(READINGS),
        )
        return None
    dimension = READINGS[name].dimension
    assert dimension is not None
    if dimension in (Dimension.COUNT, Dimension.ACIDITY) or not unit_text:
        return name, CANONICAL[dimension] if not unit_text and dimension in _UNITLESS else None
    unit = unit_named(unit_text, dimension)
    if unit is None:
        parse_quantity(Scalar(f"1 {unit_text}", scalar.source), dimension, findings, name)
        return None
    return name, unit


def tub_of(fields: TypedFields, setup: Setup, findings: Findings) -> str | None:
    """The tub of readings that belong to one; None and a finding where there are several and none is named."""
    if len(setup.tubs) == 1 or fields.has("tub"):
        return fields.text("tub") or setup.tubs[0].id
    findings.add(
        "which-tub",
        fields.at("file"),
        f"these readings belong to a tub; this experiment has {len(setup.tubs)}",
        mend=f"write `tub: {setup.tubs[0].id}` beside `file:`",
        expected=" | ".join(tub.id for tub in setup.tubs),
    )
    return None
