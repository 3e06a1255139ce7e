"""YAML parsed into plain nodes with their places: every scalar stays the text that was written.

In: the text of a file. Out: a `Node`, or None and findings. Tags, anchors and aliases are refused, and depth is
bounded. No scalar becomes a number, a date or a truth value here: `typed_fields` converts them by the type of each
key.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import takewhile
from typing import Any, TypeVar

import yaml
from yaml import ScalarNode, SequenceNode

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Edit, Mend
from sitegen.core.findings.source import Source
from sitegen.core.language.hidden_characters import hidden_at
from sitegen.ingest.text_files import (
    MAX_LINE,
    has_hidden,
    report_hidden,
    report_too_long,
    without_long_lines,
)
from sitegen.ingest.values.normalize import OPENING_QUOTES, without_quotes
from sitegen.ingest.yaml.depth import MAX_DEPTH, deep_at, report_too_deep
from sitegen.ingest.yaml.keys import ONE_MAPPING, ONLY_TEXT, TEXT_KEYS, lines_of
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Pair, Scalar

# Tags are not resolved: a built-in method in place of the resolver's saves a call into Python for each node.
_no_tag: Any = "".format
_new: Any = tuple.__new__  # makes a named tuple without a call into Python


class _Loader(getattr(yaml, "CBaseLoader", yaml.BaseLoader)):  # type: ignore[misc]
    resolve = _no_tag
    descend_resolver = _no_tag
    ascend_resolver = _no_tag


MAX_VALUE = 1_000  # characters of a key, or of a value that is no sentence
MAX_TEXT = 20_000  # characters of a text
MAX_ITEMS = 10_000  # of a list: a log that is written every hour of a year has 9,000
MAX_KEYS = 2_000  # of a mapping: an entry has a dozen, and no experiment more plants
MOST_OF_MANY = 1_000  # items of a list that are looked at where there are more than may be


class _RefusedError(Exception):
    """Ends the conversion of a document that holds a refused node."""


def parse(text: str, file: str, findings: Findings, *, partly: bool = False) -> Node | None:
    """The nodes of one YAML document; None where it has none or is refused.

    Of a text that is not YAML, the parts that are YAML by themselves are read as well, for their findings. With `partly`
    they are returned: a mapping that names the keys which are `broken`. So is a text without the lines, values and items
    that are more than what is read.
    """
    whole = without_long_lines(text, Source(file), findings) if partly else text
    if whole is not text:
        return _with_gaps(text, whole, file, findings)
    if has_hidden(text, file, findings, controls=False):  # the parser tells of controls
        return None
    place = deep_at(text)
    if place is not None:
        report_too_deep(Source(file, text.count("\n", 0, place) + 1), findings)
        return None
    try:
        return _document(text, file, findings, partly=partly)
    except (yaml.MarkedYAMLError, yaml.reader.ReaderError) as error:
        # Whatever looks for mistakes is imported where there is one: most files have none.
        from sitegen.ingest.yaml.sound_parts import rest_of  # noqa: PLC0415 - see above
        from sitegen.ingest.yaml.syntax_errors import report_syntax  # noqa: PLC0415 - see above

        report_syntax(error, text, file, findings)
        rest, more = rest_of(text, findings.items[-1], lambda part: _of_part(part, file))
        findings.extend(more)
        return rest if partly else None
    except RecursionError:  # pragma: no cover - the check above comes first
        report_too_deep(Source(file), findings)
        return None


def _with_gaps(text: str, shorter: str, file: str, findings: Findings) -> Node | None:
    """What is left of a text of which some lines are not read: the other keys, and the other items of its lists."""
    from sitegen.ingest.yaml.sound_parts import parts_of_text  # noqa: PLC0415 - almost no text has one

    lines, kept = text.split("\n"), shorter.split("\n")
    gaps = [number for number, line in enumerate(lines) if line != kept[number]]
    broken = list[str]()
    for part in parts_of_text([line[:MAX_LINE] for line in lines]):
        if any(part.line <= number < part.end for number in gaps):
            kept[part.line : part.end] = [""] * len(part.lines)
            broken.append(part.key)
    node = parse("\n".join(kept), file, findings, partly=True)
    if not isinstance(node, Mapping):
        return None
    return replace(node, broken=tuple(dict.fromkeys((*node.broken, *(broken or [""])))))


def _document(text: str, file: str, findings: Findings, *, partly: bool = False) -> Node | None:
    loader = _Loader(text)
    try:
        root = loader.get_single_node()
    finally:
        loader.dispose()
    if root is None:
        findings.add("empty-file", Source(file), f"`{file}` is empty", mend="write its keys, or remove it")
        return None
    converter = _Converter(text, file, findings)
    try:
        node = converter.node(root, 0)
    except _RefusedError:
        return None
    if not converter.refused:
        return node
    return replace(node, broken=node.broken or ("",)) if partly and isinstance(node, Mapping) else None


def _of_part(text: str, file: str) -> tuple[Node | None, Findings]:
    """A part of a text as a document of its own, and what is found in it."""
    findings = Findings()
    try:
        return _document(text, file, findings), findings
    except (yaml.MarkedYAMLError, yaml.reader.ReaderError) as error:
        from sitegen.ingest.yaml.syntax_errors import report_syntax  # noqa: PLC0415 - only where there is a mistake

        report_syntax(error, text, file, findings)
        return None, findings


def _cut_off(pair: tuple[yaml.Node, yaml.Node]) -> bool:
    """Whether a key has no colon after it: its empty value begins where the key ends."""
    key, value = pair
    empty = isinstance(key, ScalarNode) and isinstance(value, ScalarNode) and not value.value
    end, start = key.end_mark, value.start_mark
    return empty and (end.line, end.column) == (start.line, start.column)


_SomeNode = TypeVar("_SomeNode", Scalar, Node)


def _unquoted(node: _SomeNode) -> _SomeNode:
    """A text without typographic quotes around it: they are quotes for whoever wrote them."""
    if not isinstance(node, Scalar) or not node.plain:
        return node
    inner = without_quotes(node.text)
    return node if inner is node.text else Scalar(inner, node.source, plain=False)


class _Converter:
    """Converts the parser's nodes; refuses anchors, aliases and tags."""

    def __init__(self, text: str, file: str, findings: Findings) -> None:
        self.lines = lines_of(text)
        self.file = file
        self.findings = findings
        self.seen: set[int] = set()
        self.escapes = "\\" in text  # by which a text can hold any character
        self.has_long = False  # whether the last key or value was longer than most can be
        self.refused = 0  # values and lists that are longer than what is read
        self.signs = "&" in text or "!" in text  # without them there are no anchors, aliases or tags
        self.comments = "#" in text
        self.quotes = any(sign in text for sign in OPENING_QUOTES)

    def node(self, raw: Any, depth: int) -> Node:
        """A node and those inside it."""
        if self.signs:
            self._refuse_properties(raw)
        if isinstance(raw, ScalarNode):
            return self._scalar(raw)
        if depth >= MAX_DEPTH:
            report_too_deep(self._source(raw), self.findings)
            raise _RefusedError
        if len(raw.value) > (MAX_ITEMS if isinstance(raw, SequenceNode) else MAX_KEYS):
            self._refuse_many(raw)
        if isinstance(raw, SequenceNode):
            items = tuple([self.node(item, depth + 1) for item in raw.value])
            return Items(tuple(map(_unquoted, items)) if self.quotes else items, self._source(raw))
        # Only in braces a key may lack its colon; its value is then empty.
        if raw.flow_style and not all(value.value for _, value in raw.value):
            return self._with_keys_alone(raw, depth)
        return self._mapping(raw.value, raw, depth + 1)

    def _scalar(self, raw: Any) -> Scalar:
        start, end = raw.start_mark, raw.end_mark
        line, column = start.line, start.column
        stop = end.column if line == end.line else len(self._line(line).rstrip())
        place = (self.file, line + 1, column + 1, stop - column if stop > column else 1)
        if self.escapes and (at := hidden_at(raw.value)) is not None:
            mend = "remove what stands for it: a text with `\\` in double quotes can hold any character"
            report_hidden(raw.value[at], self._source(raw), self.findings, mend)
            raise _RefusedError
        if len(raw.value) > MAX_VALUE:
            self.has_long = True
        scalar: Scalar = _new(Scalar, (raw.value, _new(Source, place), not raw.style))
        return scalar

    def _with_keys_alone(self, raw: yaml.MappingNode, depth: int) -> Node:
        """Braces with keys that may lack a colon. Where all keys do, a list was meant."""
        split = self._split_pairs(raw)
        meant = self._report_commas(raw, {id(key) for key, _ in split})
        complete = [pair for pair in raw.value if not _cut_off(pair)]
        if raw.value and not complete and not split:
            keys = [self.node(key, depth + 1) for key, _ in raw.value]
            return Items(tuple(keys), self._source(raw))  # one finding is enough
        found = self._mapping(complete, raw, depth + 1)
        whole = [
            Pair(pair.key, value)
            for pair in found
            if (value := meant.get(pair.key.text, pair.value)) is not None
        ]
        return replace(found, pairs=(*whole, *(pair for _, pair in split)))

    def _split_pairs(self, raw: yaml.MappingNode) -> list[tuple[yaml.Node, Pair]]:
        """The keys that are a key and its value without what YAML wants between them, each a finding."""
        from sitegen.ingest.yaml.pitfalls import report_split  # noqa: PLC0415 - only where there is a mistake
        from sitegen.ingest.yaml.structure_checks import pair_fault  # noqa: PLC0415 - as above

        split: list[tuple[yaml.Node, Pair]] = []
        before = ""
        for pair in raw.value:
            key = pair[0]
            if not _cut_off(pair) or key.style:
                before = key.value if isinstance(key, ScalarNode) else ""
            elif fault := pair_fault(key.value, after_text=before in TEXT_KEYS):
                found = report_split(fault, key.value, self._source(key), self.findings)
                split += [(key, found)] if found else []
        return split

    def _mapping(self, raw: list[tuple[yaml.Node, yaml.Node]], whole: Any, depth: int) -> Mapping:
        """Some pairs of a mapping, without values that are longer than what is read."""
        seen: dict[str, Pair] = {}
        broken: list[str] = []
        refused = self.refused
        plain = None if self.signs else ScalarNode  # most nodes are scalars without properties: the short way
        for raw_key, raw_value in raw:
            key = self._scalar(raw_key) if type(raw_key) is plain else self.node(raw_key, depth)
            if not isinstance(key, Scalar):
                self._refuse_key(key)
                continue
            text = key.text
            value = (
                self._scalar(raw_value) if type(raw_value) is plain else self._value(text, raw_value, depth)
            )
            is_long = self.has_long and self._refuse_long(key, value)
            if self.refused > refused:
                refused = self.refused
                broken.append(text)
            if is_long:
                continue
            if self.quotes:
                key, value = _unquoted(key), value if text in TEXT_KEYS else _unquoted(value)
                text = key.text
            if text in seen:
                self._refuse_twice(key, seen[text].key, raw_value)
                continue
            if self.comments and text in TEXT_KEYS and isinstance(value, Scalar) and value.plain:
                value = self._uncut(text, value, raw_value.end_mark)
            seen[text] = _new(Pair, (key, value))
        return Mapping(tuple(seen.values()), self._source(whole), tuple(broken))

    def _value(self, key: str, raw: Any, depth: int) -> Node:
        """The value of a key. Where only a text can be, braces or brackets become text, with a finding."""
        start, end = raw.start_mark, raw.end_mark
        braced = not isinstance(raw, ScalarNode) and raw.flow_style and start.line == end.line
        if braced and key in ONE_MAPPING and (pairs := self._bracketed_pairs(raw)):
            from sitegen.ingest.yaml.pitfalls import report_bracketed  # noqa: PLC0415 - as below

            report_bracketed(key, self._source(raw), self.findings)
            return self._mapping(pairs, raw, depth + 1)
        if not braced or key not in ONLY_TEXT:
            return self.node(raw, depth)
        from sitegen.ingest.yaml.pitfalls import report_braces  # noqa: PLC0415 - only where there is a mistake

        if self.signs:
            self._refuse_properties(raw)
        whole, source = self._line(start.line)[start.column : end.column], self._source(raw)
        report_braces(key, whole, source, self.findings)
        return Scalar(whole, source)

    def _bracketed_pairs(self, raw: Any) -> list[tuple[yaml.Node, yaml.Node]]:
        """The pairs of a list that holds nothing else, `[a: 1, b: 2]`; none of any other."""
        if not isinstance(raw, SequenceNode):
            return []
        pairs = [item.value[0] for item in raw.value if isinstance(item, yaml.MappingNode) and item.value]
        bare = all(self._line(item.start_mark.line)[item.start_mark.column] != "{" for item in raw.value)
        keys = {key.value for key, _ in pairs if isinstance(key, ScalarNode)}
        return pairs if bare and len(keys) == len(raw.value) else []

    def _refuse_long(self, key: Scalar, value: Node) -> bool:
        """Whether a key or value is longer than what is read, which is a finding."""
        self.has_long = False
        longest = MAX_TEXT if key.text in TEXT_KEYS else MAX_VALUE
        name = f"`{key.text}`" if len(key.text) <= MAX_VALUE else "this key"
        pieces = value.items if isinstance(value, Items) else (value,)
        whole = [(key, MAX_VALUE), *((each, longest) for each in pieces if isinstance(each, Scalar))]
        for each, most in whole:
            if len(each.text) > most:
                report_too_long(self.findings, each.source, name, len(each.text), most)
                self.refused += 1
                return True
        return False

    def _refuse_many(self, raw: Any) -> None:
        """A finding for a list or a mapping with more items than are read; some of them are, for their findings."""
        # Each of 10,000 entries may have findings of its own, and nobody reads 20,000 of them: that takes seconds.
        kind, most, looked_at = "mapping", MAX_KEYS, MAX_KEYS
        if isinstance(raw, SequenceNode):
            kind, most, looked_at = "list", MAX_ITEMS, MOST_OF_MANY
        message = f"this {kind} has {len(raw.value):,} items; at most {most:,} are read"
        mend = "remove what nothing uses"
        if self.file.endswith("experiment.yaml"):
            mend = "divide the experiment, or keep readings in a spreadsheet beside it"
        found, expected = str(len(raw.value)), f"at most {most}"
        self.findings.add(
            "too-many-items", self._source(raw), message, mend=mend, found=found, expected=expected
        )
        del raw.value[looked_at:]
        self.refused += 1

    def _refuse_key(self, key: Node) -> None:
        message = "a key must be a word, not a list or mapping"
        mend = "write the key as a word; quote text in braces"
        self.findings.add("wrong-type", key.source, message, mend=mend)

    def _refuse_twice(self, key: Scalar, first: Scalar, value: yaml.Node) -> None:
        message = f"`{key.text}` stands twice here; the first is in line {first.source.line}"
        mend = self._without_copy(key, first, value) or f"keep one `{key.text}`, or begin a second entry"
        key.report(self.findings, "duplicate-key", message, mend)

    def _without_copy(self, key: Scalar, first: Scalar, value: yaml.Node) -> Mend | None:
        """The mend for a line that says what another says already."""
        line, above = self._line(key.source.line - 1), self._line(first.source.line - 1)
        alone = not line[: key.source.column - 1].strip() and value.end_mark.line == key.source.line - 1
        if not alone or line.strip() != above[first.source.column - 1 :].strip():
            return None
        edit = Edit(self.file, key.source.line, 1, len(line), "", line)
        return Mend((edit,), safe=False, words="remove this line, which says the same again")

    def _report_commas(self, raw: yaml.MappingNode, split: set[int]) -> dict[str, Scalar | None]:
        """A finding for keys in braces without a colon: a comma cut a text, or a list was meant.

        Returns the values that were cut as they were meant, by key; None where that is not known.
        """
        from sitegen.ingest.yaml.pitfalls import report_comma  # noqa: PLC0415 - only where there is a mistake

        def lone(pair: tuple[yaml.Node, yaml.Node]) -> bool:
            return _cut_off(pair) and id(pair[0]) not in split

        before: tuple[yaml.Node, yaml.Node] | None = None
        meant: dict[str, Scalar | None] = {}
        for place, pair in enumerate(raw.value):
            if lone(pair) and not (before and lone(before)):
                cut = [key for key, _ in takewhile(lone, raw.value[place:])]
                key, value = (None, None) if before is None or id(before[0]) in split else before
                name = key.value if isinstance(key, ScalarNode) else ""
                is_text = isinstance(value, ScalarNode)
                meant |= report_comma(
                    self._source(pair[0]),
                    [piece.value for piece in cut],
                    name,
                    self._scalar(value) if is_text else None,
                    self._from_to(value, cut[-1]) if is_text else None,
                    self.findings,
                )
            before = pair
        return meant

    def _from_to(self, first: Any, last: Any) -> Scalar | None:
        """What stands in a line from a node to another; None where that is more than a line, or has quotes."""
        start, end = first.start_mark, last.end_mark
        text = self._line(start.line)[start.column : end.column]
        if start.line != end.line or first.style or last.style or not first.value:
            return None
        return Scalar(text, Source(self.file, start.line + 1, start.column + 1, len(text)))

    def _uncut(self, key: str, value: Scalar, end: yaml.Mark) -> Scalar:
        """A text with the end that YAML took for a comment, and a finding about it."""
        after = self._line(end.line)[end.column :]
        if "#" not in after:
            return value
        from sitegen.ingest.yaml.pitfalls import report_cut  # noqa: PLC0415 - only where there is a comment

        place = Source(self.file, end.line + 1, end.column + 1)
        return Scalar(report_cut(key, value, after, place, self.findings), value.source)

    def _line(self, number: int) -> str:
        """A line; empty where the parser's marks go beyond the last."""
        return self.lines[number] if number < len(self.lines) else ""

    def _source(self, raw: Any) -> Source:
        start, end = raw.start_mark, raw.end_mark
        line, column = start.line, start.column
        stop = end.column if line == end.line else len(self._line(line).rstrip())
        source: Source = _new(Source, (self.file, line + 1, column + 1, max(stop - column, 1)))
        return source

    def _refuse_properties(self, raw: yaml.Node) -> None:
        """Refuse anchors, aliases and tags. An alias gives a node that was seen before."""
        start = raw.start_mark
        sign = self._line(start.line)[start.column : start.column + 1]
        if sign not in ("!", "&") and id(raw) not in self.seen:
            self.seen.add(id(raw))
            return
        from sitegen.ingest.yaml.pitfalls import quoted_mend  # noqa: PLC0415 - only where there is a mistake

        rest = self._line(start.line)[start.column :]
        word = rest.split(maxsplit=1)[0] if rest.strip() else rest
        if sign == "!":
            code, kind, mend = "yaml-tag", "a tag; a journal does not use tags", f"remove `{word}`"
        else:
            code, kind = "yaml-anchor", "an anchor; a journal does not use anchors and aliases"
            mend = "write the value itself where it is needed"
        source = self._source(raw).part(0, len(word))
        as_text = quoted_mend(self._line(start.line), source) if isinstance(raw, ScalarNode) else ""
        self.findings.add(code, source, f"`{word}` is read as {kind}", mend=as_text or mend, found=word)
        raise _RefusedError
