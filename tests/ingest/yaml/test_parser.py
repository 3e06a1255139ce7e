"""YAML as it is read: places, what is refused, and every scalar as the text that was written."""

from __future__ import annotations

import pytest

from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.nodes import Items, Mapping, Node
from tests.ingest.builders import tree


def _plain(node: Node | None) -> object:
    """A tree as plain Python."""
    if isinstance(node, Mapping):
        return {pair.key.text: _plain(pair.value) for pair in node}
    if isinstance(node, Items):
        return [_plain(item) for item in node.items]
    return None if node is None else node.text


def _source(text: str, key: str) -> Source:
    node, findings = tree(text)
    assert findings == []
    assert isinstance(node, Mapping)
    value = node.get(key)
    assert value is not None
    return value.source


@pytest.mark.parametrize(
    "written",
    [
        "on",
        "off",
        "no",
        "yes",
        "y",
        "true",
        "12:30",
        "010",
        "0x1f",
        "1e3",
        "1_000",
        ".5",
        "2025-10-19",
        "=",
        "<<",
    ],
)
def test_scalars_stay_text(written: str) -> None:
    """What YAML 1.1 would turn into a number, a date or a truth value stays what was written."""
    assert _plain(tree(f"key: {written}\n")[0]) == {"key": written}


@pytest.mark.parametrize(
    ("text", "key", "place"),
    [
        ("height: 9 cm\n", "height", Source("f.yaml", 1, 9, 4)),
        ("a: 1\nheight:   9 cm   # tall\n", "height", Source("f.yaml", 2, 11, 4)),
        ("height: '9 cm'\n", "height", Source("f.yaml", 1, 9, 6)),
        ("was: [a, b]\n", "was", Source("f.yaml", 1, 6, 6)),
        ("note: |\n  one\n  two\n", "note", Source("f.yaml", 1, 7, 1)),
        ("note: one\n  two\n", "note", Source("f.yaml", 1, 7, 3)),
        ("grün: 9 cm\nnäher: 8 cm\n", "näher", Source("f.yaml", 2, 8, 4)),
        ("a: 😀\nb: 😀 9 cm\n", "b", Source("f.yaml", 2, 4, 6)),
    ],
)
def test_places(text: str, key: str, place: Source) -> None:
    """A place counts lines and characters from 1; a span over several lines ends with its first."""
    assert _source(text, key) == place


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("", "1:1: empty-file: `f.yaml` is empty (write its keys, or remove it)"),
        ("# nothing\n", "1:1: empty-file: `f.yaml` is empty (write its keys, or remove it)"),
        (
            "a: 1\nb: 2\na: 3\n",
            (
                "3:1: duplicate-key: `a` stands twice here; the first is in line 1 "
                "(keep one `a`, or begin a second entry)"
            ),
        ),
        (
            "a: &x {b: 1}\n",
            (
                "1:4: yaml-anchor: `&x` is read as an anchor; a journal does not use anchors and aliases "
                "(write the value itself where it is needed)"
            ),
        ),
        (
            "a: 1\nb: !!python/name:os.system x\n",
            (
                "2:4: yaml-tag: `!!python/name:os.system` is read as a tag; a journal does not use tags "
                "(write `b: '!!python/name:os.system x'`)"
            ),
        ),
        ("a: !x [1]\n", "1:4: yaml-tag: `!x` is read as a tag; a journal does not use tags (remove `!x`)"),
        (
            "a: 1\n---\nb: 2\n",
            (
                "2:1: yaml-documents: a second document begins here; a file of a journal is one document "
                "(keep one document, and remove the `---`)"
            ),
        ),
        (
            "a:\n\tb: 1\n",
            "2:1: yaml-syntax: a tab indents this line; YAML takes only spaces (indent with spaces)",
        ),
        (
            "a: 1\x85b: 2\u2028c: \x00\n",
            "3:4: yaml-syntax: a character that cannot be seen (U+0000) stands here (remove it)",
        ),
        (
            "a: 1\x00\n",
            "1:5: yaml-syntax: a character that cannot be seen (U+0000) stands here (remove it)",
        ),
        (
            "a: [1, 2\nb: 3\n",
            "1:4: yaml-syntax: the bracket that opens here is not closed (write `[1, 2]`)",
        ),
        (
            "a: 'it\n",
            "1:4: yaml-syntax: the quotes that open here are not closed (write `'it'`)",
        ),
        (
            "? [a, b]\n: 1\n",
            (
                "1:3: wrong-type: a key must be a word, not a list or mapping "
                "(write the key as a word; quote text in braces)"
            ),
        ),
        (
            "a: 1\n  b: 2\n",
            (
                "2:3: yaml-syntax: `b` does not line up with `a` "
                "(write no spaces before `b`, so that it stands under `a`)"
            ),
        ),
        (
            "a: 1\nb\nc: 2\n",
            "2:1: yaml-syntax: this line is no `key: value` (write it as `key: value`, or remove it)",
        ),
    ],
)
def test_error(text: str, finding: str) -> None:
    """What a journal does not use is refused at its place, in plain words."""
    assert tree(text)[1] == [finding]


def test_error_many_laughs() -> None:
    """Aliases that would grow without end are refused at the first anchor, before anything grows."""
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]" for a, b in zip("abcdefgh", "bcdefghi", strict=True)]

    assert tree("\n".join(lines)) == (
        None,
        [
            (
                "1:4: yaml-anchor: `&a` is read as an anchor; a journal does not use anchors and aliases "
                "(write the value itself where it is needed)"
            ),
        ],
    )


def test_half_a_key_is_no_key() -> None:
    """A key in braces without its colon is a list's item or a cut text, and is never taken for a key."""
    assert tree("lost: {P1, P2}\n")[1] == [
        (
            "1:8: yaml-twist: `P1` stands in braces without a value "
            "(write a list, `[P1, P2]`, or a value after `P1: `)"
        )
    ]
    assert tree("- {day: 3, water: }\n")[1] == []
