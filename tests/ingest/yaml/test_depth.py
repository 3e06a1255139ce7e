"""Lists and mappings nested beyond what a journal needs."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sitegen.ingest.yaml.depth import MAX_DEPTH
from tests.ingest.builders import tree

DEEP = {
    "brackets": "a: " + "[" * 3000 + "]" * 3000,
    "braces": "{a: " * 3000 + "1" + "}" * 3000,
    "items": "- " * 3000 + "x",
    "indents": "\n".join(f"{' ' * n}a:" for n in range(300)),
    "spread": "a: " + "[\nx, " * 200 + "]" * 200,
}


@pytest.mark.parametrize("text", DEEP.values(), ids=DEEP)
def test_error_depth(text: str) -> None:
    """What is nested without end is refused before the parser goes down into it."""
    node, findings = tree(text)

    assert node is None
    assert [finding.split(": ")[1] for finding in findings] == ["nested-too-deep"]


def lists(levels: int) -> str:
    """So many levels: a mapping, and lists in it."""
    return "a: " + "[" * (levels - 1) + "x" + "]" * (levels - 1)


def mappings(levels: int) -> str:
    """So many levels of mappings alone."""
    return "{a: " * levels + "x" + "}" * levels


@pytest.mark.parametrize("sign", ["", "  # with an & in it"])
@pytest.mark.parametrize("nested", [lists, mappings])
def test_depth_that_is_allowed(nested: Callable[[int], str], sign: str) -> None:
    """Lists and mappings nested as deep as is allowed are read, and one level more is not."""
    node, findings = tree(nested(MAX_DEPTH) + sign)
    deeper, more = tree(nested(MAX_DEPTH + 1) + sign)

    assert (node is not None, findings) == (True, [])
    assert (deeper, [finding.split(": ")[1] for finding in more]) == (None, ["nested-too-deep"])


def test_dashes_in_a_text() -> None:
    """A row of dashes inside a text nests nothing."""
    node, findings = tree("note: and so on " + "- " * 40 + "\n")

    assert (node is not None, findings) == (True, [])


def test_brackets_in_a_text() -> None:
    """Brackets of texts that never close are too few to be refused."""
    node, findings = tree("".join(f"n{n}: a [ b\n" for n in range(MAX_DEPTH * 2)))

    assert (node is not None, findings) == (True, [])
