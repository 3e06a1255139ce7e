"""What is left of a file after a syntax error: its other parts are read, and nothing is said that only the gap causes."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Findings
from sitegen.ingest.yaml.nodes import Items, Mapping, Node
from sitegen.ingest.yaml.parser import parse
from tests.ingest.builders import HEAD, read, said

BROKEN = "  - {day: 9, harvest: [20 g, note: first cut}\n"
UNCLOSED = "the bracket that opens here is not closed (write `]` in place of `}`, or before it)"

UNKNOWN = "`P7` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`)"


def _plain(node: Node | None) -> object:
    """A tree as plain Python."""
    if isinstance(node, Mapping):
        return {pair.key.text: _plain(pair.value) for pair in node}
    if isinstance(node, Items):
        return [_plain(item) for item in node.items]
    return None if node is None else node.text


def _partly(text: str) -> tuple[object, tuple[str, ...], list[str]]:
    findings = Findings()
    node = parse(text, "f.yaml", findings, partly=True)
    return _plain(node), node.broken if isinstance(node, Mapping) else (), said(findings)


def test_items_before_and_after() -> None:
    """The items of a list before and after the broken one are read, each in its own line."""
    text = "title: x\nlog:\n  - day: 1\n    note: one\n  - {day: 2\n  - day: 3\n    note: three\nlast: y\n"

    assert _partly(text) == (
        {"title": "x", "log": [{"day": "1", "note": "one"}, {"day": "3", "note": "three"}], "last": "y"},
        ("log",),
        ["5:5: yaml-syntax: the bracket that opens here is not closed (write `{day: 2}`)"],
    )


def test_each_error_once() -> None:
    """Several errors of syntax are several findings, each at its place."""
    text = "title: [x\nlog:\n  - day: 1\n    note: a: b\n  - day: 2\n    note: *x\n"

    assert _partly(text) == (
        {"log": ""},
        ("title", "log"),
        [
            "1:8: yaml-twist: in `title`, `[` at the beginning of a text is a sign of YAML (write `title: '[x'`)",
            "4:12: yaml-twist: in `note`, `: ` begins a mapping (write `note: 'a: b'`)",
            "6:11: yaml-twist: in `note`, `*` at the beginning of a text is a sign of YAML (write `note: '*x'`)",
        ],
    )


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        # findings in entries on both sides
        (
            "  - {day: 3, height: 9 stone}\n",
            "  - {day: 12, lost: P7}\n",
            [
                f"9:23: yaml-syntax: {UNCLOSED}",
                "8:24: unknown-unit: `stone` is not a known unit (write `cm`, `mm`, `m`, `in` or `ft`)",
                f"10:21: unknown-plant: {UNKNOWN}",
            ],
        ),
        # sound ones: a harvest without its sowing, and no end, are not said
        ("", "  - {day: 12, harvest: 8 g}\n", [f"8:23: yaml-syntax: {UNCLOSED}"]),
    ],
    ids=["both sides", "nothing else"],
)
def test_an_entry_of_the_log(before: str, after: str, expected: list[str], tmp_path: Path) -> None:
    """Entries around a broken one are read for their findings, and no run comes of it."""
    assert read(tmp_path, f"{before}{BROKEN}{after}") == (None, expected)


@pytest.mark.parametrize(
    ("head", "finding"),
    [
        (
            HEAD.replace("plants: 4", "plants: [P1, P2"),
            "6:9: yaml-syntax: the bracket that opens here is not closed (write `[P1, P2]`)",
        ),
        (
            f"{HEAD}groups: {{front: [P1}}\n",
            "7:17: yaml-syntax: the bracket that opens here is not closed (write `[P1]}`)",
        ),
        (
            HEAD.replace("crop: sorrel", "crop: *sorrel"),
            "3:7: yaml-twist: in `crop`, `*` at the beginning of a text is a sign of YAML (write `crop: '*sorrel'`)",
        ),
        (
            HEAD.replace("system: crate", "system: [crate"),
            "4:9: yaml-syntax: the bracket that opens here is not closed (write `[crate]`)",
        ),
    ],
)
def test_a_key_of_the_set_up(head: str, finding: str, tmp_path: Path) -> None:
    """Where plants, groups, crop or system cannot be read, what depends on them is not said to be missing or unknown."""
    assert read(tmp_path, "  - {day: 3, lost: front}\n", head) == (None, [finding])


def test_a_key_that_nothing_depends_on(tmp_path: Path) -> None:
    """Where the question alone is broken, the log is read."""
    run, findings = read(tmp_path, "  - {day: 3, lost: P7}\n", f"{HEAD}question: what: now\n")

    assert run is None
    assert [line.split(": ")[1] for line in findings] == ["yaml-twist", "unknown-plant"]


@given(st.text(alphabet="a:-{}[]'\" \n#|*&", max_size=60))
def test_any_text(text: str) -> None:
    """Whatever is written, there are nodes or findings, and every finding lies in the file."""
    findings = Findings()
    node = parse(f"log:\n  - {text}\nend: x\n", "f.yaml", findings, partly=True)

    lines = text.count("\n") + 4
    assert node is not None or len(findings) > 0
    assert all(1 <= finding.source.line <= lines for finding in findings)
