"""Readings: of plants (`height`, `spread`, `leaves`, `count`) and of tubs (`ec`, `ph`, temperatures, humidity).

A plain reading of plants is each plant's; `{together: …}` says otherwise.
"""

from __future__ import annotations

import re
from typing import Literal

from sitegen.core.findings.examples import in_units
from sitegen.core.format.fields import Field, Subject
from sitegen.core.records.rows import Reading, Which
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.visit import Visit, parts_of, tub_parts, which_in
from sitegen.ingest.values.quantities import parse_quantity, parse_steps
from sitegen.ingest.yaml.nodes import Mapping, Node, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

_TO = re.compile(r"(?<!\s)\s++to the (?P<point>[a-z ]+)$")
_PPM = re.compile(r"(?<![a-z])(?:ppm|tds)(?!\w)", re.IGNORECASE)
_PPM_OF_SCALE = re.compile(r"ppm(?P<scale>500|640|700)(?!\w)")
_COUNT_OF = re.compile(r"(?P<number>.*?\d\+?|(?i:some|a few|several))\s+(?P<what>[^\d\s].*)")


def read_reading(node: Node, field: Field, visit: Visit) -> None:
    """A measured value, of plants or of a tub."""
    if field.subject is Subject.PLANTS:
        _of_plants(node, field, visit)
    else:
        _of_tubs(node, field, visit)


def _of_plants(node: Node, field: Field, visit: Visit) -> None:
    for part in parts_of(node, field, visit):
        if part.fields is not None:
            _from_fields(part.fields, part.which, field, visit)
        elif part.value is not None:
            scalar = expect_scalar(part.value, field.key, visit.findings, example=field.example)
            if scalar is not None:
                _add(scalar, part.which or visit.names.everyone(), field, visit, together=False)


def _from_fields(fields: TypedFields, subject: Which | None, field: Field, visit: Visit) -> None:
    which = subject or which_in(fields, visit)
    if fields.has("meter"):
        _report_meter(fields, field)
    given = [(mode, fields.scalar(mode)) for mode in ("each", "together")]
    values = [(mode, scalar) for mode, scalar in given if scalar is not None]
    if not values:
        message = f"`{field.key}` has no value here"
        mend = f"write it, such as `each: {in_units(field.example, visit.findings.units)}`, or `together: …`"
        visit.findings.add("missing-key", fields.source, message, mend=mend, expected="each | together")
    for mode, scalar in values:
        if which is not None:
            _add(scalar, which, field, visit, together=mode == "together")


def _add(scalar: Scalar, which: Which, field: Field, visit: Visit, *, together: bool) -> None:
    plain, point, what = _trimmed(scalar, field)
    assert field.dimension is not None
    value = parse_quantity(plain, field.dimension, visit.findings, field.key)
    if value is not None:
        row = Reading(field.key, visit.day, visit.entry, scalar.source, value, which.ids, which)
        visit.rows.readings.append(row._replace(at=point, together=together, what=what))


def _trimmed(scalar: Scalar, field: Field) -> tuple[Scalar, str, str]:
    """The bare quantity, the upper end of a height, and the things counted."""
    if field.dimension is Dimension.LENGTH:
        match = _TO.search(scalar.text)
        if match:
            text = scalar.text[: match.start()]
            point = "" if match["point"] == "topmost leaf" else match["point"]
            return Scalar(text, scalar.part(0, len(text)), scalar.plain), point, ""
    if field.key == "count":
        match = _COUNT_OF.fullmatch(scalar.text)
        if match:
            return Scalar(match["number"], scalar.part(0, len(match["number"]))), "", match["what"]
    return scalar, "", ""


def _of_tubs(node: Node, field: Field, visit: Visit) -> None:
    for tub, value in tub_parts(node, field, visit):
        scale = visit.library.scale
        if isinstance(value, Mapping):
            fields = read_fields(value, field.table, visit.findings)
            scalar = fields.scalar("value") or fields.scalar("each") or fields.scalar("together")
            scale = _scale(fields, field, visit)
            if scalar is None and fields.values:
                message = f"`{field.key}` has no value here"
                mend = f"write it, such as `value: {in_units(field.example, visit.findings.units)}`"
                visit.findings.add("missing-key", fields.source, message, mend=mend)
        else:
            scalar = expect_scalar(value, field.key, visit.findings, example=field.example)
        if scalar is not None:
            _add_steps(scalar, tub, field, visit, scale)


def _scale(fields: TypedFields, field: Field, visit: Visit) -> int | None:
    """The scale of the meter that is named, else the one of all meters."""
    name = fields.scalar("meter")
    if name is None:
        return visit.library.scale
    if field.dimension is not Dimension.CONDUCTIVITY:
        _report_meter(fields, field)
        return None
    meter = visit.library.meter(name, visit.findings)
    return meter.scale if meter else None


def _report_meter(fields: TypedFields, field: Field) -> None:
    message = f"`meter` belongs to `ec`; `{field.key}` has none"
    fields.report("meter", "unknown-key", message, "remove `meter`")


def _conductivity(
    scalar: Scalar, scale: int | None, visit: Visit, key: str
) -> tuple[tuple[Quantity, ...], int | None]:
    """The values of an EC and the scale of its meter; ppm without a scale stay ppm."""
    if written := _PPM_OF_SCALE.search(scalar.text):
        scale = int(written["scale"])
    elif plain := _PPM.search(scalar.text):
        if scale is None:
            _report_ppm(scalar, plain, visit)
            return parse_steps(scalar, Dimension.PPM, visit.findings, key), None
        text = _PPM.sub(f"ppm{scale}", scalar.text)
        scalar = Scalar(text, scalar.source, scalar.plain)
    return parse_steps(scalar, Dimension.CONDUCTIVITY, visit.findings, key), scale


def _report_ppm(scalar: Scalar, unit: re.Match[str], visit: Visit) -> None:
    """A finding for ppm that nothing can be compared with."""
    meter = next((meter.id for meter in visit.library.meters), "pen")
    named = len(visit.library.meters) > 1
    message = "ppm without the scale of the meter stays ppm: no EC comes from it"
    mend = (
        f"say which meter read it: `ec: {{value: {scalar.text}, meter: {meter}}}`"
        if named
        else f"write its scale once in gear.yaml, such as `meters: {{{meter}: {{name: EC pen, scale: 500}}}}`"
    )
    place = scalar.part(unit.start(), len(unit.group()))
    expected = "mS/cm, or the scale of the meter: 500, 640 or 700"
    visit.findings.add("ppm-without-scale", place, message, mend=mend, found=scalar.text, expected=expected)


def _add_steps(scalar: Scalar, tub: str, field: Field, visit: Visit, scale: int | None) -> None:
    """One value, or one before and one after something was done."""
    assert field.dimension is not None
    if field.dimension is Dimension.CONDUCTIVITY:
        values, scale = _conductivity(scalar, scale, visit, field.key)
    else:
        values, scale = parse_steps(scalar, field.dimension, visit.findings, field.key), None
    moments: tuple[Literal["", "before", "after"], ...] = ("before", "after") if len(values) > 1 else ("",)
    for moment, value in zip(moments, values, strict=False):
        reading = Reading(field.key, visit.day, visit.entry, scalar.source, value, tub=tub, moment=moment)
        visit.rows.readings.append(reading._replace(scale=scale))
