"""A lamp's setting, as it is written in the head, in a tub and in the log.

In: a node, the library. Out: a `LampUse`, or None and a finding.
"""

from __future__ import annotations

import re

from sitegen.core.finding import Findings
from sitegen.core.setup import LampUse
from sitegen.core.text import closest
from sitegen.ingest.expect import expect_mapping
from sitegen.ingest.library import Library
from sitegen.ingest.nodes import Items, Node, Scalar
from sitegen.ingest.reader import read_table

__all__ = ["parse_light"]


def parse_light(node: Node | None, library: Library, findings: Findings) -> LampUse | None:
    """A lamp's setting: a mapping, or `off`."""
    if node is None:
        return None
    if isinstance(node, Scalar):
        if node.text == "off":
            return LampUse(off=True)
        findings.add(
            "wrong-type",
            node.source,
            "`light` wants a mapping, or `off`",
            mend=f"write `light: {{{_meant(node.text, library)}}}`, or `off`",
            found=node.text,
            expected="a mapping, or `off`",
        )
        return None
    if isinstance(node, Items):
        expect_mapping(node, "light", findings, example="{hours: 14 h}")
        return None
    read = read_table(node, "light", findings)
    name = read.scalar("lamp")
    lamp = library.lamp(name, findings) if name else None
    return LampUse(lamp, read.quantity("hours"), read.quantity("distance"))


def _meant(text: str, library: Library) -> str:
    """A setting for a text that is none: a lamp by its id, or hours a day."""
    if re.fullmatch(r"\d+", text):
        return f"hours: {text} h"
    if re.match(r"\d", text):
        return f"hours: {text}"
    lamps = [lamp.id for lamp in library.lamps]
    lamp = closest(text, lamps) or next(iter(lamps), "")
    return f"lamp: {lamp}, hours: 14 h" if lamp else "hours: 14 h"
