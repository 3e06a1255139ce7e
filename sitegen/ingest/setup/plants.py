"""The tubs of an experiment with their plants, groups and varieties.

In: the fields of experiment.yaml, the library. Out: `Tub`s, the tub of each plant, ids, groups, the variety of each
plant, and findings about them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Literal

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.findings.source import Source
from sitegen.core.language.text import closest, listed
from sitegen.core.records.setup import Crop, LampUse, Tub
from sitegen.core.values.units import Dimension
from sitegen.ingest.library import Library, variety_of
from sitegen.ingest.values.names import named
from sitegen.ingest.values.plants import PlantNames, name_parts, parse_named
from sitegen.ingest.values.quantities import parse_whole, quantity_in
from sitegen.ingest.yaml.nodes import (
    Items,
    Mapping,
    Node,
    Scalar,
    check_id,
    expect_mapping,
    expect_scalar,
    is_id,
)
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

LONE_TUB = "tub"


def tubs_of(
    fields: TypedFields, library: Library, names: PlantNames
) -> tuple[tuple[Tub, ...], dict[str, str]]:
    """The tubs, and the tub of each plant."""
    if fields.has("tubs"):
        return _several(fields, library, names)
    name = fields.scalar("system")
    if name is None and fields.broken:
        return (), {}
    if name is None:
        message = "`system` is missing: what the plants grew in"
        mend = "write `system:` with an id of gear.yaml, or `tubs:` for several"
        fields.findings.add("missing-key", fields.source.part(0, 1), message, mend=mend, expected="system")
        return (), {}
    system = library.system(name, fields.findings)
    light = parse_light(fields.node("light"), library, fields.findings)
    if system is None:
        return (), {}
    return (Tub(LONE_TUB, system, light),), dict.fromkeys(names.plants, LONE_TUB)


def _several(
    fields: TypedFields, library: Library, names: PlantNames
) -> tuple[tuple[Tub, ...], dict[str, str]]:
    common = parse_light(fields.node("light"), library, fields.findings)
    tubs: list[Tub] = []
    assignment, unread = Assignment(fields, "tubs"), list[str]()
    for name, inner in fields.nested_by_id("tubs"):
        if name.text in names.known:
            report_taken(name, "a plant or group", fields.findings)
            continue
        wanted = inner.scalar("system")
        system = library.system(wanted, fields.findings) if wanted else None
        own = parse_light(inner.node("light"), library, fields.findings)
        node = inner.node("plants")
        which = parse_named(node, names, fields.findings, "plants") if node is not None else None
        if which:
            assignment.add(which.ids, name.text, inner.at("plants"))
        elif node is not None:
            unread.append(name.text)
        if system is not None:
            tubs.append(Tub(name.text, system, own or common))
    declared = fields.node("tubs")
    if tubs and not unread and isinstance(declared, Mapping) and len(tubs) == len(declared.pairs):
        assignment.report_left_out(names)
    if len(unread) == 1:  # its plants are a finding; those left out are most likely its own
        left = [plant for plant in names.plants if plant not in assignment.by_plant]
        assignment.by_plant.update(dict.fromkeys(left, unread[0]))
    return tuple(tubs), assignment.by_plant


def parse_light(node: Node | None, library: Library, findings: Findings) -> LampUse | None:
    """A lamp's setting: a mapping, or `off`."""
    if node is None:
        return None
    if isinstance(node, Scalar):
        if use := _light_in_words(node, library):
            return use
        mend = _light_mend(node, library)
        node.report(findings, "wrong-type", "`light` wants a mapping, or `off`", mend, "a mapping, or `off`")
        return None
    if isinstance(node, Items):
        expect_mapping(node, "light", findings, example="{hours: 14 h}")
        return None
    fields = read_fields(node, "light", findings)
    name = fields.scalar("lamp")
    lamp = library.lamp(name, findings) if name else None
    return LampUse(lamp, fields.quantity("hours"), fields.quantity("distance"), on=fields.time_of_day("on"))


def _light_in_words(node: Scalar, library: Library) -> LampUse | None:
    """`off`, hours a day, or a lamp; None for any other text."""
    text = node.text.strip()
    if text.lower() == "off":
        return LampUse(off=True)
    hours = quantity_in(text, Dimension.DURATION)
    if hours is not None and hours.known:
        return LampUse(hours=hours)
    lamps = named(text, library.lamps)
    return LampUse(lamps[0]) if len(lamps) == 1 else None


def _light_mend(scalar: Scalar, library: Library) -> str | Mend:
    """The mend for a setting in one text: a lamp by its id, or hours a day; the author's own are kept."""
    text = scalar.text.strip()
    lamps = [lamp.id for lamp in library.lamps]
    if quantity_in(text, Dimension.DURATION):
        return scalar.turned_into(f"{{hours: {text}}}", key="light")
    if text in lamps:
        return scalar.turned_into(f"{{lamp: {text}}}", key="light")
    if re.fullmatch(r"\d+", text):
        return f"write `light: {{hours: {text} h}}`, or `off`"
    lamp = closest(text, lamps)
    shown = f"lamp: {lamp}" if lamp else "hours: 14 h"
    return f"write a setting such as `light: {{{shown}}}`, or `off`"


MAX_PLANTS = 2000


