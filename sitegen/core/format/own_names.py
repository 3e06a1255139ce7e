"""The names that a journal itself defines, as an editor offers them: ids with what they stand for.

In: ids and names. Out: `OwnNames`, and the parts of a JSON Schema that they make. An id comes first; whatever else the
reader takes for it (its name, another case, spaces) is allowed beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

Ids = Mapping[str, str]  # id → what it stands for


@dataclass(frozen=True, slots=True)
class OwnNames:
    """The names of a journal; `plants`, `groups`, `tubs` and `kind` are those of one experiment."""

    crops: Ids = field(default_factory=dict)
    varieties: Ids = field(default_factory=dict)
    systems: Ids = field(default_factory=dict)
    lamps: Ids = field(default_factory=dict)
    meters: Ids = field(default_factory=dict)
    products: Ids = field(default_factory=dict)
    experiments: Ids = field(default_factory=dict)
    plants: Ids = field(default_factory=dict)
    groups: Ids = field(default_factory=dict)
    tubs: Ids = field(default_factory=dict)
    kind: str = ""  # of the crop

    def of_key(self, key: str) -> Ids:
        """What a key can name; empty where that is not known."""
        return getattr(self, _KEYS[key]) if key in _KEYS else {}


_SYNTAX = frozenset("^$\\.*+?()[]{}|/")  # of the patterns of ECMA-262, which JSON Schema takes

_KEYS = {
    "crop": "crops",
    "variety": "varieties",
    "system": "systems",
    "lamp": "lamps",
    "meter": "meters",
    "product": "products",
    "with": "experiments",
    "tub": "tubs",
}


def one_of(ids: Ids) -> dict[str, Any]:
    """One of these, as it is offered, or spelled as the reader takes it."""
    return {"anyOf": [{"enum": list(ids)}, {"type": "string", "pattern": spelled((*ids, *ids.values()))}]}


def spelled(names: Iterable[str]) -> str:
    """A pattern of these names in either case, with a space, a hyphen or an underscore between their words."""
    ways = sorted({"".join(map(_letter, name.strip())) for name in names if name.strip()})
    return rf"^\s*({'|'.join(ways)})\s*$"


def _letter(letter: str) -> str:
    if letter in " -_":
        return "[ _-]?"
    # Of letters beyond ASCII the other case may be longer than one character: any will do.
    if not letter.isascii():
        return "."
    if letter.isalpha():
        return f"[{letter.lower()}{letter.upper()}]"
    return f"\\{letter}" if letter in _SYNTAX else letter


def as_keys(ids: Ids) -> dict[str, Any]:
    """Keys of a mapping as they are offered; others are as they were."""
    return {name: {"description": about} if about else {} for name, about in ids.items()}
