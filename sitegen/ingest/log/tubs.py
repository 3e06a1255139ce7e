"""Events and settings of tubs: `water`, `feed`, `adjust`, `light`, and the routines `from_now` and `stop`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.format import TABLES
from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field
from sitegen.core.language.text import listed
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Watering
from sitegen.core.records.setup import LampUse, Product
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.visit import Visit, tub_parts
from sitegen.ingest.setup.plants import parse_light
from sitegen.ingest.values.quantities import parse_dose, parse_quantity
from sitegen.ingest.values.quantity_errors import UNKNOWN
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import read_fields

_CHANGED = "changed to "
_DIGIT = re.compile(r"\d")


def read_water(node: Node, key: LogKey, visit: Visit) -> None:
    """`2 L` added, `filled`, `changed to 11 L`, `unmeasured`."""
    for tub, value in tub_parts(node, key, visit):
        scalar = expect_scalar(value, key.key, visit.findings, example=key.example)
        if scalar is None:
            continue
        deed = Deed.CHANGE if scalar.text == "changed" or scalar.text.startswith(_CHANGED) else Deed.WATER
        filled = scalar.text in ("filled", "changed")
        amount = None if filled else _water_amount(scalar, visit)
        if filled or amount is not None:
            at = visit.day, visit.entry, scalar.source
            visit.add(Watering(deed, *at, tub=tub, amount=amount, filled=filled))


def _water_amount(scalar: Scalar, visit: Visit) -> Quantity | None:
    """The amount of water, the new one of a change."""
    if _DIGIT.search(scalar.text) or scalar.text in UNKNOWN:
        text = scalar.text.removeprefix(_CHANGED)
        span = scalar.part(len(scalar.text) - len(text), len(text))
        return parse_quantity(Scalar(text, span, scalar.plain), Dimension.VOLUME, visit.findings, "water")
    message, mend = f"`{scalar.text}` is not an amount of water", _water_hint(scalar, visit)
    scalar.report(visit.findings, "not-a-quantity", message, mend, "an amount of water")
    return None


def _water_hint(scalar: Scalar, visit: Visit) -> str | Mend:
    """The mend for a text that is no amount of water."""
    text = scalar.text
    if re.fullmatch(r"(?:re)?fill(?:ed up)?|refilled|full|topped (?:up|off)|to the (?:top|brim|line)", text):
        return scalar.written("filled")
    if re.fullmatch(r"(?:water )?change|(?:all )?new|renewed|replaced", text):
        return scalar.written("changed")
    two, eleven = (in_units(example, visit.findings.units) for example in ("2 L", "11 L"))
    return f"write `{two}`, `filled`, `changed to {eleven}` or `unmeasured`"


def read_doses(node: Node, key: LogKey, visit: Visit) -> None:
    """`{part-a: 10 ml, part-b: 10 ml}`, a tub: `feed` and `adjust`."""
    for tub, value in tub_parts(node, key, visit):
        _report_at(value, key, visit)
        for product, dose, amount in _doses(value, key, visit, "10 ml"):
            visit.record(
                key, dose.source, tub=tub, product=product.id, amount=amount, as_labelled=amount is None
            )


def _doses(
    node: Node, field: Field, visit: Visit, example: str
) -> Iterator[tuple[Product, Scalar, Quantity | None]]:
    """Each product with its dose, as written and as an amount: None where it was given as its label says."""
    for pair, product in _products(node, field, visit):
        dose = expect_scalar(pair.value, pair.key.text, visit.findings, example=example)
        if dose is None:
            continue
        if dose.text == "as labelled":
            yield product, dose, None
        elif dose.text in UNKNOWN:
            yield product, dose, unknown(Dimension.VOLUME)
        elif (amount := parse_dose(dose, visit.findings, pair.key.text)) is not None:
            yield product, dose, amount


def _report_at(node: Node, field: Field, visit: Visit) -> None:
    """`at` makes a routine, which an event is not."""
    for pair in node if isinstance(node, Mapping) else ():
        if pair.key.text == "at":
            message = f"`at` belongs to a routine; `{field.key}` is what was given at this visit"
            mend = "remove `at`, or write it under `from_now: {feed: {…}}`"
            pair.key.report(visit.findings, "unknown-key", message, mend)


def _products(node: Node, field: Field, visit: Visit) -> Iterator[tuple[Pair, Product]]:
    if not isinstance(node, Mapping) or (node.pairs and all(pair.key.text == "at" for pair in node)):
        _report_no_product(node, field, visit)
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


# `leaf-mix: 20 ml` in quotes, `leaf-mix 20 ml`, `20 ml leaf-mix` and `20 ml of leaf-mix`.
_NAMED_DOSE = re.compile(r"(?P<name>[A-Za-z][\w-]*)(?:\s*[:=]\s*|\s+)(?P<dose>\S.*)")
_DOSE_NAMED = re.compile(r"(?P<dose>\S.*?)\s+(?:of\s+)?(?P<name>[A-Za-z][\w-]*)")


def _report_no_product(node: Node, field: Field, visit: Visit) -> None:
    """A finding for a feed that is not `{product: amount}`, with the author's own product and amount."""
    ids, text = visit.library.product_ids, node.text.strip() if isinstance(node, Scalar) else ""
    message, mend = f"`{field.key}` does not say which product", _no_product_mend(node, field, visit)
    if text in ids:
        message = f"`{field.key}` does not say how much of `{text}`"
    elif isinstance(mend, Mend) and mend.safe:
        message = f"`{field.key}` wants a product and its amount in braces"
    visit.findings.add("which-product", node.source, message, mend=mend, found=text, expected=", ".join(ids))


