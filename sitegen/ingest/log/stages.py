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
        _report_no_plants(node, field, visit)
        return
    known = milestones_of(visit.crop.kind)
    for pair in node:
        if pair.key.text not in known:
            _report_unknown(pair.key, tuple(known), visit)
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
        name, word = pair.key.text, pair.value.text if isinstance(pair.value, Scalar) else ""
        if word in ("all", "none"):
            said = about if word == "all" else Which(count=0, word="none")
            _add(stage, said, about, pair.key.source, visit)
            continue
        message = f"`{name}` has reached `{stage}` or not"
        mend = f"write `{stage}: {{{name}: all}}` or `{stage}: {{{name}: none}}`"
        visit.findings.add(
            "not-a-selection", pair.value.source, message, mend=mend, found=word, expected="all | none"
        )


def _report_no_plants(node: Node, field: Field, visit: Visit) -> None:
    first = node.items[0] if isinstance(node, Items) and node.items else node
    stage = first.text if isinstance(first, Scalar) else "first_flower"
    message = f"`{field.key}: {stage}` does not say which plants"
    mend = f"write `{field.key}: {{{stage}: P1}}`, `{{{stage}: 2 of 6}}` or `{{{stage}: all}}`"
    visit.findings.add(
        "which-plants", node.source, message, mend=mend, found=stage, expected="plants by milestone"
    )


def _report_unknown(key: Scalar, known: tuple[str, ...], visit: Visit) -> None:
    message, mend = f"`{key.text}` is not a milestone", did_you_mean(key.text, known)
    if any(milestone.name == key.text for milestone in MILESTONES):
        message, mend = f"{message} of {visit.crop.kind} crops", did_you_mean("", known)
    key.report(visit.findings, "unknown-milestone", message, mend, ", ".join(known))
