"""Files of earlier versions of the format, read in the keys of the present one."""

from __future__ import annotations

import pytest

from sitegen.core.format.versions import Step, present_names
from sitegen.ingest.yaml.nodes import Mapping
from sitegen.ingest.yaml.older_format import upgraded, upgraded_by_id, version_of
from tests.ingest.builders import tree

STEPS = (
    Step(1, {("crop", "sort"): "type", ("lamp", "watt"): "watts"}),
    Step(2, {("crop", "type"): "kind", ("lamp", "power"): "drawn"}),
    Step(3, {("lamp", "watts"): "power"}),
)


@pytest.mark.parametrize(
    ("text", "version"),
    [
        ("title: A", 0),
        ("format: 0", 0),
        ("format: 12", 12),
        ("fromat: 0", None),
        ("format: one", None),
        ("format: []", None),
    ],
)
def test_version(text: str, version: int | None) -> None:
    """A file without a number is the earliest; one whose number is misspelt or no number is left to the reader."""
    node, _ = tree(f"{text}\n")

    assert isinstance(node, Mapping)
    assert version_of(node) == version


def test_names_over_several_versions() -> None:
    """A key takes its last name; one that was free again can be another key's."""
    assert dict(present_names(0, STEPS)) == {
        ("crop", "sort"): "kind",
        ("crop", "type"): "kind",
        ("lamp", "watt"): "power",
        ("lamp", "power"): "drawn",
        ("lamp", "watts"): "power",
    }
    assert dict(present_names(2, STEPS)) == {("lamp", "watts"): "power"}
    assert present_names(3, STEPS) == {}


def test_nodes_keep_their_places() -> None:
    """Keys have their present names, at the places where the old ones stand; ids and values are as they were."""
    crops, _ = tree("sort: {name: Sort, sort: leafy}\n")
    gear, _ = tree("lamps:\n  watt: {name: Bar, watt: 45 W}\n")
    assert isinstance(crops, Mapping)

    kind = upgraded_by_id(crops, "crop", 0, STEPS).get("sort")
    lamps = upgraded(gear, "gear", 0, STEPS)
    assert isinstance(kind, Mapping)
    assert isinstance(lamps, Mapping)
    lamp = lamps.get("lamps")
    assert isinstance(lamp, Mapping)
    bar = lamp.get("watt")
    assert isinstance(bar, Mapping)

    assert [(key.text, key.source.column) for key, _ in kind.pairs] == [("name", 8), ("kind", 20)]
    assert [(key.text, key.source.line) for key, _ in bar.pairs] == [("name", 2), ("power", 2)]
