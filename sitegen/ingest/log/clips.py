"""Footage: `the first cut`, `{what: …, file: …, at: 4:10, length: 0:12, plants: …}`, or a list of these.

In: the value of `clip` in an entry. Out: a `Clip` for each. Files are not looked for: they lie in the author's archive.
"""

from __future__ import annotations

from sitegen.core.format.entry import LogKey
from sitegen.ingest.log.visit import Visit, which_in
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields


def read_clips(node: Node, key: LogKey, visit: Visit) -> None:
    """One clip or several, each in words or as a mapping."""
    for item in node.items if isinstance(node, Items) else (node,):
        if isinstance(item, Mapping):
            _from_fields(key, read_fields(item, key.table, visit.findings), visit)
        elif scalar := expect_scalar(item, key.key, visit.findings, example=key.example):
            visit.record(key, scalar.source, what=scalar.text.strip())


def _from_fields(key: LogKey, fields: TypedFields, visit: Visit) -> None:
    visit.record(
        key,
        fields.source,
        which_in(fields, visit) if fields.has("plants") else None,
        what=fields.text("what"),
        file=fields.text("file"),
        at=fields.clock("at"),
        length=fields.clock("length"),
    )
