"""Events and settings of tubs: `water`, `feed`, `adjust`, `light`, and the routines `from_now` and `stop`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.findings.source import Source
from sitegen.core.format import TABLES
from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field
from sitegen.core.format.spelling import meant
from sitegen.core.language.text import is_slip, listed
from sitegen.core.records.routines import EVERY_LOGGED_REFILL, Light, Routine
from sitegen.core.records.rows import Deed, Watering
from sitegen.core.records.setup import LampUse, Product
from sitegen.core.values.quantity import Quantity, some, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.visit import Visit, tub_parts
from sitegen.ingest.setup.plants import parse_light
from sitegen.ingest.values.normalize import without_quotes
from sitegen.ingest.values.quantities import parse_dose, parse_quantity, parse_time_of_day, quantity_in
from sitegen.ingest.values.quantity_errors import without_size
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import read_fields

_CHANGED = re.compile(r"(?:all )?changed(?: (?:to|for|with))? +(?=\S)", re.IGNORECASE)
_FILLED = re.compile(r"filled(?: up)?(?: to the (?:top|brim|line))?|full|(?:up )?to the (?:top|brim|line)")
_ALL_NEW = re.compile(r"(?:all )?changed|(?:full )?water change|all new|all the water changed")
_TOPPED_UP = re.compile(r"topped (?:it )?(?:up|off)|top[- ]up|some (?:more )?water")
_ADDED = re.compile(r"(?<=\w)\s+(?:of water|water|added|more)$", re.IGNORECASE)
_DIGIT = re.compile(r"\d")
_AS_LABELLED = re.compile(r"(?:as|per|by|according to) (?:the |its )?label(?:led|ed| says)?", re.IGNORECASE)
# A drop or a capful has no size that anybody could know: it is kept in its words.
_BY_THE_PIECE = re.compile(
    r"(?:(?:about|some|~|ca\.?)\s*+)?"
    r"(?:an?|one|two|three|four|five|six|a few|some|several|half an?|[\d.,/½¼¾–-][\d.,/½¼¾ –-]*|(?<= ))"
    r"(?: (?:small|large|big|heaped|level|full))?\s*"
    r"(?:drops?|cap(?:ful)?s?|capsful|lids?|lidfuls?|pinch(?:es)?|scoops?|dash(?:es)?|splash(?:es)?|squirts?|"
    r"pumps?|pipettes?|droppers?(?:ful)?|spoons?|spoonfuls?|handfuls?|tablets?|sticks?|pellets?|granules?|sprays?)",
    re.IGNORECASE,
)


def read_water(node: Node, key: LogKey, visit: Visit) -> None:
    """`2 L` added, `filled`, `topped up`, `changed to 11 L`, `unmeasured`."""
    for tub, value in tub_parts(node, key, visit):
        scalar = expect_scalar(value, key.key, visit.findings, example=key.example)
        if scalar is None:
            continue
        words = without_quotes(scalar.text.strip()).strip().lower()
        changed = bool(_ALL_NEW.fullmatch(words) or _CHANGED.match(words))
        filled = bool(_ALL_NEW.fullmatch(words) or _FILLED.fullmatch(words))
        amount = None if filled else _water_amount(scalar, words, visit)
        if filled or amount is not None:
            at = visit.day, visit.entry, scalar.source
            deed = Deed.CHANGE if changed else Deed.WATER
            visit.add(Watering(deed, *at, tub=tub, amount=amount, filled=filled))


def _water_amount(scalar: Scalar, words: str, visit: Visit) -> Quantity | None:
    """The amount of water, the new one of a change."""
    if _TOPPED_UP.fullmatch(words):
        return some(Dimension.VOLUME)
    said = _CHANGED.match(scalar.text)
    text = _ADDED.sub("", scalar.text[said.end() :] if said else scalar.text)
    if quantity_in(text, Dimension.VOLUME) is not None or _DIGIT.search(text):
        span = scalar.part(scalar.text.find(text), len(text))
        return parse_quantity(Scalar(text, span, scalar.plain), Dimension.VOLUME, visit.findings, "water")
    message, mend = f"`{scalar.text}` is not an amount of water", _water_hint(scalar, words, visit)
    scalar.report(visit.findings, "not-a-quantity", message, mend, "an amount of water")
    return None


def _water_hint(scalar: Scalar, words: str, visit: Visit) -> str | Mend:
    """The mend for a text that is no amount of water."""
    if re.fullmatch(r"(?:re)?fill|refilled", words):
        return scalar.written("filled")
    if re.fullmatch(r"change|new|renewed|replaced", words):
        return scalar.written("changed")
    two, eleven = (in_units(example, visit.findings.units) for example in ("2 L", "11 L"))
    return f"write `{two}`, `filled`, `changed to {eleven}` or `unmeasured`"


def read_doses(node: Node, key: LogKey, visit: Visit) -> None:
    """`{part-a: 10 ml, part-b: 10 ml}`, a tub: `feed` and `adjust`."""
    for tub, value in tub_parts(node, key, visit):
        _report_at(value, key, visit)
        for dose in _doses(value, key, visit, "10 ml"):
            visit.record(
                key,
                dose.source,
                tub=tub,
                what=dose.said,
                product=dose.product,
                amount=dose.amount,
                as_labelled=dose.amount is None,
            )


class _Dose(NamedTuple):
    """A product with its amount, None where it was given as its label says; `said` where no unit measures it."""

    product: str
    source: Source
    amount: Quantity | None
    said: str = ""


def _doses(node: Node, field: Field, visit: Visit, example: str) -> Iterator[_Dose]:
    """Each product with its dose."""
    for pair, product in _products(node, field, visit):
        dose = expect_scalar(pair.value, pair.key.text, visit.findings, example=example)
        if dose is None:
            continue
        text = without_quotes(dose.text.strip()).strip()
        if _AS_LABELLED.fullmatch(text):
            yield _Dose(product.id, dose.source, None)
        elif (sizeless := without_size(text, Dimension.VOLUME)) is not None:
            yield _Dose(product.id, dose.source, sizeless)
        elif _BY_THE_PIECE.fullmatch(" ".join(text.split())):
            yield _Dose(product.id, dose.source, unknown(Dimension.VOLUME), text)
        elif (amount := parse_dose(dose, visit.findings, pair.key.text)) is not None:
            yield _Dose(product.id, dose.source, amount)


def _report_at(node: Node, field: Field, visit: Visit) -> None:
    """`at` makes a routine, which an event is not."""
    for pair in node if isinstance(node, Mapping) else ():
        if _is_at(pair.key):
            message = f"`at` belongs to a routine; `{field.key}` is what was given at this visit"
            mend = "remove `at`, or write it under `from_now: {feed: {…}}`"
            pair.key.report(visit.findings, "unknown-key", message, mend)


def _is_at(key: Scalar) -> bool:
    return key.text.lower() == "at"


def _products(node: Node, field: Field, visit: Visit) -> Iterator[tuple[Pair, Product]]:
    if not isinstance(node, Mapping) or (node.pairs and all(_is_at(pair.key) for pair in node)):
        _report_no_product(node, field, visit)
        return
    for pair in node:
        if _is_at(pair.key):
            continue
        if pair.key.text in ("every", "when", "how_often") and isinstance(pair.value, Scalar):
            _report_often(pair.key, pair.value, visit)
            continue
        product = visit.library.product(pair.key, visit.findings)
        if product is not None:
            _report_kind(pair.key, product, field, visit)
            yield pair, product


def _report_kind(name: Scalar, product: Product, field: Field, visit: Visit) -> None:
    """A finding for a treatment in the water of the plants, and for a feed that is to change the pH."""
    if product.kind not in _OTHER_KIND.get(field.key, ()):
        return
    article = "an" if product.kind[:1] in "aeiou" else "a"
    message = f"`{name.text}` is {article} {product.kind} in gear.yaml; `{field.key}` {_GIVES[field.key]}"
    key = _KEY_OF.get(product.kind, "feed")
    mend = (
        f"check which product it was, write `{key}` for `{field.key}`, or correct the `kind` of `{name.text}`"
    )
    ids = ", ".join(_ids_for(field, visit))
    visit.findings.add(
        "product-of-another-kind", name.source, message, mend=mend, found=name.text, expected=ids
    )


_OTHER_KIND = {"feed": ("treatment", "acid", "base"), "adjust": ("feed", "treatment")}
_KEY_OF = {"treatment": "treat", "acid": "adjust", "base": "adjust"}
_GIVES = {"feed": "gives a feed", "adjust": "gives an acid or a base"}


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


def read_light(node: Node, field: Field, visit: Visit, *, on: int | None = None) -> None:
    """A lamp's setting; the parts that are not given stay as they were. `on` is when it goes on, if not said inside."""
    for tub, value in tub_parts(node, field, visit):
        use = parse_light(value, visit.library, visit.findings)
        if use is None:
            continue
        if use.on is None and not use.off:
            use = replace(use, on=on)
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
    """`{feed: {leaf-mix: 20 ml, at: every refill}}`: from now on, without an entry each time.

    `at` beside the routines is that of each of them which has none of its own.
    """
    mapping = expect_mapping(node, field.key, visit.findings, example=field.example)
    if mapping is None:
        return
    read = read_fields(mapping, field.table, visit.findings)
    at = read.scalar("at")
    routines = [key for key in read.values if key != "at"]
    if at is not None and not routines and not read.unknown_keys:
        message, mend = "`at` says how often, and not what is done", f"write `{field.key}: {field.example}`"
        at.report(visit.findings, "missing-key", message, mend)
    for key in routines:
        value, inner = read.values[key], read.table.field(key)
        if key == "feed":
            _feed_routine(value, inner, at, visit)
        elif key == "light":
            _light_routine(value, inner, at, visit)
        else:
            _routine_in_words(value, inner, at, visit)


