"""The typed fields of a mapping, checked against a table of `core.format`.

In: nodes and a table. Out: `TypedFields`, whose getters give typed values or None. A value that does not fit becomes a
finding with its place. Getters never raise on an author's text.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.findings.source import Source
from sitegen.core.format import TABLES
from sitegen.core.format.fields import Field, Table
from sitegen.core.format.spelling import chosen
from sitegen.core.language.text import closest, near_words
from sitegen.core.records.setup import Price
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.ingest.values.clock import parse_clock
from sitegen.ingest.values.dates import parse_date, parse_day
from sitegen.ingest.values.identifiers import parse_link
from sitegen.ingest.values.normalize import without_quotes
from sitegen.ingest.values.prices import parse_price
from sitegen.ingest.values.quantities import (
    parse_number,
    parse_quantity,
    parse_time_of_day,
    parse_whole,
)
from sitegen.ingest.yaml.key_mends import report_unknown_key
from sitegen.ingest.yaml.nodes import (
    ABSENT,
    Items,
    Mapping,
    Node,
    Scalar,
    check_id,
    expect_items,
    expect_mapping,
    expect_scalar,
)


class TypedFields(NamedTuple):
    """The fields of a mapping that are keys of its table, with getters by type."""

    table: Table
    values: dict[str, Node]
    source: Source
    findings: Findings
    unknown_keys: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()  # keys whose values are not YAML

    def node(self, key: str) -> Node | None:
        """The node under a key; None where the key is not there."""
        assert key in self.table.by_key, key
        return self.values.get(key)

    def has(self, key: str) -> bool:
        """Whether a key is there."""
        assert key in self.table.by_key, key
        return key in self.values

    def at(self, key: str) -> Source:
        """The place of a key's value; of the mapping where the key is not there."""
        node = self.node(key)
        return self.source if node is None else node.source

    def report(
        self, key: str, code: str, message: str, mend: str | Mend, *, found: str = "", expected: str = ""
    ) -> None:
        """Add a finding about the value of a key, or about the mapping where the key is not there."""
        self.findings.add(code, self.at(key), message, mend=mend, found=found, expected=expected)

    def scalar(self, key: str) -> Scalar | None:
        """A single value as written."""
        node = self.node(key)
        if node is None or isinstance(node, Scalar):
            return node
        return expect_scalar(node, key, self.findings, example=self.table.field(key).example)

    def text(self, key: str) -> str:
        """A text; empty where there is none."""
        scalar = self.scalar(key)
        return "" if scalar is None else scalar.text.strip()

    def link(self, key: str) -> str:
        """An address; empty where there is none."""
        return parse_link(self.scalar(key), key, self.findings)

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; a lone text is a list of one."""
        node = self.node(key)
        if node is None:
            return ()
        items = node.items if isinstance(node, Items) else (node,)
        scalars = [expect_scalar(item, key, self.findings) for item in items]
        return tuple(scalar.text.strip() for scalar in scalars if scalar is not None)

    def whole(self, key: str) -> int | None:
        """A whole number."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_whole(scalar, self.findings, key)

    def number(self, key: str) -> float | None:
        """A number above 0, with or without decimals."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_number(scalar, self.findings, key)

    def time_of_day(self, key: str) -> int | None:
        """The minutes after midnight of `06:00`."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_time_of_day(scalar, self.findings, key)

    def clock(self, key: str) -> int | None:
        """The seconds of `12:30`."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_clock(scalar, key, self.findings)

    def flag(self, key: str) -> bool:
        """`true` or `false`, or the words that other programs take for them."""
        scalar = self.scalar(key)
        if scalar is None:
            return False
        truth = _TRUTHS.get(scalar.text.strip().lower())
        return self._choice(scalar, key, ("true", "false")) == "true" if truth is None else truth

    def choice(self, key: str) -> Any:
        """One of the field's words, for the type of which the table vouches; empty where there is none."""
        scalar = self.scalar(key)
        return "" if scalar is None else self._choice(scalar, key, self.table.field(key).choices)

    def _choice(self, scalar: Scalar, key: str, choices: Iterable[str]) -> str:
        if word := chosen(without_quotes(scalar.text.strip()), choices):
            return word
        message, mend = f"`{key}` cannot be `{scalar.text}`", _choice_mend(scalar, choices)
        scalar.report(self.findings, "unknown-choice", message, mend, " | ".join(choices))
        return ""

    def date(self, key: str, since: dt.date | None = None) -> dt.date | None:
        """A date; one without its year is offered as the first one from `since` on."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_date(scalar, key, self.findings, since)

    def day(self, key: str) -> Day | None:
        """A day."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_day(scalar, key, self.findings)

    def quantity(self, key: str) -> Quantity | None:
        """A quantity of the field's dimension."""
        scalar = self.scalar(key)
        dimension = self.table.field(key).dimension
        assert dimension is not None, key
        return None if scalar is None else parse_quantity(scalar, dimension, self.findings, key)

    def price(self, key: str) -> Price | None:
        """A price."""
        scalar = self.scalar(key)
        if scalar is None:
            return None
        return parse_price(scalar, self.table.field(key).dimension, self.findings)

    def zone(self, key: str) -> str:
        """An IANA time zone."""
        name = self.text(key)
        if not name:
            return ""
        from zoneinfo import ZoneInfo  # noqa: PLC0415 - most journals name no zone

        try:
            ZoneInfo(name)
        except (KeyError, ValueError, OSError):
            message = f"`{name}` is not a time zone"
            self.report(key, "not-a-zone", message, self._zone_mend(key, name), found=name)
            return ""
        return name

    def _zone_mend(self, key: str, name: str) -> str | Mend:
        from zoneinfo import available_timezones  # noqa: PLC0415 - only on a mistake

        scalar, known = self.scalar(key), sorted(available_timezones())
        if scalar is not None and near_words(name, known):
            return scalar.meant(known)
        return "write one such as `Europe/Vienna` or `America/Chicago`"

    def nested(self, key: str) -> TypedFields | None:
        """The fields of a nested mapping."""
        mapping = self.mapping(key)
        return None if mapping is None else read_fields(mapping, self.table.field(key).table, self.findings)

    def mapping(self, key: str) -> Mapping | None:
        """A mapping as written."""
        node, example = self.node(key), self.table.field(key).example
        return None if node is None else expect_mapping(node, key, self.findings, example=example)

    def nested_list(self, key: str) -> Iterator[TypedFields]:
        """The fields of each mapping in a list; a lone mapping is a list of one."""
        node = self.node(key)
        field = self.table.field(key)
        if node is None:
            return
        nodes: tuple[Node, ...] = (node,)
        if not isinstance(node, Mapping):
            items = expect_items(node, key, self.findings, example=field.example)
            nodes = items.items if items else ()
        for item in nodes:
            mapping = expect_mapping(item, key, self.findings)
            if mapping is not None:
                yield read_fields(mapping, field.table, self.findings)

    def nested_by_id(self, key: str) -> Iterator[tuple[Scalar, TypedFields]]:
        """The fields of each mapping in a mapping by id."""
        return named_tables(self.mapping(key), self.table.field(key).table, self.findings)