def plant_ids(fields: TypedFields) -> tuple[str, ...]:
    """The ids of the plants, in the order declared: `P1` … for a number, else their names."""
    node = fields.node("plants")
    if isinstance(node, Items):
        return _listed_ids(fields, node)
    if node is None:
        return ()
    scalar = expect_scalar(node, "plants", fields.findings, example="6")
    if scalar is not None and (names := _reported_names(scalar, fields)):
        return names
    number = parse_whole(scalar, fields.findings, "plants") if scalar else None
    if number is None:
        return ()
    if not 0 < number <= MAX_PLANTS:
        message = f"an experiment has 1 to {MAX_PLANTS} plants, not {number}"
        mend = "write how many plants the run had"
        fields.report("plants", "count-of-plants", message, mend, found=str(number))
        return ()
    return tuple(f"P{n}" for n in range(1, number + 1))


def _reported_names(scalar: Scalar, fields: TypedFields) -> tuple[str, ...]:
    """The plants of a text of names, which is reported; empty for any other text."""
    span = re.fullmatch(r"P1\s*(?:-|–|to)\s*P(\d{1,4})", scalar.text)
    names = name_parts(scalar.text)
    if span is None and len(names) < 2:
        return ()
    message, expected = f"`{scalar.text}` is not a number of plants", "a number of plants, or a list of names"
    ids = all(is_id(name) for name in names)
    listed_names = scalar.turned_into(f"[{', '.join(names)}]", key="plants")
    mend = f"write `plants: {span[1]}`" if span else listed_names if ids else str(listed_names)
    scalar.report(fields.findings, "not-a-count", message, mend, expected)
    if span is not None:
        return tuple(f"P{n}" for n in range(1, min(int(span[1]), MAX_PLANTS) + 1))
    return tuple(dict.fromkeys(names))


def _listed_ids(fields: TypedFields, node: Items) -> tuple[str, ...]:
    ids: list[str] = []
    if not node.items:
        mend = "write how many plants the run had, or their names"
        fields.report("plants", "count-of-plants", "`plants` names no plant", mend, found="nothing")
    for item in node.items:
        scalar = expect_scalar(item, "plants", fields.findings, example="[P1, P2]")
        if scalar is None or not check_id(scalar, fields.findings):
            continue
        if scalar.text in ids:
            message, mend = f"the plant `{scalar.text}` is named twice", "give each plant a name of its own"
            scalar.report(fields.findings, "duplicate-id", message, mend)
            continue
        ids.append(scalar.text)
    return tuple(ids)


def groups_of(fields: TypedFields, plants: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The groups: names for sets of plants."""
    node = fields.node("groups")
    if not isinstance(node, Mapping):
        if node is not None:
            example = "write each with its plants, such as `groups: {single: P1-P3, pair: P4-P6}`"
            fields.report("groups", "wrong-type", "`groups` wants a mapping", example, expected="a mapping")
        return ()
    if not plants:
        return ()  # unknown plants are a finding already
    names = PlantNames(plants, standing=plants)
    found: list[tuple[str, tuple[str, ...]]] = []
    for pair in node:
        if not check_id(pair.key, fields.findings):
            continue
        if pair.key.text in plants:
            report_taken(pair.key, "a plant", fields.findings)
            continue
        which = parse_named(pair.value, names, fields.findings, pair.key.text)
        if which is not None and which.named:
            found.append((pair.key.text, which.ids))
    return tuple(found)


def varieties_of(fields: TypedFields, names: PlantNames, crop: Crop) -> dict[str, str]:
    """The variety of each plant, where one is given."""
    node = fields.node("variety")
    if node is None:
        return {}
    if not isinstance(node, Mapping):
        name = expect_scalar(node, "variety", fields.findings, example="tiny-jade")
        variety = variety_of(crop, name, fields.findings) if name else None
        return dict.fromkeys(names.plants, variety.id) if variety else {}
    assignment, unread = Assignment(fields, "variety"), False
    for pair in node:
        which = parse_named(pair.key, names, fields.findings, "variety")
        name = expect_scalar(pair.value, pair.key.text, fields.findings)
        variety = variety_of(crop, name, fields.findings) if name else None
        if which and variety:
            assignment.add(which.ids, variety.id, pair.key.source)
        unread |= not (which and variety)
    if assignment.by_plant and not unread:
        assignment.report_left_out(names)
    return assignment.by_plant


@dataclass(frozen=True, slots=True)
class Assignment:
    """Tubs or varieties by plant, as one key of the set-up assigns them: each plant once."""

    fields: TypedFields
    key: Literal["tubs", "variety"]
    by_plant: dict[str, str] = field(default_factory=dict)

    def add(self, plants: tuple[str, ...], to: str, source: Source) -> None:
        """Assign some plants; a plant that has a tub or variety already becomes a finding."""
        kind, later = (
            ("tubs", "; a later change is a `move` in the log") if self.key == "tubs" else ("varieties", "")
        )
        for plant in plants:
            if plant in self.by_plant:
                message, mend = f"`{plant}` stands in two {kind}", f"name `{plant}` once{later}"
                self.fields.findings.add("plants-in-two", source, message, mend=mend, found=plant)
            self.by_plant[plant] = to

    def report_left_out(self, names: PlantNames) -> None:
        """A finding for plants without a tub or variety."""
        left = [plant for plant in names.plants if plant not in self.by_plant]
        if left:
            message = f"`{self.key}` leaves out {listed(left)}"
            mend = f"say where {listed(left)} {'belong' if len(left) > 1 else 'belongs'}"
            self.fields.report(self.key, "plant-left-out", message, mend, found=", ".join(left))


def report_taken(name: Scalar, taken_by: str, findings: Findings) -> None:
    """A finding for a name that a plant or group already has."""
    message = f"`{name.text}` is already the name of {taken_by}"
    name.report(findings, "duplicate-id", message, "choose another name")
