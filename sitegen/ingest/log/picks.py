"""Picks: `harvest` in all its forms, and the running tally `total_so_far`.

A plain weight is of all its plants together; a weight for several plants is never divided.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.format.fields import Field
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Pick, Tally, Which
from sitegen.core.values.quantity import Quantity, some, total, unknown
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.log.visit import Visit, parts_of, scalars_of, which_in
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.values.quantity_errors import without_size
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields


def read_harvest(node: Node, field: Field, visit: Visit) -> None:
    """One pick, or several at one visit as a list."""
    for item in node.items if isinstance(node, Items) else (node,):
        for part in parts_of(item, field, visit):
            if part.fields is not None:
                _add_fields(part.fields, part.which, visit)
            elif part.value is not None:
                _add_plain(part.value, part.which or visit.names.everyone(), field, visit)


def _add_plain(node: Node, which: Which, field: Field, visit: Visit) -> None:
    texts = [item.text for item in node.items if isinstance(item, Scalar)] if isinstance(node, Items) else []
    example = f"{{weights: [{', '.join(texts)}]}}" if len(texts) > 1 else "84 g"
    scalar = expect_scalar(node, field.key, visit.findings, example=example)
    weight = parse_quantity(scalar, Dimension.MASS, visit.findings, field.key) if scalar else None
    if weight is not None and scalar is not None:
        tubs = _tubs(which, visit)
        visit.rows.picks.append(Pick(visit.day, visit.entry, scalar.source, which, weight, tubs))


def _tubs(which: Which, visit: Visit) -> tuple[str, ...]:
    """The tubs of the picked plants."""
    inside = dict(visit.names.tub_of)
    plants = which.ids or visit.names.standing
    return tuple(dict.fromkeys([inside[p] for p in plants if p in inside]))


def _add_fields(fields: TypedFields, subject: Which | None, visit: Visit) -> None:
    which = subject or which_in(fields, visit)
    _report_two_sizes(fields)
    if which is None:
        return
    each = fields.quantity("each")
    if each is not None and which.named:
        for plant in which.ids:
            _add_pick(fields, Which((plant,)), each, visit)
        return
    _add_pick(fields, which, _weight(fields, which, each), visit)


def _report_two_sizes(fields: TypedFields) -> None:
    """A finding where a pick has its size twice. Pieces may have their sum beside them; `each` excludes any other."""
    sizes = [key for key in ("weight", "together", "each") if fields.has(key)]
    sizes += ["weights"] if fields.has("each") and fields.has("weights") else []
    if len(sizes) > 1:
        fields.findings.add(
            "weights-disagree",
            fields.at(sizes[-1]),
            f"{listed([f'`{key}`' for key in sizes])} both say how much was picked",
            mend="keep one of them",
            found=", ".join(sizes),
        )


def _weight(fields: TypedFields, which: Which, each: Quantity | None) -> Quantity:
    """The weight of all of it, however it is given."""
    if each is not None:
        return each.times(which.count) if which.count else unknown(Dimension.MASS)
    pieces = tuple(_pieces(fields))
    whole = fields.quantity("weight") or fields.quantity("together")
    summed = total(pieces, Dimension.MASS) if pieces else None
    if whole is not None and summed is not None:
        _report_difference(fields, whole, summed)
    return whole or summed or unknown(Dimension.MASS)


def _pieces(fields: TypedFields) -> Iterator[Quantity]:
    node = fields.node("weights")
    for item in (node.items if isinstance(node, Items) else (node,)) if node is not None else ():
        scalar = expect_scalar(item, "weights", fields.findings, example="[8 g, 9 g]")
        weight = parse_quantity(scalar, Dimension.MASS, fields.findings, "weights") if scalar else None
        if weight is not None:
            yield weight


def _report_difference(fields: TypedFields, whole: Quantity, summed: Quantity) -> None:
    if not (whole.exact and summed.exact):
        return
    pieces = fields.node("weights")
    allowed = whole.step / 2 + summed.step * (len(pieces.items) if isinstance(pieces, Items) else 1) / 2
    if abs(whole.low - summed.low) > allowed + 1e-9:
        written = fields.text("weight") or fields.text("together")
        found = _in_unit_of(written, summed.low)
        fields.findings.add(
            "weights-disagree",
            fields.at("weights"),
            f"the single weights add up to {found}, not to {written}",
            mend=f"check the scale notes, or write `weight: {found}`",
            found=found,
            expected=written,
        )


def _in_unit_of(written: str, grams: float) -> str:
    """A weight in the unit that another is written in; in grams beside two units."""
    unit = unit_named(written.rsplit(maxsplit=1)[-1] if " " in written else "g", Dimension.MASS)
    if unit is None or " " not in written or len(re.findall(r"[a-z]+", written)) > 1:
        return f"{grams:g} g"
    return f"{round(grams / float(unit.factor), 3):g} {written.rsplit(maxsplit=1)[-1]}"


def _add_pick(fields: TypedFields, which: Which, weight: Quantity, visit: Visit) -> None:
    pieces = fields.node("weights")
    count = _pieces_counted(fields, "count")
    if count is None and isinstance(pieces, Items):
        count = len(pieces.items)
    spoilt, spoilt_weight = _spoilt(fields)
    pick = Pick(
        visit.day,
        visit.entry,
        fields.source,
        which,
        weight,
        _tubs(which, visit),
        count,
        fields.choice("part"),
        fields.text("grade"),
        spoilt,
        spoilt_weight,
        fields.whole("flush"),
        fields.choice("earlier_picks"),
    )
    visit.rows.picks.append(pick)


def _is_some(scalar: Scalar | None) -> bool:
    """Whether a number is left open: `some`, or `not counted`."""
    return scalar is not None and without_size(scalar.text, Dimension.COUNT) is not None


def _pieces_counted(fields: TypedFields, key: str) -> int | None:
    """A number of pieces; None where nobody counted them."""
    return None if _is_some(fields.scalar(key)) else fields.whole(key)


def _spoilt(fields: TypedFields) -> tuple[int | None, Quantity | None]:
    """The number and the weight of the spoilt pieces: a number alone, or a mapping with either or both."""
    if not isinstance(fields.node("spoilt"), Mapping):
        if _is_some(fields.scalar("spoilt")):
            return None, some(Dimension.MASS)
        return _number_spoilt(fields), None
    inner = fields.nested("spoilt")
    if inner is None:
        return None, None
    if not inner.values and not inner.unknown_keys:
        message = "`spoilt` says neither how many nor how much"
        example = in_units("{count: 2, weight: 30 g}", fields.findings.units)
        mend = f"write it, such as `spoilt: {example}`, or remove it"
        fields.report("spoilt", "missing-key", message, mend)
    weight = inner.quantity("weight")
    if weight is None and _is_some(inner.scalar("count")):
        weight = some(Dimension.MASS)
    return _pieces_counted(inner, "count"), weight


def _number_spoilt(fields: TypedFields) -> int | None:
    """The number of spoilt pieces; a weight in its place is a finding that shows where it belongs."""
    scalar = fields.scalar("spoilt")
    if scalar is None:
        return None
    if parse_quantity(scalar, Dimension.MASS, Findings(), "spoilt") is None:
        return fields.whole("spoilt")
    message = f"`{scalar.text}` is a weight; `spoilt` alone wants the number of pieces"
    mend = scalar.turned_into(f"{{weight: {scalar.text}}}", key="spoilt")
    scalar.report(fields.findings, "not-a-count", message, mend, "a whole number")
    return None


def read_tally(node: Node, field: Field, visit: Visit) -> None:
    """`total_so_far: 4.6 kg`: everything picked up to now."""
    for scalar, which in scalars_of(node, field, visit):
        amount = parse_quantity(scalar, Dimension.MASS, visit.findings, field.key)
        if amount is not None:
            visit.rows.tallies.append(Tally(visit.day, visit.entry, scalar.source, which, amount))
