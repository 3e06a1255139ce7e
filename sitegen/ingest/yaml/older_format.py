"""A file of an earlier version of the format: what it says, in the keys of the present one.

In: the nodes of a file, the table that describes it. Out: its version; the same nodes with their keys renamed, and which
keys those are, for rewriting the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Mapping as Mapping_
from typing import NamedTuple

from sitegen.core.format import FORMAT, TABLES
from sitegen.core.format.fields import Form
from sitegen.core.format.versions import STEPS, OldKey, Step, present_names
from sitegen.core.language.text import closest
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar

Names = Mapping_[OldKey, str]


class Renamed(NamedTuple):
    """A key as it was written, and its present name."""

    key: Scalar
    name: str


def version_of(mapping: Mapping) -> int | None:
    """The version that a file says, 0 where it says none; None where that cannot be known."""
    said = next((pair.value for pair in mapping.pairs if pair.key.text == "format"), None)
    if said is None:
        misspelt = any(closest(pair.key.text, ("format",)) for pair in mapping.pairs)
        return None if misspelt else 0
    if isinstance(said, Scalar) and said.text.isascii() and said.text.isdigit():
        return int(said.text)
    return None


def upgraded(node: Node, table: str, version: int, steps: Sequence[Step] = STEPS) -> Node:
    """The nodes of a file in the keys of the present format."""
    names = present_names(version, steps)
    return _renamed(node, table, names) if names else node


def upgraded_by_id(node: Mapping, table: str, version: int, steps: Sequence[Step] = STEPS) -> Mapping:
    """The same of a file whose keys are ids."""
    return _of_ids(node, table, present_names(version, steps))


def with_format(mapping: Mapping) -> Mapping:
    """The same with the number of the present format."""
    others = tuple(pair for pair in mapping.pairs if pair.key.text != "format")
    said = Pair(Scalar("format", mapping.source), Scalar(str(FORMAT), mapping.source))
    return Mapping((said, *others), mapping.source)


def renamed_keys(node: Node, table: str, version: int, steps: Sequence[Step] = STEPS) -> Iterator[Renamed]:
    """The keys of a file that have another name now, in the order of the file."""
    yield from _differences(node, upgraded(node, table, version, steps))


def _differences(before: Node, after: Node) -> Iterator[Renamed]:
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for old, new in zip(before.pairs, after.pairs, strict=True):
            if old.key.text != new.key.text:
                yield Renamed(old.key, new.key.text)
            yield from _differences(old.value, new.value)
    elif isinstance(before, Items) and isinstance(after, Items):
        for one, other in zip(before.items, after.items, strict=True):
            yield from _differences(one, other)


def _renamed(node: Node, table: str, names: Names) -> Node:
    """A mapping of a table, or a list of such."""
    if isinstance(node, Items):
        return Items(tuple(_renamed(item, table, names) for item in node.items), node.source)
    if not isinstance(node, Mapping):
        return node
    return Mapping(tuple(_renamed_pair(pair, table, names) for pair in node.pairs), node.source)


def _renamed_pair(pair: Pair, table: str, names: Names) -> Pair:
    name = names.get((table, pair.key.text), pair.key.text)
    key = pair.key if name == pair.key.text else pair.key._replace(text=name)
    field = TABLES[table].by_key.get(name)
    if field is None:
        # The key of a subject (`P1`, `left`) in front of a mapping of the same table.
        return Pair(key, _renamed(pair.value, table, names))
    if field.form is Form.NAMED and isinstance(pair.value, Mapping):
        return Pair(key, _of_ids(pair.value, field.table, names))
    return Pair(key, _renamed(pair.value, field.table, names) if field.table else pair.value)


def _of_ids(node: Mapping, table: str, names: Names) -> Mapping:
    """A mapping whose keys are ids."""
    found = tuple(Pair(pair.key, _renamed(pair.value, table, names)) for pair in node.pairs)
    return Mapping(found, node.source)
