"""The typed reader: a mapping of the file against a table of `core.format`.

In: nodes and a table. Out: `Read`, whose getters give typed values or None; whatever does not fit has become a finding
with its place. Getters never raise on what an author wrote.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from sitegen.core.day import Day
from sitegen.core.fields import Field, Table
from sitegen.core.finding import Findings, Source
from sitegen.core.format import RESERVED, TABLES
from sitegen.core.quantity import Quantity
from sitegen.core.setup import Price
from sitegen.core.text import closest, did_you_mean
from sitegen.core.units import Dimension
from sitegen.ingest.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.values import parse_quantity, parse_whole

__all__ = [
    "Read",
    "check_id",
    "expect_items",
    "expect_mapping",
    "expect_scalar",
    "kind_of",
    "parse_date",
    "parse_day",
    "parse_price",
    "read_table",
]

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]*")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_DAY = re.compile(r"(?:day )?(?P<flag>about |before )?(?P<first>\d{1,4})(?:\s*[-–]\s*(?P<last>\d{1,4}))?")


def kind_of(node: Node) -> str:
    """What a node is, in the words of findings."""
    if isinstance(node, Items):
        return "a list"
    return "a mapping" if isinstance(node, Mapping) else "a text"


def _wrong_type(node: Node, key: str, wanted: str, mend: str, findings: Findings) -> None:
    findings.add(
        "wrong-type",
        node.source,
        f"`{key}` wants {wanted}, not {kind_of(node)}",
        mend=mend,
        found=kind_of(node),
        expected=wanted,
    )


def expect_scalar(node: Node, key: str, findings: Findings, *, example: str = "") -> Scalar | None:
    """The node as a single value."""
    if isinstance(node, Scalar):
        return node
    shown = f"{key}: {example}" if example else f"{key}: …"
    _wrong_type(node, key, "a single value", f"write `{shown}`", findings)
    return None


def expect_mapping(node: Node, key: str, findings: Findings, *, example: str = "") -> Mapping | None:
    """The node as a mapping."""
    if isinstance(node, Mapping):
        return node
    shown = example or "{key: value}"
    _wrong_type(node, key, "a mapping", f"write `{key}: {shown}`", findings)
    return None


def expect_items(node: Node, key: str, findings: Findings, *, example: str = "") -> Items | None:
    """The node as a list."""
    if isinstance(node, Items):
        return node
    shown = example or "[…]"
    _wrong_type(node, key, "a list", f"write `{key}: {shown}`, or items that begin with `- `", findings)
    return None


def check_id(scalar: Scalar, findings: Findings) -> bool:
    """Whether a text can be an id; a finding where it cannot."""
    if not _ID.fullmatch(scalar.text):
        plain = unicodedata.normalize("NFKD", scalar.text).encode("ascii", "ignore").decode()
        offer = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")
        findings.add(
            "bad-id",
            scalar.source,
            f"`{scalar.text}` cannot be an id",
            mend=f"write `{offer}`" if offer else "use letters, digits and hyphens",
            found=scalar.text,
            expected="letters, digits and hyphens",
        )
        return False
    if scalar.text in RESERVED:
        findings.add(
            "reserved-id",
            scalar.source,
            f"`{scalar.text}` is a word of the format and cannot be an id",
            mend=f"choose another name, such as `{scalar.text}-1`",
            found=scalar.text,
        )
        return False
    return True


def parse_date(scalar: Scalar, key: str, findings: Findings) -> dt.date | None:
    """An ISO 8601 date."""
    if _DATE.fullmatch(scalar.text):
        try:
            return dt.date.fromisoformat(scalar.text)
        except ValueError:
            pass
    findings.add(
        "not-a-date",
        scalar.source,
        f"`{scalar.text}` is not a date; `{key}` wants year-month-day",
        mend=f"write `{key}: 2025-10-19`",
        found=scalar.text,
        expected="a date such as 2025-10-19",
    )
    return None


def parse_day(scalar: Scalar, key: str, findings: Findings) -> Day | None:
    """A day number, a span, `about 36` or `before 40`."""
    match = _DAY.fullmatch(scalar.text)
    if match is None:
        findings.add(
            "not-a-day",
            scalar.source,
            f"`{scalar.text}` is not a day; `{key}` counts days since sowing",
            mend=f"write `{key}: 26`, `{key}: 33-38`, `{key}: about 36` or `{key}: before 40`",
            found=scalar.text,
            expected="days since sowing",
        )
        return None
    first, last = int(match["first"]), int(match["last"] or match["first"])
    if last < first:
        findings.add(
            "reversed-range",
            scalar.source,
            f"the days `{scalar.text}` end before they begin",
            mend=f"write `{last}-{first}`",
            found=scalar.text,
        )
        return None
    if match["flag"] == "before ":
        return Day(0, max(0, first - 1))
    return Day(first, last, about=match["flag"] == "about ")


# One well-written price for each dimension: what a finding offers.
_PRICES: dict[Dimension | None, str] = {
    Dimension.ENERGY: "0.31 per kWh",
    Dimension.VOLUME: "0.004 per L",
    Dimension.MASS: "12 per kg",
}


def parse_price(scalar: Scalar, dimension: Dimension | None, findings: Findings) -> Price | None:
    """`9.50 per 500 ml`."""
    amount, _, per = scalar.text.partition(" per ")
    if re.fullmatch(r"\d+(\.\d+)?", amount) and per:
        written = per if re.match(r"\d", per) else f"1 {per}"
        wanted = dimension or (
            Dimension.MASS if written.split()[-1] in ("g", "kg", "oz", "lb") else Dimension.VOLUME
        )
        inner = Scalar(written, scalar.part(len(amount) + 5, len(per)))
        quantity = parse_quantity(inner, wanted, findings, "price")
        return None if quantity is None else Price(float(amount), quantity)
    findings.add(
        "not-a-price",
        scalar.source,
        f"`{scalar.text}` is not a price",
        mend=f"write it as `{_PRICES.get(dimension, '9.50 per 500 ml')}`; the currency stands in journal.yaml",
        found=scalar.text,
        expected="an amount of money per quantity",
    )
    return None


@dataclass(frozen=True, slots=True)
class Read:
    """A mapping that was held against its table: only known keys are left."""

    table: Table
    values: tuple[tuple[str, Node], ...]
    source: Source
    findings: Findings

    def node(self, key: str) -> Node | None:
        """What stands under a key, as a node."""
        assert self.table.has(key), key
        return next((value for name, value in self.values if name == key), None)

    def has(self, key: str) -> bool:
        """Whether a key is there."""
        return self.node(key) is not None

    def at(self, key: str) -> Source:
        """Where a key's value stands; the mapping itself where it does not."""
        node = self.node(key)
        return self.source if node is None else node.source

    def scalar(self, key: str) -> Scalar | None:
        """A single value as written."""
        node = self.node(key)
        field = self.table.field(key)
        return None if node is None else expect_scalar(node, key, self.findings, example=field.example)

    def text(self, key: str) -> str:
        """A text; empty where there is none."""
        scalar = self.scalar(key)
        return "" if scalar is None else scalar.text.strip()

    def whole(self, key: str) -> int | None:
        """A whole number."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_whole(scalar, self.findings, key)

    def flag(self, key: str) -> bool:
        """`true` or `false`."""
        scalar = self.scalar(key)
        return scalar is not None and self._choice(scalar, key, ("true", "false")) == "true"

    def choice(self, key: str) -> str:
        """One of the field's words; empty where there is none."""
        scalar = self.scalar(key)
        return "" if scalar is None else self._choice(scalar, key, self.table.field(key).choices)

    def _choice(self, scalar: Scalar, key: str, choices: Iterable[str]) -> str:
        if scalar.text in choices:
            return scalar.text
        self.findings.add(
            "unknown-choice",
            scalar.source,
            f"`{key}` cannot be `{scalar.text}`",
            mend=did_you_mean(scalar.text, choices),
            found=scalar.text,
            expected=" | ".join(choices),
        )
        return ""

    def date(self, key: str) -> dt.date | None:
        """A date."""
        scalar = self.scalar(key)
        return None if scalar is None else parse_date(scalar, key, self.findings)

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
        try:
            ZoneInfo(name)
        except (KeyError, ValueError, OSError):
            self.findings.add(
                "not-a-zone",
                self.at(key),
                f"`{name}` is not a time zone",
                mend="write one such as `Europe/Vienna` or `America/Chicago`",
                found=name,
            )
            return ""
        return name

    def sub(self, key: str) -> Read | None:
        """A nested mapping against its own table."""
        node = self.node(key)
        field = self.table.field(key)
        if node is None:
            return None
        mapping = expect_mapping(node, key, self.findings, example=field.example)
        return None if mapping is None else read_table(mapping, field.table, self.findings)

    def subs(self, key: str) -> Iterator[Read]:
        """Each mapping of a list against the field's table."""
        node = self.node(key)
        field = self.table.field(key)
        if node is None:
            return
        if isinstance(node, Mapping):
            yield read_table(node, field.table, self.findings)
            return
        items = expect_items(node, key, self.findings, example=field.example)
        for item in items.items if items else ():
            mapping = expect_mapping(item, key, self.findings)
            if mapping is not None:
                yield read_table(mapping, field.table, self.findings)

    def named(self, key: str) -> Iterator[tuple[Scalar, Read]]:
        """Each mapping by id against the field's table."""
        node = self.node(key)
        field = self.table.field(key)
        if node is None:
            return
        mapping = expect_mapping(node, key, self.findings, example=field.example)
        yield from named_tables(mapping, field.table, self.findings)


