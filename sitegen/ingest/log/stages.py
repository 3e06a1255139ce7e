"""`milestone`: which plants had reached which stage; `none` is data too."""

from __future__ import annotations

from sitegen.core.findings.finding import Source
from sitegen.core.format.fields import Field
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.rows import MilestoneRow, Which
from sitegen.core.reference.milestones import MILESTONES, milestones_of
from sitegen.ingest.log.visit import Visit
from sitegen.ingest.values.plants import parse_which
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar


def read_milestones(node: Node, field: Field, visit: Visit) -> None:
    """`{rosette: 4 of 6, first_flower: none, bolting: {P5: none}}`."""
    if not isinstance(node, Mapping):
        _refuse(node, field, visit)
        return
    known = milestones_of(visit.crop.kind)
    for pair in node:
        if pair.key.text not in known:
            _unknown(pair.key, tuple(known), visit)
            continue
        if isinstance(pair.value, Mapping):
            _by_plant(pair.key.text, pair.value, visit)
            continue
        which = parse_which(pair.value, visit.names, visit.findings, pair.key.text)
        if which is not None:
            _add(pair.key.text, which, visit.names.everyone(), pair.value.source, visit)


def _add(stage: str, said: Which, about: Which, source: Source, visit: Visit) -> None:
    """One row: `none` is about all that could have reached the stage."""
    reached = not said.nobody
    row = MilestoneRow(stage, visit.day, visit.entry, source, said if reached else about, reached)
    visit.rows.milestones.append(row)


def _by_plant(stage: str, node: Mapping, visit: Visit) -> None:
    """`{P4: all, P5: none}`: which plants or groups have reached a stage, and which have not."""
    for pair in node:
        about = parse_which(pair.key, visit.names, visit.findings, stage)
        if about is None:
            continue
        word = pair.value.text if isinstance(pair.value, Scalar) else ""
        if word in ("all", "none"):
            _add(
                stage, about if word == "all" else Which(count=0, word="none"), about, pair.key.source, visit
            )
            continue
        visit.findings.add(
            "not-a-selection",
            pair.value.source,
            f"`{pair.key.text}` has reached `{stage}` or not",
            mend=f"write `{stage}: {{{pair.key.text}: all}}` or `{stage}: {{{pair.key.text}: none}}`",
            found=word,
            expected="all | none",
        )


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
