"""The tubs of an experiment: one, or several with their plants.

In: the fields of experiment.yaml, the library, the names of plants. Out: `Tub`s and the tub of each plant.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.language.text import closest
from sitegen.core.records.setup import LampUse, Tub
from sitegen.ingest.library import Library
from sitegen.ingest.setup.plants import Assignment, report_taken
from sitegen.ingest.values.plants import PlantNames, parse_named
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_mapping
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

LONE_TUB = "tub"


def tubs_of(
    fields: TypedFields, library: Library, names: PlantNames
) -> tuple[tuple[Tub, ...], dict[str, str]]:
    """The tubs, and the tub of each plant."""
    if fields.has("tubs"):
        return _several(fields, library, names)
    name = fields.scalar("system")
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
    assignment = Assignment(fields, "tubs")
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
        if system is not None:
            tubs.append(Tub(name.text, system, own or common))
    declared = fields.node("tubs")
    if tubs and isinstance(declared, Mapping) and len(tubs) == len(declared.pairs):
        assignment.report_left_out(names)
    return tuple(tubs), assignment.by_plant


def parse_light(node: Node | None, library: Library, findings: Findings) -> LampUse | None:
    """A lamp's setting: a mapping, or `off`."""
    if node is None:
        return None
    if isinstance(node, Scalar):
        if node.text == "off":
            return LampUse(off=True)
        mend = f"write `light: {{{_likely_setting(node.text, library)}}}`, or `off`"
        node.report(findings, "wrong-type", "`light` wants a mapping, or `off`", mend, "a mapping, or `off`")
        return None
    if isinstance(node, Items):
        expect_mapping(node, "light", findings, example="{hours: 14 h}")
        return None
    fields = read_fields(node, "light", findings)
    name = fields.scalar("lamp")
    lamp = library.lamp(name, findings) if name else None
    return LampUse(lamp, fields.quantity("hours"), fields.quantity("distance"))


def _likely_setting(text: str, library: Library) -> str:
    """A setting that a text probably means: a lamp by its id, or hours a day."""
    if re.fullmatch(r"\d+", text):
        return f"hours: {text} h"
    if re.match(r"\d", text):
        return f"hours: {text}"
    lamps = [lamp.id for lamp in library.lamps]
    lamp = closest(text, lamps) or next(iter(lamps), "")
    return f"lamp: {lamp}, hours: 14 h" if lamp else "hours: 14 h"