def named_tables(mapping: Mapping | None, table: str, findings: Findings) -> Iterator[tuple[Scalar, Read]]:
    """The pairs of a mapping of ids, each held against one table."""
    for pair in mapping or ():
        inner = expect_mapping(pair.value, pair.key.text, findings)
        if check_id(pair.key, findings) and inner is not None:
            yield pair.key, read_table(inner, table, findings)


def read_table(mapping: Mapping, table: str, findings: Findings) -> Read:
    """Hold a mapping against a table: unknown keys and missing ones become findings."""
    wanted = TABLES[table]
    values: list[tuple[str, Node]] = []
    for pair in mapping:
        if not wanted.has(pair.key.text):
            _unknown_key(pair.key, wanted, findings)
        elif not (isinstance(pair.value, Scalar) and pair.value.absent):
            values.append((pair.key.text, pair.value))
        elif table == "entry":
            _left_empty(pair.key, wanted.field(pair.key.text), findings)
    read = Read(wanted, tuple(values), mapping.source, findings)
    for field in wanted.fields:
        if field.required and not read.has(field.key):
            _missing_key(field, mapping.source, findings)
    return read


def _left_empty(key: Scalar, field: Field, findings: Findings) -> None:
    """A visit's key without a value: what was seen or done would be lost without a word."""
    findings.add(
        "missing-key",
        key.source,
        f"`{key.text}` is left empty",
        mend=f"write `{key.text}: {field.example}`, or remove it",
        expected=field.about,
    )


