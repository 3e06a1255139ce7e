"""Events in words or amounts: `prune` … `clean`, `treat`, `trouble`, `taste`, `note`; and photos."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field, Form
from sitegen.core.records.rows import Photo, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.ingest.log.visit import Visit, parts_of, which_in
from sitegen.ingest.values.normalize import with_digits, without_quotes
from sitegen.ingest.values.plants import parse_tub, parse_which, plants_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

_LIKE_PLANTS = re.compile(r"P\d+(?:\s*(?:-|–|,|to)\s*P\d+)*", re.IGNORECASE)
_SAID_SCORE = re.compile(
    r"(?P<score>\d+(?:\.\d+)?|[a-z]+) (?:out of|of) (?P<whole>\d+|[a-z]+)(?:\s*[.,;:–-]\s*(?P<words>.*))?",
    re.IGNORECASE,
)
_SCORE_LAST = re.compile(r"(?P<words>.*\w)\s*[.,;:–-]\s*(?P<score>\d+(?:\.\d+)?)/(?P<whole>\d+)\.?")
_LONE_SCORE = re.compile(r"(?:\d+(?:\.\d+)?|\d+/\d*)\s*(?:stars?|points?)?", re.IGNORECASE)
_BARE_SCORE = re.compile(r"(?P<score>\d{1,9}(?:\.\d{1,9})?)\s*[.,;:–-]\s+(?P<words>[^\W\d].*)")
_SCORE = re.compile(
    r"(?P<score>\d{1,9}(?:\.\d{1,9})?)/(?P<whole>\d{1,9})(?:(?:\s*+[,;:–-])?\s++(?P<words>.*))?"
)


def read_deed(node: Node, key: LogKey, visit: Visit) -> None:
    """Words, plants, `{what: …, plants: …}`, or words by plant; amounts instead of words for a key with a dimension."""
    if isinstance(node, Items) or (isinstance(node, Scalar) and _names_plants(node, visit)):
        which = parse_which(node, visit.names, visit.findings, key.key)
        if which is not None:
            visit.record(key, node.source, which)
        return
    for part in parts_of(node, key, visit):
        if part.fields is not None:
            _from_fields(key, part.fields, part.which, visit)
        elif part.value is not None:
            name = part.key.text if part.key else key.key
            example = key.example if key.dimension else "lower leaves"
            scalar = expect_scalar(part.value, name, visit.findings, example=example)
            if scalar is not None:
                _from_scalar(key, scalar, part.which, visit)


def _names_plants(scalar: Scalar, visit: Visit) -> bool:
    """Whether a text is a selection and not a sentence: also one of plants that are not there."""
    return (
        plants_named(scalar.text, visit.names) is not None or _LIKE_PLANTS.fullmatch(scalar.text) is not None
    )


def _from_scalar(key: LogKey, scalar: Scalar, which: Which | None, visit: Visit) -> None:
    """An event with a description, an amount or a product: the only word of a treatment is its product."""
    if key.form is Form.TREATMENT:
        product = visit.library.product(scalar, visit.findings)
        if product is not None:
            visit.record(key, scalar.source, which, product=product.id)
    elif key.dimension is not None:
        amount = parse_quantity(scalar, key.dimension, visit.findings, key.key)
        if amount is not None:
            visit.record(key, scalar.source, which, amount=amount)
    else:
        visit.record(key, scalar.source, which, what=scalar.text)


def _from_fields(key: LogKey, fields: TypedFields, subject: Which | None, visit: Visit) -> None:
    which = subject
    if which is None and fields.has("plants"):
        which = which_in(fields, visit)
    values: dict[str, Any] = {"what": fields.text("what")}
    if tub := fields.scalar("tub"):
        values["tub"] = parse_tub(tub, visit.names, visit.findings, "remove `tub`: there is only one")
    if fields.table.has("product") and (name := fields.scalar("product")):
        product = visit.library.product(name, visit.findings)
        values["product"] = product.id if product else ""
    if fields.table.has("until"):
        values["until"] = fields.day("until")
        _report_ended(fields, values["until"], key, visit)
    visit.record(key, fields.source, which, **values)


def _report_ended(fields: TypedFields, until: Day | None, key: LogKey, visit: Visit) -> None:
    """A finding for what ended before the day of its entry."""
    if until is None or until.last >= visit.day.first:
        return
    message = f"`{key.key}` of day {visit.day} ends on day {until}, before it begins"
    mend = f"check `until`, which is day {visit.day} or later, or the day of the entry"
    expected = f"day {visit.day} or later"
    fields.report("until", "reversed-range", message, mend, found=fields.text("until"), expected=expected)


def read_treat(node: Node, key: LogKey, visit: Visit) -> None:
    """A product's id, or `{product: soap, plants: P2}`."""
    if isinstance(node, Scalar):
        _from_scalar(key, node, None, visit)
        return
    if isinstance(node, Items):
        visit.findings.add(
            "which-product",
            node.source,
            "`treat` does not say with which product",
            mend=f"write the product, such as `treat: {key.example}`, or `treat: {{product: …, plants: …}}`",
            expected=", ".join(visit.library.product_ids),
        )
        return
    read_deed(node, key, visit)


