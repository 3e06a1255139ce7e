"""The tubs of an experiment: one, or several with their plants.

In: the head of experiment.yaml, the library, the names of plants. Out: `Tub`s and the tub of each plant.
"""

from __future__ import annotations

from sitegen.core.setup import Tub
from sitegen.ingest.head_plants import nobody_left_out, once, twice
from sitegen.ingest.lamps import parse_light
from sitegen.ingest.library import Library
from sitegen.ingest.nodes import Mapping
from sitegen.ingest.reader import Read
from sitegen.ingest.which import Names, parse_named

__all__ = ["LONE_TUB", "tubs_of"]

LONE_TUB = "tub"


def tubs_of(
    read: Read, library: Library, names: Names
) -> tuple[tuple[Tub, ...], tuple[tuple[str, str], ...]]:
    """The tubs, and the tub of each plant."""
    several = read.node("tubs")
    if several is not None:
        return _several(read, library, names)
    name = read.scalar("system")
    if name is None:
        read.findings.add(
            "missing-key",
            read.source.part(0, 1),
            "`system` is missing: what the plants grew in",
            mend="write `system:` with an id of gear.yaml, or `tubs:` for several",
            expected="system",
        )
        return (), ()
    system = library.system(name, read.findings)
    light = parse_light(read.node("light"), library, read.findings)
    if system is None:
        return (), ()
    return (Tub(LONE_TUB, system, light),), tuple((plant, LONE_TUB) for plant in names.plants)


def _several(
    read: Read, library: Library, names: Names
) -> tuple[tuple[Tub, ...], tuple[tuple[str, str], ...]]:
    common = parse_light(read.node("light"), library, read.findings)
    tubs: list[Tub] = []
    tub_of: dict[str, str] = {}
    for name, inner in read.named("tubs"):
        if name.text in names.known:
            twice(read, name, "a plant or group")
            continue
        wanted = inner.scalar("system")
        system = library.system(wanted, read.findings) if wanted else None
        own = parse_light(inner.node("light"), library, read.findings)
        node = inner.node("plants")
        which = parse_named(node, names, read.findings, "plants") if node is not None else None
        for plant in which.ids if which else ():
            once(read, plant, tub_of, inner.at("plants"), "tub")
            tub_of[plant] = name.text
        if system is not None:
            tubs.append(Tub(name.text, system, own or common))
    declared = read.node("tubs")
    if tubs and isinstance(declared, Mapping) and len(tubs) == len(declared.pairs):
        nobody_left_out(read, names, tub_of, "tubs")
    return tuple(tubs), tuple(tub_of.items())
