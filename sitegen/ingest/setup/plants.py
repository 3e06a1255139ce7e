"""The plants of an experiment, their groups and varieties.

In: the head of experiment.yaml. Out: ids, groups, the variety of each plant; what does not fit has become a finding.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Source
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Which
from sitegen.core.records.setup import Crop
from sitegen.ingest.library import variety_of
from sitegen.ingest.values.plants import PlantNames, parse_named
from sitegen.ingest.values.quantities import parse_whole
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, check_id, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

MAX_PLANTS = 2000


def plant_ids(fields: TypedFields) -> tuple[str, ...]:
    """The plants, in the order declared: `P1` … for a number, else their names."""
    node = fields.node("plants")
    if isinstance(node, Items):
        return _listed_ids(fields, node)
    if node is None:
        return ()
    scalar = expect_scalar(node, "plants", fields.findings, example="6")
    if scalar is not None and _report_names(scalar, fields):
        return ()
    number = parse_whole(scalar, fields.findings, "plants") if scalar else None
    if number is None:
        return ()
    if not 0 < number <= MAX_PLANTS:
        fields.findings.add(
            "count-of-plants",
            node.source,
            f"an experiment has 1 to {MAX_PLANTS} plants, not {number}",
            mend="write how many plants the run had",
            found=str(number),
        )
        return ()
    return tuple(f"P{n}" for n in range(1, number + 1))


def _report_names(scalar: Scalar, fields: TypedFields) -> bool:
    """Whether plants are written as a text of names; if so, the finding."""
    span = re.fullmatch(r"P1\s*(?:-|–|to)\s*P(\d{1,4})", scalar.text)
    if span is None and "," not in scalar.text:
        return False
    scalar.report(
        fields.findings,
        "not-a-count",
        f"`{scalar.text}` is not a number of plants",
        f"write `plants: {span[1]}`" if span else f"write `plants: [{scalar.text}]`",
        "a number of plants, or a list of names",
    )
    return True


def _listed_ids(fields: TypedFields, node: Items) -> tuple[str, ...]:
    ids: list[str] = []
    if not node.items:
        fields.findings.add(
            "count-of-plants",
            node.source,
            "`plants` names no plant",
            mend="write how many plants the run had, or their names",
            found="nothing",
        )
    for item in node.items:
        scalar = expect_scalar(item, "plants", fields.findings, example="[P1, P2]")
        if scalar is None or not check_id(scalar, fields.findings):
            continue
        if scalar.text in ids:
            scalar.report(
                fields.findings,
                "duplicate-id",
                f"the plant `{scalar.text}` is named twice",
                "give each plant a name of its own",
            )
            continue
        ids.append(scalar.text)
    return tuple(ids)


def groups_of(fields: TypedFields, plants: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Names for sets of plants."""
    node = fields.node("groups")
    if not isinstance(node, Mapping):
        if node is not None:
            _wrong(fields, "groups", node, "{single: P1-P3, pair: P4-P6}")
        return ()
    if not plants:
        return ()  # what they are is not known, which is a finding already
    names = PlantNames(plants, standing=plants)
    found: list[tuple[str, tuple[str, ...]]] = []
    for pair in node:
        if not check_id(pair.key, fields.findings):
            continue
        if pair.key.text in plants:
            twice(fields, pair.key, "a plant")
            continue
        which = parse_named(pair.value, names, fields.findings, pair.key.text)
        if which is not None and which.named:
            found.append((pair.key.text, which.ids))
    return tuple(found)


def _wrong(fields: TypedFields, key: str, node: Node, example: str) -> None:
    fields.findings.add(
        "wrong-type",
        node.source,
        f"`{key}` wants a mapping",
        mend=f"write `{key}: {example}`",
        expected="a mapping",
    )


def varieties_of(fields: TypedFields, names: PlantNames, crop: Crop) -> tuple[tuple[str, str], ...]:
    """The variety of each plant, where one is said."""
    node = fields.node("variety")
    if node is None:
        return ()
    if isinstance(node, Mapping):
        return _by_plant(fields, node, names, crop)
    name = expect_scalar(node, "variety", fields.findings, example="tiny-jade")
    variety = variety_of(crop, name, fields.findings) if name else None
    return tuple((plant, variety.id) for plant in names.plants) if variety else ()


def _by_plant(
    fields: TypedFields, node: Mapping, names: PlantNames, crop: Crop
) -> tuple[tuple[str, str], ...]:
    seen: dict[str, str] = {}
    for pair in node:
        which: Which | None = parse_named(pair.key, names, fields.findings, "variety")
        name = expect_scalar(pair.value, pair.key.text, fields.findings)
        variety = variety_of(crop, name, fields.findings) if name else None
        for plant in which.ids if which and variety else ():
            once(fields, plant, seen, pair.key.source, "variety")
            seen[plant] = variety.id if variety else ""
    if seen:
        nobody_left_out(fields, names, seen, "variety")
    return tuple(seen.items())


def twice(fields: TypedFields, name: Scalar, what: str) -> None:
    """A name that is taken."""
    name.report(
        fields.findings, "duplicate-id", f"`{name.text}` is already the name of {what}", "choose another name"
    )


def once(fields: TypedFields, plant: str, seen: dict[str, str], source: Source, what: str) -> None:
    """A plant that is put in two places."""
    if plant in seen:
        fields.findings.add(
            "plants-in-two",
            source,
            f"`{plant}` stands in two {'tubs' if what == 'tub' else 'varieties'}",
            mend=f"name `{plant}` once; a later change is a `move` in the log"
            if what == "tub"
            else f"name `{plant}` once",
            found=plant,
        )


def nobody_left_out(fields: TypedFields, names: PlantNames, seen: dict[str, str], key: str) -> None:
    """Plants that a key which sorts all of them leaves out."""
    left = [plant for plant in names.plants if plant not in seen]
    if left:
        fields.report(
            key,
            "plant-left-out",
            f"`{key}` leaves out {listed(left)}",
            f"say where {listed(left)} {'belong' if len(left) > 1 else 'belongs'}",
            found=", ".join(left),
        )
