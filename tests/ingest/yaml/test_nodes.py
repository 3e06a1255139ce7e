"""What a file is made of: texts with their places, and what counts as absent."""

from __future__ import annotations

import pytest

from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.nodes import Mapping, Scalar
from tests.ingest.builders import tree


def test_a_part_of_a_text() -> None:
    """The place of a part is known for a text on one line, with quotes or without, and else is the whole."""
    plain = Scalar("about 9 cm", Source("f.yaml", 1, 9, 10))
    quoted = Scalar("about 9 cm", Source("f.yaml", 1, 9, 12), plain=False)
    folded = Scalar("about 9 cm", Source("f.yaml", 1, 9, 5))

    assert [s.part(6, 1) for s in (plain, quoted, folded)] == [
        Source("f.yaml", 1, 15, 1),
        Source("f.yaml", 1, 16, 1),
        Source("f.yaml", 1, 9, 5),
    ]


@pytest.mark.parametrize("written", ["", "~", "null"])
def test_absent(written: str) -> None:
    """An empty value is not there; in quotes it is a text."""
    node, _ = tree(f"a: {written}\nb: '{written}'\n")

    assert isinstance(node, Mapping)
    assert node.get("a") is None
    assert isinstance(node.get("b"), Scalar)


def test_a_place_is_a_source_when_asked() -> None:
    """A place as the parser leaves it says the same as a source."""
    assert Scalar("9 cm", ("f.yaml", 2, 9, 4)).source == Source("f.yaml", 2, 9, 4)
