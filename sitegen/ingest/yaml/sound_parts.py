"""The parts of a text that is not YAML: its top-level keys, and the items of their lists, each to be parsed alone.

In: the text, the finding about it, and a reader of a part. Out: a mapping of what could be read, which names the keys
of what could not, and the findings about the parts. A part ends where the next begins, so that an error stays inside.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.keys import lines_of
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair

_KEY = re.compile(r"(?P<key>[^\s#'\"\[\]{},|>%@`&*!?:-][^\s:]*(?: [^\s:#]+)*)\s*:(?:\s|$)")
_ITEM = re.compile(r"(?P<indent> *)-(?:\s|$)")


MAX_LINES = 5_000  # of a text read in parts: each part is parsed behind as many lines as stand above it


class Part(NamedTuple):
    """Lines of a text: of a key, or of one item of the list under it."""

    key: str
    line: int  # counted from 0
    lines: tuple[str, ...]
    item: bool = False

    @property
    def end(self) -> int:
        """The line after its last."""
        return self.line + len(self.lines)

    @property
    def text(self) -> str:
        """The part with its lines where they stand in the file."""
        return "\n" * self.line + "\n".join(self.lines) + "\n"


def parts_of_text(lines: Sequence[str]) -> Iterator[Part]:
    """The parts of a text; what stands before the first key belongs to none."""
    starts = [number for number, line in enumerate(lines) if _KEY.match(line)]
    for start, end in pairwise([*starts, len(lines)]):
        match = _KEY.match(lines[start])
        if match is not None:
            yield from _parts_of_key(match["key"], start, tuple(lines[start:end]), match.end())


def _parts_of_key(key: str, start: int, lines: tuple[str, ...], value: int) -> Iterator[Part]:
    """The items of a list that begins below its key; else the key as a whole."""
    inside = lines[0][value:].strip()
    first = next((number for number, line in enumerate(lines) if number and line.strip()), None)
    item = _ITEM.match(lines[first]) if first is not None and (not inside or inside.startswith("#")) else None
    if item is None or first is None:
        yield Part(key, start, lines)
        return
    below = [number for number, line in enumerate(lines) if number and _begins_item(line, item["indent"])]
    yield Part(key, start, lines[:1])
    for begin, end in pairwise([*below, len(lines)]):
        yield Part(key, start + begin, lines[begin:end], item=True)


def _begins_item(line: str, indent: str) -> bool:
    match = _ITEM.match(line)
    return match is not None and match["indent"] == indent


Reader = Callable[[str], tuple[Node | None, Findings]]


def rest_of(text: str, error: Finding, read: Reader) -> tuple[Mapping | None, tuple[Finding, ...]]:
    """What can be read of a text that is not YAML, and findings about the rest of it.

    `error` is the finding about the whole; where a part cannot be read because of it, it is said once.
    """
    if text.count("\n") > MAX_LINES:
        return None, ()
    found: list[Finding] = []
    pairs: dict[str, Pair] = {}
    items: dict[str, list[Node]] = {}
    broken: list[str] = []
    for part in parts_of_text(lines_of(text)):
        node, about = read(part.text)
        same = part.line < error.source.line <= part.end
        found += [each for each in about if not (node is None and same) and each.code != "empty-file"]
        if part.item and isinstance(node, Items):
            items.setdefault(part.key, []).extend(node.items)
        elif isinstance(node, Mapping):
            pairs |= {pair.key.text: pair for pair in node if pair.key.text not in pairs}
        else:
            broken.append(part.key)
    for key, nodes in items.items():
        if key in pairs:
            pairs[key] = Pair(pairs[key].key, Items(tuple(nodes), nodes[0].source))
    if not pairs:
        return None, tuple(found)
    whole = Source(error.source.file)
    broken = broken or [""]  # what is wrong lies between the parts
    return Mapping(tuple(pairs.values()), whole, tuple(dict.fromkeys(broken))), tuple(found)
