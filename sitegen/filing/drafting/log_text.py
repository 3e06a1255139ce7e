"""Values by day → the entries of a log.

In: `Record`s and `Kept`. Out: the text below `log:`; what could not be read stands as a comment above the entry of its
day, with its place.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from sitegen.filing.drafting.dates import When
from sitegen.filing.drafting.records import Entry, Found, Kept, Record
from sitegen.filing.entries.entry_text import Layout, braced, bracketed, entry_text, text_value

Fields = list[tuple[str, str]]


def log_text(found: Found, start: dt.date | None = None) -> str:
    """The entries in the order of their days; day numbers stand among dates where the `start` is known."""

    def place(when: When) -> tuple[int, str]:
        counted = start is not None and when.key == "day"
        return when.rank + (start.toordinal() if counted and start else 0), when.text

    by_day: dict[When, list[Record]] = {}
    for record in found.records:
        by_day.setdefault(record.when, []).append(record)
    entries: dict[When, list[Entry]] = {}
    for entry in found.entries:
        entries.setdefault(entry.when, []).append(entry)
    comments: dict[When, list[Kept]] = {}
    for each in found.kept:
        if each.when is not None:
            comments.setdefault(each.when, []).append(each)
    parts = []
    for when in sorted({*by_day, *comments, *entries}, key=place):
        parts += [comment(f"{each.place}: {each.text}", indent=2) for each in comments.get(when, [])]
        of_day = [*(entry.pairs for entry in entries.get(when, [])), *_entries(by_day.get(when, []))]
        parts += [entry_text(when.yaml, fields, Layout()) for fields in of_day]
    return "".join(parts)


def comment(text: str, indent: int = 0) -> str:
    """A text as a line of comment."""
    plain = "".join(each if each.isprintable() else " " for each in " / ".join(text.splitlines()))
    return f"{' ' * indent}# {plain}".rstrip() + "\n"


def _entries(records: Sequence[Record]) -> list[Fields]:
    """The entries of one day: a second one for a value that the first has already."""
    layers: list[list[Record]] = []
    taken: list[set[tuple[str, str]]] = []
    for record in records:
        own = {(record.key, plant) for plant in record.plants or ("",)}
        place = next((n for n, keys in enumerate(taken) if _fits(own, keys, layers[n], record)), None)
        if place is None:
            layers.append([])
            taken.append(set())
            place = len(layers) - 1
        layers[place].append(record)
        taken[place] |= own
    return [_fields(layer) for layer in layers]


def _fits(
    own: set[tuple[str, str]], taken: set[tuple[str, str]], layer: Sequence[Record], record: Record
) -> bool:
    """Whether an entry has room for a value: notes go together, all else is said once, and of single plants or of all."""
    if record.key == "note":
        return True
    same = [each for each in layer if each.key == record.key]
    return not own & taken and (not same or all(len(each.plants) == 1 for each in (*same, record)))


def _fields(records: Sequence[Record]) -> Fields:
    fields: Fields = []
    picks = [record for record in records if record.key in ("harvest", "pieces")]
    for key in dict.fromkeys(
        record.key for record in records if record.key not in ("note", "pieces", "harvest")
    ):
        fields.append((key, _value(key, [record for record in records if record.key == key])))
    if picks:
        fields.append(("harvest", _picks(picks)))
    notes = [_note(record) for record in records if record.key == "note"]
    if notes:
        fields.append(("note", text_value("; ".join(notes))))
    return fields


def _note(record: Record) -> str:
    text = " / ".join(line.strip() for line in record.value.splitlines() if line.strip())
    return f"{', '.join(record.plants)}: {text}" if record.plants else text


def _value(key: str, records: Sequence[Record]) -> str:
    first = records[0]
    if not first.plants:
        return first.value
    if len(first.plants) > 1:
        name = "together" if key != "water" else "amount"
        return braced([("plants", bracketed(first.plants)), (name, first.value)])
    return braced([(record.plants[0], record.value) for record in records])


def _picks(records: Sequence[Record]) -> str:
    """Weights and pieces, by plant or of all together."""
    by_plants: dict[tuple[str, ...], dict[str, str]] = {}
    for record in records:
        name = "count" if record.key == "pieces" else "weight"
        by_plants.setdefault(record.plants, {})[name] = record.value
    if len(by_plants) == 1:
        ((plants, values),) = by_plants.items()
        if len(plants) != 1:
            if not plants and list(values) == ["weight"]:
                return values["weight"]
            whose = [("plants", bracketed(plants))] if plants else []
            return braced([*whose, *_with_weight(values)])
    if all(len(plants) == 1 for plants in by_plants):
        return braced([(plants[0], _pick(values)) for plants, values in by_plants.items()])
    items = [
        braced([*([("plants", bracketed(plants))] if plants else []), *_with_weight(values)])
        for plants, values in by_plants.items()
    ]
    return bracketed(items)


def _with_weight(values: dict[str, str]) -> Fields:
    """A pick that nobody weighed says so."""
    return [
        ("weight", values.get("weight", "unweighed")),
        *([("count", values["count"])] if "count" in values else []),
    ]


def _pick(values: dict[str, str]) -> str:
    return values["weight"] if list(values) == ["weight"] else braced(_with_weight(values))
