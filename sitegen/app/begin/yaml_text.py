"""YAML text of nodes: every scalar as it was written, quoted where it was, or where it has to be.

In: a key and a `Node`. Out: lines of a file. Comments are not nodes and are lost.
"""

from __future__ import annotations

from io import StringIO
from typing import Any

import yaml
from yaml.emitter import Emitter
from yaml.resolver import BaseResolver
from yaml.serializer import Serializer

from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar

_SCALAR = BaseResolver.DEFAULT_SCALAR_TAG
_LIST = BaseResolver.DEFAULT_SEQUENCE_TAG
_MAPPING = BaseResolver.DEFAULT_MAPPING_TAG
_NO_FOLD = 1_000_000  # a mapping in braces stays on one line, as authors write it


class _Dumper(Emitter, Serializer, BaseResolver):
    """Writes nodes without a thought for types: `14 h`, `06:00` and `6` are all texts."""

    def __init__(self, stream: StringIO) -> None:
        Emitter.__init__(self, stream, width=_NO_FOLD, allow_unicode=True)
        Serializer.__init__(self)
        BaseResolver.__init__(self)

    def analyze_scalar(self, scalar: str) -> Any:
        """A colon inside a word, as in `06:00`, needs no quotes in braces."""
        analysis = super().analyze_scalar(scalar)
        if ":" in scalar and not analysis.allow_flow_plain and analysis.allow_block_plain:
            analysis.allow_flow_plain = super().analyze_scalar(scalar.replace(":", "")).allow_flow_plain
        return analysis


def text_node(text: str) -> Scalar:
    """A text that has no place in a file yet."""
    return Scalar(text, Source(""))


def list_node(texts: tuple[str, ...]) -> Items:
    """A list of texts."""
    return Items(tuple(map(text_node, texts)), Source(""))


def mapping_node(values: dict[str, Node]) -> Mapping:
    """A mapping."""
    return Mapping(tuple(Pair(text_node(key), value) for key, value in values.items()), Source(""))


def yaml_text(key: str, node: Node) -> str:
    """`key: value` with its line end: a mapping that holds mappings or lists over several lines, others in braces."""
    pair = (yaml.ScalarNode(_SCALAR, key), _raw(node, in_braces=False))
    return _dumped(yaml.MappingNode(_MAPPING, [pair], flow_style=False))


def flow_text(node: Node) -> str:
    """A node on one line, for a comment."""
    return _dumped(_raw(node, in_braces=True)).removesuffix("...\n").strip()


def _dumped(raw: yaml.Node) -> str:
    stream = StringIO()
    dumper = _Dumper(stream)
    dumper.open()
    dumper.serialize(raw)
    dumper.close()
    return stream.getvalue()


def _raw(node: Node, *, in_braces: bool) -> yaml.Node:
    """The node of the library; all of it on one line where it stands in braces."""
    if isinstance(node, Scalar):
        style = None if node.plain else "'"
        if "\n" in node.text:
            style = '"' if in_braces else "|"
        return yaml.ScalarNode(_SCALAR, node.text, style=style)
    if isinstance(node, Items):
        return yaml.SequenceNode(_LIST, [_raw(item, in_braces=True) for item in node.items], flow_style=True)
    flow = in_braces or all(isinstance(pair.value, Scalar) for pair in node.pairs)
    pairs = [(_raw(key, in_braces=flow), _raw(value, in_braces=flow)) for key, value in node.pairs]
    return yaml.MappingNode(_MAPPING, pairs, flow_style=flow)
