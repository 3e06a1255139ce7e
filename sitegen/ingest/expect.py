"""A node of the wanted shape: a single value, a mapping, a list; a text that can be an id.

In: a node and its key. Out: the node, or None and a finding that says what stands there.
"""

from __future__ import annotations

import re
import unicodedata

from sitegen.core.examples import in_units
from sitegen.core.finding import Findings
from sitegen.core.format import RESERVED
from sitegen.ingest.line_faults import colon_fault
from sitegen.ingest.nodes import Items, Mapping, Node, Scalar

__all__ = ["check_id", "expect_items", "expect_mapping", "expect_scalar", "kind_of"]

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]*")


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
    shown = f"{key}: {in_units(example, findings.units)}" if example else f"{key}: …"
    _wrong_type(node, key, "a single value", f"write `{shown}`", findings)
    return None


def expect_mapping(node: Node, key: str, findings: Findings, *, example: str = "") -> Mapping | None:
    """The node as a mapping."""
    if isinstance(node, Mapping):
        return node
    if isinstance(node, Scalar) and (fault := colon_fault(node.text)):
        source = node.part(fault.column, fault.width)
        findings.add("wrong-type", source, fault.message, mend=fault.mend, found=fault.found)
        return None
    shown = in_units(example, findings.units) or "{key: value}"
    _wrong_type(node, key, "a mapping", f"write `{key}: {shown}`", findings)
    return None


def expect_items(node: Node, key: str, findings: Findings, *, example: str = "") -> Items | None:
    """The node as a list."""
    if isinstance(node, Items):
        return node
    shown = in_units(example, findings.units) or "[…]"
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
