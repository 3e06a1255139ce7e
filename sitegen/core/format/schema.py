"""The format as a JSON Schema (2020-12) for editors, and as a text for people; both are made from the table of fields.

In: `core.format`. Out: a schema for each file of a journal, or the reference as text. The schema is more permissive
than the reader: units, order and references are left to `validate`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sitegen.core.format import TABLES
from sitegen.core.format.fields import Field, Form, Subject, Table
from sitegen.core.format.own_names import Ids, OwnNames, as_keys, one_of, spelled
from sitegen.core.format.spelling import plural_of
from sitegen.core.reference.milestones import KINDS, milestones_of
from sitegen.core.site.blocks import ALL_PHOTOS, HEADINGS
from sitegen.core.site.chart import CHARTS

# File → the table that describes it.
FILES: dict[str, str] = {
    "journal.yaml": "journal",
    "gear.yaml": "gear",
    "crops.yaml": "crop",
    "season.yaml": "season",
    "experiment.yaml": "experiment",
}

_SCALAR: dict[str, Any] = {"type": ["string", "number"]}
_ANY: dict[str, Any] = {"type": ["string", "number", "array", "object"]}

_NUMBER_WORD = "^(?:[0-9]+|[A-Za-z]+)$"  # `six`

_SHAPES: dict[Form, dict[str, Any]] = {
    Form.TEXT: _SCALAR,
    Form.FLAG: {"type": "boolean"},
    Form.WHOLE: {"type": ["integer", "string"], "minimum": 0, "pattern": _NUMBER_WORD},
    Form.PIECES: {"type": ["integer", "string"], "minimum": 0},
    Form.NUMBER: {"type": "number", "exclusiveMinimum": 0},
    Form.ID: _SCALAR,  # a name stands for its id
    Form.IDS: {"type": ["string", "array"], "items": {"type": "string"}},
    Form.PATTERNS: {"type": ["string", "array"], "items": {"type": "string"}},
    Form.DATE: {"type": "string"},  # `2026-4-12` and `12 April 2026` too
    Form.CLOCK: {"type": "string", "pattern": "^([0-9]+:)?[0-9]+:[0-5][0-9]$"},
    Form.TIME: {"type": "string", "pattern": "^([01]?[0-9]|2[0-3]):[0-5][0-9]$"},
    Form.START: {"type": ["string", "integer"]},
    Form.DAY: {"type": ["integer", "string"]},
    Form.QUANTITY: _ANY,
    Form.WHICH: {"type": ["string", "array"], "items": {"type": "string"}},
    Form.PLANTS: {"type": ["integer", "string", "array"], "items": {"type": "string"}},
    Form.GROUPS: {"type": "object"},
    Form.VARIETIES: {"type": ["string", "array", "object"], "items": {"type": "string"}},
    Form.COLUMNS: {"type": "object", "additionalProperties": {"type": "string"}},
    Form.STAGES: {"type": "object"},
    Form.PICK: {
        "type": ["string", "number", "array", "object"],
        "items": {"type": ["string", "number", "object"]},
    },
}


def schema(file: str, names: OwnNames | None = None) -> dict[str, Any]:
    """The JSON Schema of one file of a journal, with the names that the journal defines where they are known."""
    known = names or OwnNames()
    table = TABLES[FILES[file]]
    body = _table(table, known)
    if file == "crops.yaml":
        body = {"type": "object", "additionalProperties": body}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": file,
        **body,
        "$defs": {name: _table(inner, known) for name, inner in sorted(TABLES.items())},
    }


def _table(table: Table, names: OwnNames) -> dict[str, Any]:
    required = [field.key for field in table.fields if field.required]
    return {
        "type": "object",
        "description": table.about,
        "properties": {field.key: _field(field, names) for field in table.fields},
        # In any case and spelling.
        "patternProperties": {spelled(field.key for field in table.fields): {}},
        "additionalProperties": False,
        **({"required": required} if required else {}),
    }


def _field(field: Field, names: OwnNames) -> dict[str, Any]:
    about = f"{field.about}. Example: {field.key}: {field.example}" if field.example else field.about
    return {"description": about, **_with_names(field, _shape(field, names), names)}


def _with_names(field: Field, shape: dict[str, Any], names: OwnNames) -> dict[str, Any]:
    """The shape of a value that can name things of the journal; it refuses nothing that the reader takes."""
    ids = names.of_key(field.key)
    sets = {**names.plants, **names.groups}
    if field.form is Form.ID and ids:
        return one_of(ids)
    if field.form in (Form.IDS, Form.VARIETIES) and ids:
        several = {"type": ["array", "object"], "items": one_of(ids), "additionalProperties": one_of(ids)}
        return {"anyOf": [one_of(ids), several]}
    if field.form is Form.WHICH and sets:
        item = {"anyOf": [{"enum": [*sets]}, {"type": "string"}]}
        return {"anyOf": [{"enum": [*sets, "all", "none", "some"]}, {**shape, "items": item}]}
    if shape is not _ANY:
        return shape
    inner = TABLES[field.table].fields if field.table else ()
    ids_within = {each.key: one_of(found) for each in inner if (found := _ids_within(each, names))}
    return {**shape, "properties": as_keys(_keys_of(field, names, sets)) | ids_within}


def _ids_within(field: Field, names: OwnNames) -> Ids:
    """What a field of a mapping that may have other forms names: the lamp of a setting."""
    return names.of_key(field.key) if field.form is Form.ID else {}


def _keys_of(field: Field, names: OwnNames, sets: Ids) -> Ids:
    """What the keys of a mapping can be."""
    own = names.tubs if field.subject is Subject.TUBS else sets if field.subject is Subject.PLANTS else {}
    return {**names.products, **own} if field.form is Form.DOSES else own


def _shape(field: Field, names: OwnNames) -> dict[str, Any]:
    inner = {"$ref": f"#/$defs/{field.table}"} if field.table else {}
    if field.form is Form.CHOICE:
        numbers = (int(choice) for choice in field.choices if choice.isdigit())
        offered = {"enum": [*field.choices, *numbers]}
        words = (*field.choices, *map(plural_of, field.choices))
        return {"anyOf": [offered, {"type": "string", "pattern": spelled(words)}]}
    if field.form is Form.TABLE:
        return inner
    instead = {Form.TABLES: {"type": "array", "items": inner}, Form.SPOILT: _SHAPES[Form.PIECES]}
    if field.form in instead:
        return {"anyOf": [instead[field.form], inner]}
    if field.form is Form.NAMED:
        return {"type": "object", "additionalProperties": inner}
    if field.form is Form.STAGES:
        kinds = (names.kind,) if names.kind else KINDS
        stages = sorted({name for kind in kinds for name in milestones_of(kind)})
        # As keys they are offered; as they may be spelled, they are allowed.
        known = {"anyOf": [{"enum": stages}, {"pattern": spelled(stages)}]}
        return {
            "type": "object",
            "properties": dict.fromkeys(stages, _ANY),
            "propertyNames": known,
            "additionalProperties": _ANY,
        }
    return _SHAPES.get(field.form, _ANY)


def reference() -> str:
    """The format as a text: every file, key, value form and example."""
    tables = (line for table in TABLES.values() for line in _table_text(table))
    stages = (f"{kind}: {', '.join(milestones_of(kind))}" for kind in KINDS)
    return "\n".join([_VALUES, *tables, "# milestones by kind of crop", "", *stages, "", _RECAP])


_VALUES = """\
# How values are written

