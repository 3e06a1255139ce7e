"""Where a figure stands in the facts, read off the tree itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.indices import PlantSetFacts, SetStageFacts, TubClimate
from sitegen.core.facts.tree import Dosing as DosingFacts
from sitegen.core.facts.tree import Facts, MilestoneFacts, PlantFacts, TubFacts
from sitegen.core.records.rows import Run

__all__ = ["paths"]


def _key(item: object) -> str | None:
    match item:
        case Named() | TubFacts() | TubClimate() | PlantSetFacts() | SetStageFacts():
            return item.key
        case MilestoneFacts():
            return item.name
        case PlantFacts():
            return item.plant
        case DosingFacts():
            return item.product
    return None


def paths(node: object, path: str = "") -> Iterator[tuple[str, Figure]]:
    """Every figure with its path of attributes; an item of a list goes by its key."""
    if isinstance(node, Figure):
        if node.name:
            yield path, node
    elif isinstance(node, Named):
        yield path, node.figure
    elif isinstance(node, tuple):
        for item in node:
            if (key := _key(item)) is not None:
                yield from paths(item, f"{path}.{key}")
    elif is_dataclass(node) and not isinstance(node, (type, Run)):
        for field in fields(node):
            yield from paths(getattr(node, field.name), f"{path}.{field.name}" if path else field.name)


def by_name(facts: Facts) -> dict[str, Figure]:
    """All figures by name."""
    return {figure.name: figure for _, figure in paths(facts)}