def _light_routine(node: Node, field: Field, at: Scalar | None, visit: Visit) -> None:
    """A lamp's setting: a time of day is when it goes on, other words are kept as they are."""
    on = parse_time_of_day(at, Findings(), "at") if at is not None else None
    read_light(node, field, visit, on=on)
    if at is not None and on is None:
        _add_routine(field.key, at, at.text.strip(), visit)


def _feed_routine(node: Node, field: Field, common: Scalar | None, visit: Visit) -> None:
    for tub, value in tub_parts(node, field, visit):
        pairs = value.pairs if isinstance(value, Mapping) else ()
        at = next((pair.value for pair in pairs if _is_at(pair.key)), None)
        scalar = expect_scalar(at, "at", visit.findings, example="every refill") if at else common
        often = _often(scalar, visit) if scalar else ""
        for dose in _doses(value, field, visit, "20 ml"):
            routine = Routine("feed", visit.day, visit.entry, dose.source, tub, dose.product, dose.amount)
            labelled = dose.amount is None
            visit.rows.routines.append(replace(routine, as_labelled=labelled, often=often, said=dose.said))


# Doses are counted by these; other words are kept as they are.
_COUNTED = ("every refill", EVERY_LOGGED_REFILL)


def _often(scalar: Scalar, visit: Visit) -> str:
    """A frequency; one that doses are counted by is the same in any case, and with `at` before it."""
    text = "" if scalar.absent else scalar.text.strip()
    plain = without_quotes(text).lower().removeprefix("at ").strip()
    if plain in _COUNTED:
        return plain
    if near := next((known for known in _COUNTED if _is_misspelt(plain, known)), ""):
        message = f"`{text}` is nearly `{near}`, by which doses are counted"
        scalar.report(visit.findings, "unknown-choice", message, scalar.written(near), " | ".join(_COUNTED))
    return text


