"""Lines that moved, and lines whose colon or space is another sign."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.filing.mending import edited
from sitegen.ingest.yaml.parser import parse
from tests.ingest.builders import tree

MOVED = [
    ("log:\n  - day: 1\n    sow: 2\n     note: x\n", "log:\n  - day: 1\n    sow: 2\n    note: x\n"),
    ("log:\n  - day: 1\n    sow: 2\n\ttell: never\n", "log:\n  - day: 1\n    sow: 2\n    tell: never\n"),
    (
        "log:\n  - day: 1\n   - day: 2\n     sow: 3\n     note: x\n  - day: 3\n",
        "log:\n  - day: 1\n  - day: 2\n    sow: 3\n    note: x\n  - day: 3\n",
    ),
    (
        "log:\n  - day: 1\n - day: 2\n    sow: 3\n  - day: 3\n",
        "log:\n  - day: 1\n  - day: 2\n    sow: 3\n  - day: 3\n",
    ),
    ("a:\n  b:\n    c: 1\n   d: 2\n    e: 3\n", "a:\n  b:\n    c: 1\n    d: 2\n    e: 3\n"),
    ("disclosure: none\nlog\n  - day: 3\n", "disclosure: none\nlog:\n  - day: 3\n"),
    ("- day: 3\n  water:\u00a02 L\n  note: x\n", "- day: 3\n  water: 2 L\n  note: x\n"),
    ("sow: 2 a spot, water: {a: 1 L}\n", "sow: 2 a spot\nwater: {a: 1 L}\n"),
    ("- day: 3\n  sow: 2 a spot note: all in\n", "- day: 3\n  sow: 2 a spot\n  note: all in\n"),
]


@pytest.mark.parametrize(("text", "after"), MOVED, ids=[before for before, _ in MOVED])
def test_a_line_is_put_where_it_belongs(text: str, after: str) -> None:
    """The edits of the first finding give the lines that were meant, those that moved along included."""
    findings = Findings()
    parse(text, "f.yaml", findings)
    first = findings.items[0]

    assert (edited(text.encode(), first.edits).decode(), first.safe) == (after, True)
    assert tree(after)[1] == []


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        (
            "a:\n  b:\n    c: 1\n   d: 2\n",
            (
                "4:4: yaml-syntax: `d` does not line up with `c` (write 4 spaces before `d`, "
                "so that it stands under `c`, or 2, so that it stands under `b`)"
            ),
        ),
        (
            "a:\n\tb: 1\n",
            "2:1: yaml-syntax: a tab indents this line; YAML takes only spaces (indent with spaces)",
        ),
    ],
)
def test_two_places(text: str, finding: str) -> None:
    """A line that could belong to two keys is left to the author."""
    findings = Findings()
    parse(text, "f.yaml", findings)

    assert tree(text)[1] == [finding]
    assert findings.items[0].edits == ()