def _meant_score(text: str) -> str:
    """`4/5, crisp` for `four out of five, crisp` and `crisp, 4/5`; the text itself where no score is said."""
    said = _SAID_SCORE.fullmatch(text) or _SCORE_LAST.fullmatch(text)
    if said is None:
        return text
    score = f"{with_digits(said['score'])}/{with_digits(said['whole'])}"
    return f"{score}, {said['words']}" if said["words"] else score


def read_taste(node: Node, key: LogKey, visit: Visit) -> None:
    """`4/5, crisp and mild`, or words without a score."""
    scalar = expect_scalar(node, key.key, visit.findings, example=key.example)
    if scalar is None:
        return
    text = without_quotes(scalar.text.strip()).strip()
    match = _SCORE.fullmatch(_meant_score(text))
    bare = _BARE_SCORE.fullmatch(text)
    if match is None and re.search(r"[^\W\d]", text) and not (bare or _LONE_SCORE.fullmatch(text)):
        visit.record(key, scalar.source, what=text)
        return
    if match is None or float(match["score"]) > int(match["whole"]):
        most = match["whole"] if match else ""
        problem = f"is more than {most} out of {most}" if most else "does not say out of how many"
        lone = re.match(r"\d{1,9}", text)
        example = f"{lone.group()}/5" if lone and int(lone.group()) <= 5 else "4/5"
        if bare:
            example = f"{bare['score']}/{5 if float(bare['score']) <= 5 else 10}, {bare['words']}"
        mend = (
            f"write `{most}/{most}` or less"
            if most
            else f"write the score out of so many, such as `taste: {example}`, or the taste in words"
        )
        message, expected = f"`{scalar.text}` {problem}", "a score out of so many, or words"
        scalar.report(visit.findings, "not-a-score", message, mend, expected)
        return
    number = float(match["score"])
    score = replace(counted(0), low=number, high=number, step=0.5)
    if number.is_integer():
        score = counted(int(number))
    visit.record(key, scalar.source, what=match["words"] or "", score=score, out_of=int(match["whole"]))


def read_words(node: Node, key: LogKey, visit: Visit) -> None:
    """Words."""
    if scalar := expect_scalar(node, key.key, visit.findings, example=key.example):
        visit.record(key, scalar.source, what=scalar.text.strip())


def read_photos(node: Node, field: Field, visit: Visit) -> None:
    """`first-cut.jpg`, `{file: …, alt: …}`, or several."""
    for item in node.items if isinstance(node, Items) else (node,):
        fields = read_fields(item, field.table, visit.findings) if isinstance(item, Mapping) else None
        if fields is not None:
            file = fields.scalar("file")
        else:
            file = expect_scalar(item, field.key, visit.findings, example=field.example)
        if file is None:
            continue
        if file.text not in visit.photo_names:
            near = file.meant(visit.photo_names) if visit.photo_names else ""
            message, mend = f"`{file.text}` is not in photos/", near or "put the picture into photos/"
            file.report(visit.findings, "missing-photo", message, mend)
            continue
        photo = Photo(file.text, visit.day, visit.entry, file.source)
        if fields is not None:
            which = which_in(fields, visit) if fields.has("plants") else None
            photo = replace(photo, alt=fields.text("alt"), which=which, shows=fields.choice("shows"))
        visit.rows.photos.append(photo)
