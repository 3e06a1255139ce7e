"""The nodes of a YAML file: texts, lists and mappings with their places.

In: nothing. Out: `Node` (`Scalar`, `Items` or `Mapping`) and `Pair`. A scalar is the text that was written, never a
number, a date or a truth value.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend, replacement
from sitegen.core.findings.source import Source
from sitegen.core.format import RESERVED
from sitegen.core.language.text import did_you_mean, is_slip, near_words
from sitegen.ingest.yaml.keys import TEXT_KEYS

if TYPE_CHECKING:
    from sitegen.ingest.yaml.line_checks import LineFault

ABSENT = ("", "~", "null")  # without quotes


class Scalar(NamedTuple):
    """A text; `plain` where it was written without quotes."""

    text: str
    source: Source
    plain: bool = True

    @property
    def absent(self) -> bool:
        """Whether the value is empty, a tilde or `null`."""
        return self.plain and self.text in ABSENT

    def part(self, offset: int, width: int) -> Source:
        """The place of a piece of the text; the whole text where its spelling in the file differs."""
        source, quote = self.source, 0 if self.plain else 1
        if source.width != len(self.text) + 2 * quote:
            return source
        return source.part(offset + quote, width)

    @property
    def _as_written(self) -> bool:
        """Whether it stands in one line, letter for letter, with quotes around it or without."""
        return self.source.width == len(self.text) + (0 if self.plain else 2)

    def written(self, text: str, *, key: str = "", safe: bool = True) -> Mend | str:
        """The mend that writes another text in place of this one; `key` is repeated before it.

        Quotes are kept, and put around a text that YAML would twist. Words alone where the file spells it otherwise.
        """
        from sitegen.ingest.yaml.line_checks import quoted, stays_text  # noqa: PLC0415 - only where there is a mistake

        if self.plain and not stays_text(text, self.text):
            return self.turned_into(quoted(text), key=key, safe=safe)
        before = f"{key}: " if key else ""
        if not self._as_written or (not self.plain and re.search(r"['\"\\]", text)):
            return f"write `{before}{text}`"
        place = self.part(0, len(self.text))
        return replacement(place, self.text, text, before=before, safe=safe)

    def turned_into(self, yaml: str, *, key: str = "", safe: bool = True) -> Mend | str:
        """The mend that writes a list, a mapping or a quoted text in place of this one, its own quotes included."""
        before = f"{key}: " if key else ""
        if not self._as_written:
            return f"write `{before}{yaml}`"
        return replacement(self.source, self.text, yaml, before=before, safe=safe)

    def report(
        self, findings: Findings, code: str, message: str, mend: str | Mend, expected: str = ""
    ) -> None:
        """Add a finding about the whole text."""
        findings.add(code, self.source, message, mend=mend, found=self.text, expected=expected)

    def report_unknown(
        self, findings: Findings, code: str, message: str, known: Iterable[str], if_none: str
    ) -> None:
        """Add a finding for a name that is none of the known ones; `if_none` is the mend where none is known."""
        names = tuple(known)
        self.report(findings, code, message, self.meant(names) if names else if_none, ", ".join(names))

    def meant(self, known: Iterable[str]) -> Mend | str:
        """The mend that writes the one known word that this one is like; of several or none, what to choose from."""
        names = tuple(known)
        near = near_words(self.text, names)
        if len(near) != 1 or re.findall(r"\d+", near[0]) != re.findall(r"\d+", self.text):
            return did_you_mean(self.text, names)
        return self.written(near[0], safe=is_slip(self.text, near[0]))

    def mend_of(self, fault: LineFault) -> Mend | str:
        """The mend of a fault that was found in the text."""
        if self._as_written and isinstance(fault.mend, Mend):
            return fault.mend.at(self.part(0, 1))
        return str(fault.mend)


@dataclass(slots=True)
class Items:
    """A list."""

    items: tuple[Node, ...]
    source: Source


class Pair(NamedTuple):
    """A key and its value."""

    key: Scalar
    value: Node


@dataclass(slots=True)
class Mapping:
    """Keys with values, in file order; keys are unique.

    `broken` are the keys whose values are not YAML, of a file of which only the rest could be read.
    """

    pairs: tuple[Pair, ...]
    source: Source
    broken: tuple[str, ...] = ()

    def __iter__(self) -> Iterator[Pair]:
        return iter(self.pairs)

    def get(self, key: str) -> Node | None:
        """The value of a key; None where it is empty or not there."""
        for pair in self.pairs:
            if pair.key.text == key:
                value = pair.value
                return None if isinstance(value, Scalar) and value.absent else value
        return None


Node = Scalar | Items | Mapping

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]*")


def kind_of(node: Node) -> str:
    """The kind of a node, in the words of findings."""
    if isinstance(node, Items):
        return "a list"
    return "a mapping" if isinstance(node, Mapping) else "a text"


def _wrong_type(node: Node, key: str, wanted: str, mend: str, findings: Findings) -> None:
    found = kind_of(node)
    message = f"`{key}` wants {wanted}, not {found}"
    findings.add("wrong-type", node.source, message, mend=mend, found=found, expected=wanted)


def expect_scalar(node: Node, key: str, findings: Findings, *, example: str = "") -> Scalar | None:
    """The node as a single value."""
    if isinstance(node, Scalar):
        return node
    if own := _in_one(node, key):
        _wrong_type(node, key, "a single value", f"write `{key}: {own}`", findings)
        return None
    shown = f"{key}: {in_units(example, findings.units)}" if example else f"{key}: …"
    _wrong_type(node, key, "a single value", f"write one value, such as `{shown}`", findings)
    return None


def _in_one(node: Node, key: str) -> str:
    """A list of texts as one text, where one is wanted; empty for anything else."""
    texts = [item.text for item in node.items if isinstance(item, Scalar)] if isinstance(node, Items) else []
    if not texts or len(texts) < len(node.items if isinstance(node, Items) else ()):
        return ""
    if len(texts) == 1:
        return texts[0]
    from sitegen.ingest.yaml.line_checks import quoted  # noqa: PLC0415 - only where there is a mistake

    return quoted(", ".join(texts)) if key in TEXT_KEYS else ""


def expect_mapping(node: Node, key: str, findings: Findings, *, example: str = "") -> Mapping | None:
    """The node as a mapping."""
    if isinstance(node, Mapping):
        return node
    from sitegen.ingest.yaml.structure_checks import colon_fault  # noqa: PLC0415 - only where there is a mistake

    if isinstance(node, Scalar) and (fault := colon_fault(node.text)):
        source = node.part(fault.column, fault.width)
        findings.add("wrong-type", source, fault.message, mend=node.mend_of(fault), found=fault.found)
        return None
    shown = in_units(example, findings.units) or "{key: value}"
    _wrong_type(node, key, "a mapping", f"write a mapping, such as `{key}: {shown}`", findings)
    return None


def expect_items(node: Node, key: str, findings: Findings, *, example: str = "") -> Items | None:
    """The node as a list."""
    if isinstance(node, Items):
        return node
    shown = in_units(example, findings.units) or "[…]"
    mend = f"write a list, such as `{key}: {shown}`, or items that begin with `- `"
    _wrong_type(node, key, "a list", mend, findings)
    return None


def is_id(text: str) -> bool:
    """Whether a text can be an id."""
    return _ID.fullmatch(text) is not None and text not in RESERVED


def check_id(scalar: Scalar, findings: Findings) -> bool:
    """Whether a text is a valid id; a finding where it is not."""
    if not _ID.fullmatch(scalar.text):
        plain = unicodedata.normalize("NFKD", scalar.text).encode("ascii", "ignore").decode()
        offer = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")
        mend = f"write `{offer}`" if offer else "use letters, digits and hyphens"
        message = f"`{scalar.text}` cannot be an id"
        scalar.report(findings, "bad-id", message, mend, "letters, digits and hyphens")
        return False
    if scalar.text in RESERVED:
        message = f"`{scalar.text}` is a word of the format and cannot be an id"
        scalar.report(findings, "reserved-id", message, f"choose another name, such as `{scalar.text}-1`")
        return False
    return True