quantity   2.3 oz | 1 lb 4 oz | 1/2 tsp | 84 g (the unit always)
           about 9 in | 150 g by eye | 8-9 in | at least 9 cm | 9+ cm | up to 60 cm
           unweighed | unmeasured | not kept (it happened; nobody measured it) | some (of an amount or a number)
           7.1, then 5.9 (before and after, for ph and ec)
plants     P1 | [P1, P4] | P1-P3 | a group | all | none | 2 of 6 | some
day        day: 26 | day: 33-38 | day: about 36 | day: before 40 | date: 2025-10-19
other      whatever has one reading is read: ~9 cm, ca. 9 cm, 9", 9 CM, 70F, “9 cm”, 11/12, 3 per cup, p1, P1 to P3,
           2026-4-12, 12 April 2026, First flower, the name of a product, lamp, system or variety for its id
text       quote it, or write `key: |` and the text below, where it holds `: ` or ` #`

A plain reading (height: 9 cm) is each plant's; a plain harvest, water or feed is together. {each: 20 g} and
{together: 205 g} say otherwise. The keys of a mapping are either all subjects (plants, groups, tubs) or all
fields. Counts (sprouted, milestone, total_so_far) count from the start. Anything may be left out.
"""


_RECAP = f"""\
# recap.md: the write-up

Markdown, with values of the facts ({{{{ facts.harvest.total }}}}; names: `sitegen facts`). A fenced block places
something where you want it; it then stands there and not further down the page:

```chart
height
```

chart   {" | ".join(CHARTS)}
photo   a file of photos/; on the line below it, if you like, a caption
strip   a plant, a group, or `{ALL_PHOTOS}`: the photos that the log says show it alone, day by day

A section under one of these headings, in the journal's language or in English, stands in that part of the page, after the
charts: {"; ".join(HEADINGS)}.

Each thing is placed once. Free pages, such as about.md, have no blocks."""


def _table_text(table: Table) -> Iterator[str]:
    yield f"# {table.about}" if table.name in FILES.values() else f"# {table.name}: {table.about}"
    yield ""
    width = max(len(field.key) for field in table.fields)
    for field in table.fields:
        must = " (must be there)" if field.required else ""
        by_tub = "; with several tubs, by tub" if field.subject is Subject.TUBS else ""
        yield f"{field.key:<{width}}  {field.about}{must}{by_tub}"
        if field.form is Form.CHOICE:
            yield f"{'':<{width}}    {' | '.join(field.choices)}"
        elif field.example:
            yield f"{'':<{width}}    {field.key}: {field.example}"
    yield ""
