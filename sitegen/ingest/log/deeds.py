"""What was done, seen or said: `prune` … `clean`, `treat`, `trouble`, `taste`, `note`, `photo`, `clip`."""

from __future__ import annotations

import re
from typing import Any

from sitegen.core.findings.finding import Source
from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field, Form
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.rows import Deed, Photo, Tasting, Which
from sitegen.core.values.quantity import counted
from sitegen.ingest.log.shapes import parts_of, which_in
from sitegen.ingest.log.visit import Visit
from sitegen.ingest.values.normalize import with_digits
from sitegen.ingest.values.plants import parse_which, plants_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

_LIKE_PLANTS = re.compile(r"P\d+(?:\s*(?:-|–|,|to)\s*P\d+)*", re.IGNORECASE)
_SAID_SCORE = re.compile(r"(?P<score>\d+(?:\.5)?)\s*(?:out of|of|from)\s*(?P<whole>\d+)\b[\s,;:.–-]*")
_SCORE = re.compile(r"(?P<score>\d+(?:\.\d+)?)/(?P<whole>\d+)(?:\s*[,;:–-]?\s+(?P<words>.*))?")


def read_deed(node: Node, key: LogKey, visit: Visit) -> None:
    """Words, plants, `{what: …, plants: …}`, or words by plant; amounts instead of words for a key with a dimension."""
    if isinstance(node, Items) or (isinstance(node, Scalar) and _names_plants(node, visit)):
        which = parse_which(node, visit.names, visit.findings, key.key)
        if which is not None:
            _add(key, node.source, which, visit)
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
    """What was done, how much of it, or with which product: a treatment's only word is its product."""
    if key.form is Form.TREATMENT:
        product = visit.library.product(scalar, visit.findings)
        if product is not None:
            _add(key, scalar.source, which, visit, product=product.id)
    elif key.dimension is not None:
        amount = parse_quantity(scalar, key.dimension, visit.findings, key.key)
        if amount is not None:
            _add(key, scalar.source, which, visit, amount=amount)
    else:
        _add(key, scalar.source, which, visit, what=scalar.text)


def _from_fields(key: LogKey, fields: TypedFields, subject: Which | None, visit: Visit) -> None:
    which = subject
    if which is None and fields.has("plants"):
        which = which_in(fields, visit)
    values: dict[str, Any] = {"tub": _tub(fields, visit), "what": fields.text("what")}
    if fields.table.has("product") and (name := fields.scalar("product")):
        product = visit.library.product(name, visit.findings)
        values["product"] = product.id if product else ""
    if fields.table.has("until"):
        values["until"] = fields.day("until")
    _add(key, fields.source, which, visit, **values)


def _add(key: LogKey, source: Source, which: Which | None, visit: Visit, **values: Any) -> None:
    assert key.record is not None
    visit.add(key.record(Deed(key.key), visit.day, visit.entry, source, which, **values))


def _tub(fields: TypedFields, visit: Visit) -> str:
    tub = fields.scalar("tub")
    if tub is None:
        return ""
    if visit.tub_named(tub.text):
        return tub.text
    visit.findings.add(
        "unknown-plant",
        tub.source,
        f"`{tub.text}` is not a tub of this experiment",
        mend=did_you_mean(tub.text, visit.names.tubs)
        if visit.names.tubs
        else "remove `tub`: there is only one",
        found=tub.text,
        expected=", ".join(visit.names.tubs),
    )
    return ""


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
            mend=f"write `treat: {key.example}`",
            expected=", ".join(visit.library.product_ids),
        )
        return
    read_deed(node, key, visit)


def _meant_score(text: str) -> str:
    """What to write for a text that is no score: `4/5` for `four out of five`."""
    text = text.strip(" .")
    counted_text = with_digits(text)
    said = _SAID_SCORE.match(counted_text)
    if said is None:
        return "write `taste: 4/5, crisp and mild`, or keep the words as a `note`"
    words = text[said.end() :] if text == counted_text else ""
    return f"write `taste: {said['score']}/{said['whole']}{words and f', {words}'}`"


def read_taste(node: Node, field: Field, visit: Visit) -> None:
    """`4/5, crisp and mild`."""
    scalar = expect_scalar(node, field.key, visit.findings, example=field.example)
    if scalar is None:
        return
    match = _SCORE.fullmatch(scalar.text.strip())
    if match is None or float(match["score"]) > int(match["whole"]):
        most = match["whole"] if match else ""
        visit.findings.add(
            "not-a-score",
            scalar.source,
            f"`{scalar.text}` is more than {most} out of {most}"
            if most
            else f"`{scalar.text}` does not begin with a score",
            mend=f"write `{most}/{most}` or less" if most else _meant_score(scalar.text),
            found=scalar.text,
            expected="a score out of so many, then words",
        )
        return
    score = float(match["score"])
    amount = counted(int(score)) if score.is_integer() else counted(0)
    if not score.is_integer():
        amount = type(amount)(score, score, amount.dimension, step=0.5)
    at, words = (visit.day, visit.entry, scalar.source), match["words"] or ""
    visit.add(Tasting(Deed.TASTE, *at, what=words, score=amount, out_of=int(match["whole"])))


def read_words(node: Node, field: Field, visit: Visit) -> None:
    """Words, or a mapping with `what`; its other keys stay in the journal."""
    if field.table and isinstance(node, Mapping):
        what = read_fields(node, field.table, visit.findings).text("what")
    else:
        scalar = expect_scalar(node, field.key, visit.findings, example=field.example)
        if scalar is None:
            return
        what = scalar.text.strip()
    visit.act(Deed(field.key), node.source, what=what)


def read_photos(node: Node, field: Field, visit: Visit) -> None:
    """`first-cut.jpg`, `{file: …, alt: …}`, or several."""
    for item in node.items if isinstance(node, Items) else (node,):
        if isinstance(item, Mapping):
            _photo(read_fields(item, "photo", visit.findings), visit)
            continue
        scalar = expect_scalar(item, field.key, visit.findings, example=field.example)
        if scalar is not None:
            _add_photo(scalar, Photo(scalar.text, visit.day, visit.entry, scalar.source), visit)


def _photo(fields: TypedFields, visit: Visit) -> None:
    file = fields.scalar("file")
    if file is None:
        return
    which = which_in(fields, visit) if fields.has("plants") else None
    photo = Photo(
        file.text, visit.day, visit.entry, file.source, fields.text("alt"), which, fields.choice("shows")
    )
    _add_photo(file, photo, visit)


def _add_photo(file: Scalar, photo: Photo, visit: Visit) -> None:
    if file.text not in visit.photo_names:
        visit.findings.add(
            "missing-photo",
            file.source,
            f"`{file.text}` is not in photos/",
            mend=did_you_mean(file.text, visit.photo_names)
            if visit.photo_names
            else "put the picture into photos/",
            found=file.text,
        )
        return
    visit.rows.photos.append(photo)