def _missing_key(field: Field, source: Source, findings: Findings) -> None:
    example = field.example or "…"
    findings.add(
        "missing-key",
        source.part(0, 1),
        f"`{field.key}` is missing: {field.about}",
        mend=f"write it, such as `{field.key}: {example}`",
        expected=field.key,
    )


# How a table is called where it is not the key that it stands under.
_SAID = {
    **{name: f"{name}.yaml" for name in ("journal", "gear", "season", "experiment")},
    **{name: f"a {name}" for name in ("system", "lamp", "product", "crop", "variety", "tub", "correction")},
    "episode": "an episode",
    "entry": "a log entry",
    "pick": "a pick",
    "measured": "a reading",
    "deed": "a deed",
    "routine": "`from_now`",
}


def _unknown_key(key: Scalar, table: Table, findings: Findings) -> None:
    findings.add(
        "unknown-key",
        key.source,
        f"`{key.text}` is not a key of {_SAID.get(table.name, f'`{table.name}`')}",
        mend=_key_mend(key.text, table),
        found=key.text,
        expected=", ".join(table.keys),
    )


def _key_mend(word: str, table: Table) -> str:
    if len(table.keys) > 12 and not closest(word, table.keys):
        return "remove it, or keep it as a `note`" if table.has("note") else "remove it"
    return did_you_mean(word, table.keys)
