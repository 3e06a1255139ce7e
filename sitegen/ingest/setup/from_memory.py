"""An earlier try told from memory: rough plants, one or several systems, a harvest in words, a year to start in.

In: the fields of experiment.yaml, the library. Out: the parts of a `Setup` of such a run, and findings. What is not
known is left open; nothing of it is computed with.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Crop, Memory, Tub
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.library import Library, variety_of
from sitegen.ingest.setup.plants import LONE_TUB, parse_light, plant_ids, tubs_of
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.values.quantities import parse_quantity, quantity_in
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_YEAR = re.compile(r"[12]\d{3}")
_ROUGH = re.compile(r"(?:about|at least|up to) .*|\d{1,4}\s*[-–]\s*\d{1,4}|\d{1,4}\+")
_UNIT = re.compile(r"(?:(?:about|at least|up to) )?[\d.,/½¼¾⅓⅔⅛⅜⅝⅞ –-]*\d\+?\s*(?P<unit>[^\d\s]*)")
_ONLY_LOGGED = ("log", "readings")


def is_from_memory(fields: TypedFields) -> bool:
    """Whether a run is told from memory; a log beside that, or a harvest without it, becomes a finding."""
    told = fields.flag("from_memory")
    if told:
        for key in filter(fields.has, _ONLY_LOGGED):
            message = f"a run told `from_memory` has no `{key}`"
            fields.report(key, "log-from-memory", message, f"remove `{key}`, or `from_memory`", found=key)
    elif fields.has("harvest"):
        message = "`harvest` stands in the set-up of a run that is not told `from_memory`"
        mend = "write it in an entry of `log`, or `from_memory: true` for an earlier try without a log"
        fields.report("harvest", "harvest-without-log", message, mend, found="harvest")
    return told


def rough_plants(fields: TypedFields) -> tuple[tuple[str, ...], Quantity | None]:
    """The plants, where they are named or counted, and their number as far as it is known."""
    node = fields.node("plants")
    if isinstance(node, Scalar) and (node.text in ("unknown", "some") or _ROUGH.fullmatch(node.text)):
        if fields.has("groups"):
            message = "`groups` divides plants, and which plants there were is not told"
            fields.report(
                "groups", "unknown-plant", message, "remove it, or write how many plants there were"
            )
        known = _ROUGH.fullmatch(node.text) is not None
        return (), parse_quantity(node, Dimension.COUNT, fields.findings, "plants") if known else None
    plants = plant_ids(fields)
    return plants, counted(len(plants)) if plants else None


def rough_start(scalar: Scalar) -> Start | None:
    """A year; None for anything else."""
    return Start(date(int(scalar.text), 1, 1), "year") if _YEAR.fullmatch(scalar.text) else None


def rough_tubs(
    fields: TypedFields, library: Library, names: PlantNames
) -> tuple[tuple[Tub, ...], dict[str, str]]:
    """The tubs and the tub of each plant: none where no system is named, and one for each of a list of systems."""
    node = fields.node("system")
    if fields.has("tubs") or isinstance(node, Scalar):
        return tubs_of(fields, library, names)
    light = parse_light(fields.node("light"), library, fields.findings)
    found = [library.system(name, fields.findings) for name in _scalars(node, "system", fields.findings)]
    systems = list(dict.fromkeys(system for system in found if system is not None))
    if len(systems) == 1:
        return (Tub(LONE_TUB, systems[0], light),), dict.fromkeys(names.plants, LONE_TUB)
    return tuple(Tub(system.id, system, light) for system in systems), {}


def rough_varieties(fields: TypedFields, crop: Crop, plants: tuple[str, ...]) -> tuple[str, ...] | None:
    """The varieties, where they are named without saying which plants had them: a list, or one of unknown plants.

    None where they are told by plants.
    """
    node = fields.node("variety")
    if isinstance(node, Mapping) or (plants and not isinstance(node, Items)):
        return None
    found = [variety_of(crop, name, fields.findings) for name in _scalars(node, "variety", fields.findings)]
    return tuple(dict.fromkeys(variety.id for variety in found if variety is not None))


def memory_of(fields: TypedFields, plants: Quantity | None, varieties: tuple[str, ...]) -> Memory:
    """What came of the run, in the author's words, and as a weight where it is one."""
    scalar = fields.scalar("harvest")
    if scalar is None:
        return Memory(plants=plants, varieties=varieties)
    weight = _weight(scalar, fields.findings)
    return Memory(scalar.text.strip(), weight, plants, varieties)


def _weight(scalar: Scalar, findings: Findings) -> Quantity | None:
    """A number with a unit of weight, or without any unit, is meant as a weight; all else are words."""
    text = scalar.text.strip()
    if (known := quantity_in(text, Dimension.MASS)) is not None:
        return None if known.some else known
    match = _UNIT.fullmatch(text.removesuffix(" by eye"))
    if match is None or (match["unit"] and unit_named(match["unit"], Dimension.MASS) is None):
        return None
    return parse_quantity(scalar, Dimension.MASS, findings, "harvest")


def _scalars(node: Node | None, key: str, findings: Findings) -> Iterator[Scalar]:
    for item in node.items if isinstance(node, Items) else (node,) if node is not None else ():
        scalar = expect_scalar(item, key, findings)
        if scalar is not None:
            yield scalar
