"""`milestone`: which plants had reached which stage; `none` is data too."""

from __future__ import annotations

from sitegen.core.fields import Field
from sitegen.core.reference.stages import MILESTONES, milestones_of
from sitegen.core.rows import MilestoneRow
from sitegen.core.text import did_you_mean
from sitegen.ingest.log.visit import Visit
from sitegen.ingest.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.which import parse_which

__all__ = ["read_milestones"]


def read_milestones(node: Node, field: Field, visit: Visit) -> None:
    """`{rosette: 4 of 6, first_flower: none}`."""
    if not isinstance(node, Mapping):
        _refuse(node, field, visit)
        return
    known = milestones_of(visit.crop.kind)
    for pair in node:
        if pair.key.text not in known:
            _unknown(pair.key, tuple(known), visit)
            continue
        which = parse_which(pair.value, visit.names, visit.findings, pair.key.text)
        if which is None:
            continue
        reached = not which.nobody
        row = MilestoneRow(
            pair.key.text,
            visit.day,
            visit.entry,
            pair.value.source,
            which if reached else visit.names.everyone(),
            reached,
        )
        visit.rows.milestones.append(row)


def _refuse(node: Node, field: Field, visit: Visit) -> None:
    first = node.items[0] if isinstance(node, Items) and node.items else node
    stage = first.text if isinstance(first, Scalar) else "first_flower"
    visit.findings.add(
        "which-plants",
        node.source,
        f"`{field.key}: {stage}` does not say which plants",
        mend=f"write `{field.key}: {{{stage}: P1}}`, `{{{stage}: 2 of 6}}` or `{{{stage}: all}}`",
        found=stage,
        expected="plants by milestone",
    )


def _unknown(key: Scalar, known: tuple[str, ...], visit: Visit) -> None:
    elsewhere = any(m.name == key.text for m in MILESTONES)
    visit.findings.add(
        "unknown-milestone",
        key.source,
        f"`{key.text}` is not a milestone of {visit.crop.kind} crops"
        if elsewhere
        else f"`{key.text}` is not a milestone",
        mend=did_you_mean("" if elsewhere else key.text, known),
        found=key.text,
        expected=", ".join(known),
    )
