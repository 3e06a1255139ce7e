"""Nodes as YAML text: what is read again is what was written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.app.begin.yaml_text import flow_text, list_node, mapping_node, text_node, yaml_text
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.yaml.parser import parse

KEYS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9-]{0,8}", fullmatch=True)
# Texts as YAML can hold them: printable, and no line ends but newlines.
TEXTS = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"], include_characters="\n"), max_size=30)
SCALARS = st.builds(Scalar, TEXTS, st.just(Source("")), st.just(False))
NODES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: Items(tuple(items), Source(""))),
        st.dictionaries(KEYS, inner, max_size=3).map(mapping_node),
    ),
    max_leaves=8,
)


def plain(node: Node | None) -> object:
    """A node as texts, lists and mappings without places."""
    if isinstance(node, Mapping):
        return {key.text: plain(value) for key, value in node}
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    return None if node is None else node.text


def read(text: str) -> Mapping:
    """The text parsed as a journal's files are, without a finding."""
    findings = Findings()
    node = parse(text, "test.yaml", findings)
    assert not list(findings)
    assert isinstance(node, Mapping)
    return node


@given(KEYS, NODES)
def test_what_is_written_is_read_again(key: str, node: Node) -> None:
    """Any value is the same after it was written and read."""
    assert plain(read(yaml_text(key, node))) == {key: plain(node)}


@given(NODES)
def test_one_line_is_read_again(node: Node) -> None:
    """On one line it is the same, too."""
    text = flow_text(node)
    assert "\n" not in text
    assert plain(read(f"key: {text}\n")) == {"key": plain(node)}


@pytest.mark.parametrize(
    "line",
    [
        "light: {lamp: bar-60, hours: 14 h, distance: 10 in, on: 06:00}",
        "seed: {source: a neighbour's envelope, packed: '2024'}",
        "plants: 6",
        "was: [first, second]",
        "start: 2025-02-01",
        "title: 'no'",
        "seed: {source: ½ a packet – old}",
        "log: []",
    ],
)
def test_a_line_stays_as_it_was(line: str) -> None:
    """Units, times, quotes and numbers stand as the author wrote them."""
    (pair,) = read(line)
    assert yaml_text(pair.key.text, pair.value) == f"{line}\n"
    assert flow_text(pair.value) == line.partition(": ")[2]


def test_quotes_where_braces_need_them() -> None:
    """A text that stood bare in its line gets quotes when braces would cut it."""
    (pair,) = read("seed:\n  source: a swap, or a friend\n  packed: 2024\n")
    assert yaml_text("seed", pair.value) == "seed: {source: 'a swap, or a friend', packed: 2024}\n"


def test_nested_mappings_have_lines_of_their_own() -> None:
    """A mapping that holds others is written over several lines, those inside in braces."""
    tubs = {
        tub: mapping_node({"system": text_node("tray"), "plants": list_node(("P1",))}) for tub in ("a", "b")
    }
    assert yaml_text("tubs", mapping_node(dict(tubs))) == (
        "tubs:\n  a:\n    system: tray\n    plants: [P1]\n  b:\n    system: tray\n    plants: [P1]\n"
    )


def test_an_absent_value_stays_absent() -> None:
    """A tilde without quotes is no value, one in quotes is a text."""
    node = read("a: {b: ~, c: '~'}")
    again = read(yaml_text("a", next(iter(node)).value))
    inner = next(iter(again)).value
    assert isinstance(inner, Mapping)
    assert inner.get("b") is None
    assert inner.get("c") == Scalar("~", Source("test.yaml", 1, 14, 3), plain=False)