# Word of the format → other words that people write for it.
_SYNONYMS = {
    **dict.fromkeys(("again", "true"), ("yes", "y", "on", "1")),
    **dict.fromkeys(("not again", "false"), ("no", "n", "off", "never", "0")),
    "cleared": ("gone", "pulled", "removed", "composted", "out", "taken out", "thrown out"),
    "kept": ("left", "staying", "still there"),
    "undecided": ("maybe", "perhaps", "unsure", "?"),
    "us": ("imperial", "american", "usa", "inches"),
    "metric": ("si", "cm", "european"),
    "comma": (",",),
    "point": (".", "dot"),
}


# Words that are a truth value to many readers of YAML.
_TRUTHS = {"yes": True, "on": True, "no": False, "off": False}
_SAYS_LESS = ("cleared", "kept")  # than `composted`, which a note may keep


def _choice_mend(scalar: Scalar, choices: Iterable[str]) -> str | Mend:
    """The mend for a word that is no choice, and perhaps a synonym of one."""
    meant = next((choice for choice in choices if scalar.text.lower() in _SYNONYMS.get(choice, ())), "")
    if not meant:
        return scalar.meant(choices)
    return scalar.written(meant, safe=meant not in _SAYS_LESS)


def named_tables(
    mapping: Mapping | None, table: str, findings: Findings
) -> Iterator[tuple[Scalar, TypedFields]]:
    """The ids of a mapping, each with the fields of its mapping."""
    for pair in mapping or ():
        inner = expect_mapping(pair.value, pair.key.text, findings)
        if check_id(pair.key, findings) and inner is not None:
            yield pair.key, read_fields(inner, table, findings)


def read_fields(mapping: Mapping, table: str, findings: Findings) -> TypedFields:
    """The fields of a mapping; unknown keys and missing ones become findings."""
    wanted = TABLES[table]
    known, values, unknown = wanted.by_key, dict[str, Node](), list[str]()
    for key, value in mapping.pairs:
        name = key.text if key.text in known else _key_meant(key, value, mapping, wanted, findings)
        if not name:
            unknown.append(key.text)
        elif type(value) is not Scalar or value.text not in ABSENT or not value.plain:
            values[name] = value
        elif table == "entry":
            _report_empty(key, wanted.field(name), findings)
    for field in wanted.required if not mapping.broken else ():
        if field.key not in values and not is_misspelt(field.key, unknown):
            _report_missing(field, mapping.source, findings)
    return TypedFields(wanted, values, mapping.source, findings, tuple(unknown), mapping.broken)


def _key_meant(key: Scalar, value: Node, mapping: Mapping, table: Table, findings: Findings) -> str:
    """The key that a word spells in another way; empty and a finding where it is none, or stands there already."""
    name = table.meant(key.text)
    if not name:
        report_unknown_key(key, value, mapping, table, findings)
        return ""
    first = next(pair.key for pair in mapping if table.meant(pair.key.text) == name)
    if first is key:
        return name
    message = f"`{key.text}` stands twice here; as `{first.text}` it is in line {first.source.line}"
    key.report(findings, "duplicate-key", message, f"keep one `{name}`")
    return ""


def _report_empty(key: Scalar, field: Field, findings: Findings) -> None:
    """A finding for an entry's key without a value: without it the record would be lost silently."""
    mend = f"write it, such as `{key.text}: {in_units(field.example, findings.units)}`, or remove it"
    findings.add("missing-key", key.source, f"`{key.text}` is left empty", mend=mend, expected=field.about)


def _report_missing(field: Field, source: Source, findings: Findings) -> None:
    mend = f"write it, such as `{field.key}: {in_units(field.example, findings.units) or '…'}`"
    message = f"`{field.key}` is missing: {field.about}"
    findings.add("missing-key", source.part(0, 1), message, mend=mend, expected=field.key)


def is_misspelt(key: str, unknown: Sequence[str]) -> bool:
    """Whether one of the unknown keys is this one misspelt, which is then one finding and not two."""
    return any(closest(word, (key,)) for word in unknown)