def _is_misspelt(text: str, known: str) -> bool:
    """Whether each word of a text is the word of a known one, or a slip for it."""
    words, wanted = text.split(), known.split()
    return len(words) == len(wanted) and all(
        word == own or is_slip(word, own) for word, own in zip(words, wanted, strict=True)
    )


def _routine_in_words(node: Node, field: Field, at: Scalar | None, visit: Visit) -> None:
    scalar = expect_scalar(node, field.key, visit.findings, example=field.example)
    if scalar is not None:
        words = (scalar.text.strip(), at.text.strip() if at is not None else "")
        _add_routine(field.key, scalar, ", ".join(word for word in words if word), visit)


def _add_routine(what: str, scalar: Scalar, often: str, visit: Visit) -> None:
    visit.rows.routines.append(Routine(what, visit.day, visit.entry, scalar.source, often=often))


def read_stop(node: Node, key: LogKey, visit: Visit) -> None:
    """`stop: feed`, or a list: the routines that end here."""
    known = tuple(name for name in TABLES["routine"].keys if name != "at")
    for item in node.items if isinstance(node, Items) else (node,):
        scalar = expect_scalar(item, key.key, visit.findings, example=key.example)
        if scalar is None:
            continue
        if name := meant(without_quotes(scalar.text.strip()), known):
            visit.record(key, scalar.source, what=name)
            continue
        message = f"`{scalar.text}` is not a routine; there are {listed(known)}"
        mend = scalar.meant(known)
        scalar.report(visit.findings, "unknown-choice", message, mend, " | ".join(known))
