"""YAML as a tree of plain nodes with their places: every scalar stays the text that was written.

In: the text of a file. Out: `Node` (`Scalar`, `Items` or `Mapping`), or None and findings. Nothing is constructed
from tags, aliases are refused, size and depth are bounded, and no scalar is turned into a number, a date or
a truth value here: the typed reader does that, knowing what each key wants.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

import yaml

from sitegen.core.finding import Findings, Source
from sitegen.ingest.twists import TEXT_KEYS, lines_of, quoted_mend, report_comma, report_cut, report_syntax

__all__ = ["Items", "Mapping", "Node", "Pair", "Scalar", "parse"]

MAX_DEPTH = 24
_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
# What could nest deeply is seen before the parser, which recurses, gets the text.
_DEEP_FLOW = re.compile(rf"(?:[\[{{]\s*){{{MAX_DEPTH}}}")
_DEEP_ITEMS = re.compile(rf"^[ ]*(?:[-?] +){{{MAX_DEPTH}}}", re.MULTILINE)
_DEEP_INDENT = re.compile(r"^[ ]{200}", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text; `plain` where it was written without quotes."""

    text: str
    source: Source
    plain: bool = True

    @property
    def absent(self) -> bool:
        """Whether nothing stands there: an empty value or a bare tilde."""
        return self.plain and self.text in ("", "~", "null")

    def part(self, offset: int, width: int) -> Source:
        """The span of a piece of the text, as far as it can be known."""
        if self.source.width != len(self.text) + (0 if self.plain else 2):
            return self.source
        return self.source.part(offset + (0 if self.plain else 1), width)


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    items: tuple[Node, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Pair:
    """A key and what stands under it."""

    key: Scalar
    value: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with values, in file order; keys are unique."""

    pairs: tuple[Pair, ...]
    source: Source

    def __iter__(self) -> Iterator[Pair]:
        return iter(self.pairs)

    def get(self, key: str) -> Node | None:
        """What stands under a key; None also where its value is left empty."""
        for pair in self.pairs:
            if pair.key.text == key:
                value = pair.value
                return None if isinstance(value, Scalar) and value.absent else value
        return None


Node = Scalar | Items | Mapping


class _RefusedError(Exception):
    """Unwinds the walk where going on makes no sense."""


def parse(text: str, file: str, findings: Findings) -> Node | None:
    """The tree of one YAML document, or None where it cannot be had."""
    if _too_deep(text, file, findings):
        return None
    loader = _LOADER(text)
    try:
        root = loader.get_single_node()
    except (yaml.MarkedYAMLError, yaml.reader.ReaderError) as error:
        report_syntax(error, text, file, findings)
        return None
    except RecursionError:  # pragma: no cover - the check above comes first
        _say_too_deep(Source(file), findings)
        return None
    finally:
        loader.dispose()
    if root is None:
        findings.add("empty-file", Source(file), f"`{file}` is empty", mend="write its keys, or remove it")
        return None
    try:
        return _Walk(lines_of(text), file, findings).node(root, 0)
    except _RefusedError:
        return None


def _too_deep(text: str, file: str, findings: Findings) -> bool:
    for pattern in (_DEEP_FLOW, _DEEP_ITEMS, _DEEP_INDENT):
        match = pattern.search(text)
        if match:
            line = text.count("\n", 0, match.start()) + 1
            _say_too_deep(Source(file, line), findings)
            return True
    depth = 0
    for match in re.finditer(r"[\[{\]}]", text):
        depth = max(0, depth + (1 if match.group() in "[{" else -1))
        if depth > MAX_DEPTH * 4:
            _say_too_deep(Source(file, text.count("\n", 0, match.start()) + 1), findings)
            return True
    return False


def _say_too_deep(source: Source, findings: Findings) -> None:
    findings.add(
        "nested-too-deep",
        source,
        "lists and mappings are nested too deeply here",
        mend="check the brackets and the indentation",
        expected=f"at most {MAX_DEPTH} levels",
    )


def _cut_off(pair: tuple[yaml.Node, yaml.Node]) -> bool:
    """Whether a key has no colon after it: its empty value stands where the key ends."""
    key, value = pair
    empty = isinstance(key, yaml.ScalarNode) and isinstance(value, yaml.ScalarNode) and not value.value
    end, start = key.end_mark, value.start_mark
    return empty and (end.line, end.column) == (start.line, start.column)


class _Walk:
    """Turns the parser's nodes into ours, refusing what a journal does not use."""

    def __init__(self, lines: list[str], file: str, findings: Findings) -> None:
        self.lines = lines
        self.file = file
        self.findings = findings
        self.seen: set[int] = set()

    def node(self, raw: yaml.Node, depth: int) -> Node:
        source = self._source(raw)
        if depth > MAX_DEPTH:
            _say_too_deep(source, self.findings)
            raise _RefusedError
        self._refuse_properties(raw, source)
        if isinstance(raw, yaml.ScalarNode):
            return Scalar(raw.value, source, plain=raw.style is None or raw.style == "")
        if isinstance(raw, yaml.SequenceNode):
            return Items(tuple(self.node(item, depth + 1) for item in raw.value), source)
        assert isinstance(raw, yaml.MappingNode)
        if raw.value and all(_cut_off(pair) for pair in raw.value):
            self._report_commas(raw)
            keys = [self.node(key, depth + 1) for key, _ in raw.value]
            return Items(tuple(keys), source)  # as it was meant: one finding is enough
        return Mapping(tuple(self._pairs(raw, depth)), source)

    def _pairs(self, raw: yaml.MappingNode, depth: int) -> Iterator[Pair]:
        seen: dict[str, Source] = {}
        self._report_commas(raw)
        for raw_key, raw_value in (pair for pair in raw.value if not _cut_off(pair)):
            key = self.node(raw_key, depth + 1)
            if not isinstance(key, Scalar):
                self.findings.add(
                    "wrong-type",
                    key.source,
                    "a key must be a word, not a list or mapping",
                    mend="write the key as a word; quote text in braces",
                )
                continue
            value = self.node(raw_value, depth + 1)
            if key.text in seen:
                self.findings.add(
                    "duplicate-key",
                    key.source,
                    f"`{key.text}` stands twice here; the first is in line {seen[key.text].line}",
                    mend=f"keep one `{key.text}`, or begin a second entry",
                    found=key.text,
                )
                continue
            seen[key.text] = key.source
            if key.text in TEXT_KEYS and isinstance(value, Scalar) and value.plain:
                value = self._uncut(key.text, value, raw_value.end_mark)
            yield Pair(key, value)

    def _report_commas(self, raw: yaml.MappingNode) -> None:
        """Keys in braces without a colon: a comma cut a text, or a list was meant."""
        before: tuple[yaml.Node, yaml.Node] | None = None
        for place, pair in enumerate(raw.value):
            if _cut_off(pair) and not (before and _cut_off(before)):
                pieces = [key.value for key, _ in takewhile(_cut_off, raw.value[place:])]
                key, value = before or (None, None)
                report_comma(
                    self._source(pair[0]),
                    pieces,
                    key.value if isinstance(key, yaml.ScalarNode) else "",
                    value.value if isinstance(value, yaml.ScalarNode) else None,
                    self.findings,
                )
            before = pair

    def _uncut(self, key: str, value: Scalar, end: yaml.Mark) -> Scalar:
        """A text with what a comment would have cut off, which is reported: it was meant as text."""
        after = self._line(end.line)[end.column :]
        place = Source(self.file, end.line + 1, end.column + 1)
        return Scalar(report_cut(key, value.text, after, place, self.findings), value.source)

    def _line(self, number: int) -> str:
        """A line; empty where the parser's marks go beyond the last."""
        return self.lines[number] if number < len(self.lines) else ""

    def _source(self, raw: yaml.Node) -> Source:
        start, end = raw.start_mark, raw.end_mark
        if start.line == end.line:
            width = end.column - start.column
        else:
            width = len(self._line(start.line).rstrip()) - start.column
        return Source(self.file, start.line + 1, start.column + 1, max(1, width))

    def _refuse_properties(self, raw: yaml.Node, source: Source) -> None:
        """Anchors, aliases and tags: seen by their sign, or by a node that comes twice."""
        sign = self._line(raw.start_mark.line)[raw.start_mark.column : raw.start_mark.column + 1]
        if sign == "&" or id(raw) in self.seen:
            word = self._word_at(raw)
            self.findings.add(
                "yaml-anchor",
                source.part(0, len(word)),
                f"`{word}` is read as an anchor; a journal does not use anchors and aliases",
                mend=self._unsigned(raw) or "write the value itself where it is needed",
                found=word,
            )
            raise _RefusedError
        if sign == "!":
            word = self._word_at(raw)
            self.findings.add(
                "yaml-tag",
                source.part(0, len(word)),
                f"`{word}` is read as a tag; a journal does not use tags",
                mend=self._unsigned(raw) or f"remove `{word}`",
                found=word,
            )
            raise _RefusedError
        self.seen.add(id(raw))

    def _unsigned(self, raw: yaml.Node) -> str:
        """The mend that keeps a sign as text, where it begins one."""
        line = self._line(raw.start_mark.line)
        return quoted_mend(line, raw.start_mark.column) if isinstance(raw, yaml.ScalarNode) else ""

    def _word_at(self, raw: yaml.Node) -> str:
        rest = self._line(raw.start_mark.line)[raw.start_mark.column :]
        return rest.split(maxsplit=1)[0] if rest.strip() else rest