def _ids_for(field: Field, visit: Visit) -> tuple[str, ...]:
    """The products that a key is about: feeds, or what adjusts; all where none is of that kind."""
    products = visit.library.products
    fits = tuple(each.id for each in products if (each.kind == "feed") == (field.key == "feed"))
    return fits or visit.library.product_ids


def _no_product_mend(node: Node, field: Field, visit: Visit) -> str | Mend:
    ids, example = _ids_for(field, visit), in_units("10 ml", visit.findings.units)
    text = node.text.strip() if isinstance(node, Scalar) else ""
    both = (pattern.fullmatch(text) for pattern in (_NAMED_DOSE, _DOSE_NAMED))
    said = next((match for match in both if match and match["name"] in visit.library.product_ids), None)
    if isinstance(node, Scalar) and said and parse_dose(Scalar(said["dose"], node.source), Findings(), ""):
        return node.turned_into(f"{{{said['name']}: {said['dose']}}}", key=field.key)
    if text in visit.library.product_ids:
        return f"write how much, such as `{field.key}: {{{text}: {example}}}`, or `{{{text}: unmeasured}}`"
    if isinstance(node, Scalar) and parse_dose(node, Findings(), ""):
        if len(ids) == 1:
            return node.turned_into(f"{{{ids[0]}: {text}}}", key=field.key, safe=False)
        if ids:
            return f"write {listed([f'`{field.key}: {{{each}: {text}}}`' for each in ids[:4]], 'or')}"
    shown = next(iter(ids), "leaf-mix")
    return f"write a product and how much, such as `{field.key}: {{{shown}: {example}}}`"


def _report_often(key: Scalar, value: Scalar, visit: Visit) -> None:
    """A finding for the frequency of a routine under another key than `at`."""
    often = f"every {value.text}" if key.text == "every" else value.text
    message = f"`{key.text}` is not a product; how often something is given stands under `at`"
    key.report(visit.findings, "unknown-key", message, f"write `at: {often}` under `from_now: {{feed: …}}`")


def read_light(node: Node, field: Field, visit: Visit) -> None:
    """A lamp's setting; the parts that are not given stay as they were."""
    for tub, value in tub_parts(node, field, visit):
        use = parse_light(value, visit.library, visit.findings)
        if use is None:
            continue
        merged = _merged(visit.rows.lamps.get(tub), use)
        visit.rows.lamps[tub] = merged
        visit.rows.lights.append(Light(visit.day, visit.entry, value.source, tub, merged))


def _merged(before: LampUse | None, now: LampUse) -> LampUse:
    before = before or LampUse()
    if now.off:
        return replace(before, off=True)
    return LampUse(
        now.lamp or before.lamp,
        now.hours or before.hours,
        now.distance or before.distance,
        on=before.on if now.on is None else now.on,
    )


def read_routine(node: Node, field: Field, visit: Visit) -> None:
    """`{feed: {leaf-mix: 20 ml, at: every refill}}`: from now on, without an entry each time."""
    mapping = expect_mapping(node, field.key, visit.findings, example=field.example)
    if mapping is None:
        return
    read = read_fields(mapping, field.table, visit.findings)
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
        scalar = expect_scalar(at, "at", visit.findings, example="every refill") if at else None
        often = scalar.text if scalar else ""
        for product, dose, amount in _doses(value, field, visit, "20 ml"):
            routine = Routine("feed", visit.day, visit.entry, dose.source, tub, product.id, amount)
            visit.rows.routines.append(replace(routine, as_labelled=amount is None, often=often))


def _routine_in_words(node: Node, field: Field, visit: Visit) -> None:
    scalar = expect_scalar(node, field.key, visit.findings, example=field.example)
    if scalar is not None:
        routine = Routine(field.key, visit.day, visit.entry, scalar.source, often=scalar.text)
        visit.rows.routines.append(routine)


def read_stop(node: Node, key: LogKey, visit: Visit) -> None:
    """`stop: feed`, or a list: the routines that end here."""
    known = TABLES["routine"].keys
    for item in node.items if isinstance(node, Items) else (node,):
        scalar = expect_scalar(item, key.key, visit.findings, example=key.example)
        if scalar is None:
            continue
        if scalar.text in known:
            visit.record(key, scalar.source, what=scalar.text)
            continue
        message = f"`{scalar.text}` is not a routine; there are {listed(known)}"
        mend = scalar.meant(known)
        scalar.report(visit.findings, "unknown-choice", message, mend, " | ".join(known))
