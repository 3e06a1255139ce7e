"""What belongs to a tub: `water`, `feed`, `adjust`, `light`, and the routines `from_now` and `stop`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from sitegen.core.findings.examples import in_units
from sitegen.core.format import TABLES
from sitegen.core.format.fields import Field
from sitegen.core.language.text import did_you_mean, listed
from sitegen.core.records.rows import Addition, Deed, Light, Routine, Watering
from sitegen.core.records.setup import LampUse, Product
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.shapes import tub_parts
from sitegen.ingest.log.visit import Visit
from sitegen.ingest.setup.tubs import parse_light
from sitegen.ingest.values.doses import parse_dose
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.values.quantity_errors import UNKNOWN
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import read_fields

_CHANGED = "changed to "
_DIGIT = re.compile(r"\d")


def read_water(node: Node, field: Field, visit: Visit) -> None:
    """`2 L` added, `filled`, `changed to 11 L`, `unmeasured`."""
    for tub, value in tub_parts(node, field, visit):
        scalar = expect_scalar(value, "water", visit.findings, example=field.example)
        if scalar is not None:
            _add_water(scalar, tub, visit)


def _add_water(scalar: Scalar, tub: str, visit: Visit) -> None:
    if scalar.text in ("filled", "changed"):
        deed = Deed.WATER if scalar.text == "filled" else Deed.CHANGE
        visit.add(Watering(deed, visit.day, visit.entry, scalar.source, tub=tub, filled=True))
        return
    if not _DIGIT.search(scalar.text) and scalar.text not in UNKNOWN:
        visit.findings.add(
            "not-a-quantity",
            scalar.source,
            f"`{scalar.text}` is not an amount of water",
            mend=_water_hint(scalar.text, visit),
            found=scalar.text,
            expected="an amount of water",
        )
        return
    changed = scalar.text.startswith(_CHANGED)
    inner = _after_words(scalar, _CHANGED) if changed else scalar
    amount = parse_quantity(inner, Dimension.VOLUME, visit.findings, "water")
    if amount is not None:
        deed = Deed.CHANGE if changed else Deed.WATER
        visit.add(Watering(deed, visit.day, visit.entry, scalar.source, tub=tub, amount=amount))


def _water_hint(text: str, visit: Visit) -> str:
    """What to write for a text that is no amount of water."""
    if re.fullmatch(r"(?:re)?fill(?:ed up)?|refilled|full|topped (?:up|off)|to the (?:top|brim|line)", text):
        return "write `filled`"
    if re.fullmatch(r"(?:water )?change|(?:all )?new|renewed|replaced", text):
        return "write `changed`"
    two, eleven = (in_units(example, visit.findings.units) for example in ("2 L", "11 L"))
    return f"write `{two}`, `filled`, `changed to {eleven}` or `unmeasured`"


def _after_words(scalar: Scalar, words: str) -> Scalar:
    text = scalar.text.removeprefix(words)
    return Scalar(text, scalar.part(len(words), len(text)), scalar.plain)


def read_doses(node: Node, field: Field, visit: Visit) -> None:
    """`{part-a: 10 ml, part-b: 10 ml}`, a tub: `feed` and `adjust`."""
    deed = Deed.FEED if field.key == "feed" else Deed.ADJUST
    for tub, value in tub_parts(node, field, visit):
        _refuse_at(value, field, visit)
        for pair, product in _products(value, field, visit):
            scalar = expect_scalar(pair.value, pair.key.text, visit.findings, example="10 ml")
            dose = _dose(scalar, visit, pair.key.text) if scalar else None
            if scalar is not None and dose is not None:
                at = visit.day, visit.entry, scalar.source
                visit.add(Addition(deed, *at, None, tub, "", product.id, *dose))


def _refuse_at(node: Node, field: Field, visit: Visit) -> None:
    """`at` makes a routine, which an event is not."""
    for pair in node if isinstance(node, Mapping) else ():
        if pair.key.text == "at":
            visit.findings.add(
                "unknown-key",
                pair.key.source,
                f"`at` belongs to a routine; `{field.key}` is what was given at this visit",
                mend="remove `at`, or write it under `from_now: {feed: {…}}`",
                found="at",
            )


def _products(node: Node, field: Field, visit: Visit) -> Iterator[tuple[Pair, Product]]:
    if not isinstance(node, Mapping) or (node.pairs and all(pair.key.text == "at" for pair in node)):
        ids = visit.library.product_ids
        text = node.text if isinstance(node, Scalar) else ""
        shown = text if text in ids else next(iter(ids), "leaf-mix")
        written = text if re.match(r"\d", text) else in_units("10 ml", visit.findings.units)
        visit.findings.add(
            "which-product",
            node.source,
            f"`{field.key}` does not say which product",
            mend=f"write `{field.key}: {{{shown}: {written}}}`",
            found=written,
            expected=", ".join(ids),
        )
        return
    for pair in node:
        if pair.key.text == "at":
            continue
        if pair.key.text in ("every", "when", "how_often") and isinstance(pair.value, Scalar):
            _report_often(pair.key, pair.value, visit)
            continue
        product = visit.library.product(pair.key, visit.findings)
        if product is not None:
            yield pair, product


def _report_often(key: Scalar, value: Scalar, visit: Visit) -> None:
    """How often a routine is done stands under `at`."""
    often = f"every {value.text}" if key.text == "every" else value.text
    visit.findings.add(
        "unknown-key",
        key.source,
        f"`{key.text}` is not a product; how often something is given stands under `at`",
        mend=f"write `at: {often}` under `from_now: {{feed: …}}`",
        found=key.text,
    )


def _dose(scalar: Scalar, visit: Visit, key: str) -> tuple[Quantity | None, bool] | None:
    if scalar.text == "as labelled":
        return None, True
    if scalar.text in UNKNOWN:
        return unknown(Dimension.VOLUME), False
    amount = parse_dose(scalar, visit.findings, key)
    return None if amount is None else (amount, False)


def read_light(node: Node, field: Field, visit: Visit) -> None:
    """A setting: what it does not say stays as it was."""
    for tub, value in tub_parts(node, field, visit):
        use = parse_light(value, visit.library, visit.findings)
        if use is None:
            continue
        merged = _merged(visit.rows.lamps.get(tub), use)
        visit.rows.lamps[tub] = merged
        visit.rows.lights.append(Light(visit.day, visit.entry, value.source, tub, merged))


def _merged(before: LampUse | None, now: LampUse) -> LampUse:
    if before is None or now.off:
        return now if not now.off else replace(before or LampUse(), off=True)
    return LampUse(now.lamp or before.lamp, now.hours or before.hours, now.distance or before.distance)


def read_routine(node: Node, field: Field, visit: Visit) -> None:
    """`{feed: {leaf-mix: 20 ml, at: every refill}}`: from now on, without an entry each time."""
    mapping = expect_mapping(node, "from_now", visit.findings, example=field.example)
    if mapping is None:
        return
    read = read_fields(mapping, "routine", visit.findings)
    for key, value in read.values.items():
        inner = read.table.field(key)
        if key == "feed":
            _feed_routine(value, inner, visit)
        elif key == "light":
            read_light(value, inner, visit)
        else:
            _routine_in_words(value, inner, visit)


def _feed_routine(node: Node, field: Field, visit: Visit) -> None:
    for tub, value in tub_parts(node, field, visit):
        at = value.get("at") if isinstance(value, Mapping) else None
        often = expect_scalar(at, "at", visit.findings, example="every refill") if at else None
        for pair, product in _products(value, field, visit):
            scalar = expect_scalar(pair.value, pair.key.text, visit.findings, example="20 ml")
            dose = _dose(scalar, visit, pair.key.text) if scalar else None
            if dose is not None:
                visit.rows.routines.append(
                    Routine(
                        what="feed",
                        day=visit.day,
                        entry=visit.entry,
                        source=pair.value.source,
                        tub=tub,
                        product=product.id,
                        amount=dose[0],
                        as_labelled=dose[1],
                        often=often.text if often else "",
                    )
                )


def _routine_in_words(node: Node, field: Field, visit: Visit) -> None:
    scalar = expect_scalar(node, field.key, visit.findings, example=field.example)
    if scalar is not None:
        routine = Routine(field.key, visit.day, visit.entry, scalar.source, often=scalar.text)
        visit.rows.routines.append(routine)


def read_stop(node: Node, field: Field, visit: Visit) -> None:
    """`stop: feed`, or a list: the routines that end here."""
    known = TABLES["routine"].keys
    items = node.items if isinstance(node, Items) else (node,)
    for item in items:
        scalar = expect_scalar(item, field.key, visit.findings, example=field.example)
        if scalar is None:
            continue
        if scalar.text in known:
            visit.act(Deed.STOP, scalar.source, what=scalar.text)
            continue
        visit.findings.add(
            "unknown-choice",
            scalar.source,
            f"`{scalar.text}` is not a routine; there are {listed(known)}",
            mend=did_you_mean(scalar.text, known),
            found=scalar.text,
            expected=" | ".join(known),
        )
