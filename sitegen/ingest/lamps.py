"""A lamp's setting, as it is written in the head, in a tub and in the log.

In: a node, the library. Out: a `LampUse`, or None and a finding.
"""

from __future__ import annotations

import re

from sitegen.core.finding import Findings
from sitegen.core.setup import LampUse
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
            mend=f"write `light: {{hours: {node.text if re.match('[0-9]', node.text) else '14 h'}}}`, or `off`",
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
