"""One visit while it is being read: the day, the names that hold then, the rows it gives, and values by subject.

In: nothing, or the value of a key of an entry. Out: `Visit`, handed to the readers of single keys; `Collected`, the
rows of all visits so far; `Part`s, one for each subject (plant, group, tub), whose values are not read yet. A mapping
with keys of both kinds, subjects and fields, is a finding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.format import TABLES
from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field, Subject
from sitegen.core.language.text import closest, listed
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Photo, Pick, Reading, Tally, Which
from sitegen.core.records.setup import Crop, LampUse
from sitegen.core.values.day import Day
from sitegen.ingest.library import Library
from sitegen.ingest.values.plants import PlantNames, parse_which, report_unknown
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields


@dataclass(slots=True)
class Collected:
    """The records read so far, and the settings that last beyond a visit."""

    events: list[Event] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    picks: list[Pick] = field(default_factory=list)
    tallies: list[Tally] = field(default_factory=list)
    milestones: list[MilestoneRow] = field(default_factory=list)
    lights: list[Light] = field(default_factory=list)
    routines: list[Routine] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)
    lamps: dict[str, LampUse] = field(default_factory=dict)  # the setting that holds, by tub


class Visit(NamedTuple):
    """The context in which the keys of one entry are read."""

    day: Day
    entry: int
    names: PlantNames
    tub_ids: tuple[str, ...]
    library: Library
    crop: Crop
    photo_names: frozenset[str]
    rows: Collected
    findings: Findings

    def add(self, event: Event) -> None:
        """Add an event of this visit."""
        self.rows.events.append(event)

    def record(self, key: LogKey, source: Source, which: Which | None = None, **values: Any) -> None:
        """Add an event of the type that its key names."""
        assert key.record is not None
        self.add(key.record(Deed(key.key), self.day, self.entry, source, which, **values))


class Part(NamedTuple):
    """One subject's value: `fields` where it is a mapping of fields, else `value`.

    `which` is None where no subject is named.
    """

    key: Scalar | None
    which: Which | None
    value: Scalar | Items | None
    fields: TypedFields | None

    @property
    def named(self) -> bool:
        """Whether the subject is named by a key."""
        return self.key is not None


def parts_of(node: Node, field: Field, visit: Visit) -> Iterator[Part]:
    """The parts of a value that belongs to plants."""
    if not isinstance(node, Mapping):
        yield Part(None, None, node, None)
        return
    subjects = [pair for pair in node if visit.names.subject(pair.key.text) is not None]
    fields = [pair for pair in node if _is_field(pair, field, visit)]
    if fields and not subjects:
        yield Part(None, None, None, read_fields(node, field.table, visit.findings))
        return
    if subjects and fields:
        _report_mixed(node, field, subjects, fields, visit)
        return
    for pair in node:
        which = visit.names.subject(pair.key.text)
        if which is None:
            _report_unknown_subject(pair.key, field, visit)
        else:
            yield _part(pair, which, field, visit)


def scalars_of(node: Node, field: Field, visit: Visit) -> Iterator[tuple[Scalar, Which]]:
    """The single values by plants, each with its plants: all standing ones where none is named."""
    for part in parts_of(node, field, visit):
        if part.value is not None:
            scalar = expect_scalar(part.value, field.key, visit.findings, example=field.example)
            if scalar is not None:
                yield scalar, part.which or visit.names.everyone()


def _is_field(pair: Pair, field: Field, visit: Visit) -> bool:
    word = pair.key.text
    if not field.table or TABLES[field.table].has(word):
        return bool(field.table)
    return visit.names.subject(word) is None and bool(TABLES[field.table].meant(word))


def _part(pair: Pair, which: Which, field: Field, visit: Visit) -> Part:
    if not isinstance(pair.value, Mapping):
        return Part(pair.key, which, pair.value, None)
    if field.table:
        return Part(pair.key, which, None, read_fields(pair.value, field.table, visit.findings))
    example = "" if field.example.startswith("{") else field.example
    expect_scalar(pair.value, pair.key.text, visit.findings, example=example)
    return Part(pair.key, which, None, None)


def _report_mixed(
    node: Mapping, field: Field, subjects: list[Pair], fields: list[Pair], visit: Visit
) -> None:
    names, others = (listed([f"`{pair.key.text}`" for pair in pairs]) for pairs in (subjects, fields))
    mend = "put the fields under each tub"
    if field.subject is Subject.PLANTS:
        mend = "put the fields under each subject, or name the plants with `plants:`"
    visit.findings.add(
        "mixed-keys",
        fields[0].key.source,
        f"`{field.key}` mixes subjects ({names}) with fields ({others})",
        mend=mend,
        found=", ".join(pair.key.text for pair in node),
        expected="only subjects, or only fields",
    )


def _report_unknown_subject(key: Scalar, field: Field, visit: Visit) -> None:
    fields = TABLES[field.table].keys if field.table else ()
    if closest(key.text, fields) and not closest(key.text, visit.names.known):
        message = f"`{key.text}` is not a key of `{field.key}`"
        key.report_unknown(visit.findings, "unknown-key", message, fields, "")
    else:
        report_unknown(key, visit.names, visit.findings)


def which_in(fields: TypedFields, visit: Visit) -> Which | None:
    """The `plants:` among fields; everyone where there is none, None where it cannot be read."""
    node = fields.node("plants")
    if node is None:
        return visit.names.everyone()
    return parse_which(node, visit.names, visit.findings, "plants")


def tub_parts(node: Node, field: Field, visit: Visit) -> Iterator[tuple[str, Node]]:
    """The parts of a value that belongs to tubs: with several tubs each is named."""
    tubs = visit.names.tubs
    if isinstance(node, Mapping) and any(visit.names.tub(pair.key.text) for pair in node):
        for key, value in node:
            if tub := visit.names.tub(key.text):
                yield tub, value
                continue
            message = f"`{key.text}` is not a tub of this experiment; `{field.key}` belongs to a tub"
            key.report_unknown(visit.findings, "unknown-plant", message, tubs, "")
    elif len(visit.tub_ids) > 1:
        message = f"`{field.key}` belongs to a tub; this experiment has {len(tubs)}"
        said = node.text if isinstance(node, Scalar) else "…"
        offers = listed([f"`{field.key}: {{{tub}: {said}}}`" for tub in tubs], "or")
        mend = f"write {offers}, or each tub with its own"
        visit.findings.add("which-tub", node.source, message, mend=mend, expected=" | ".join(tubs))
    else:
        # Without a tub the head has an error already; values of the log are checked all the same.
        yield next(iter(visit.tub_ids), ""), node
