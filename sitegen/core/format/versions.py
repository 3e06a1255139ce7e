"""The versions of the format: what each changed, so that a file of an earlier one is read and can be rewritten.

In: nothing. Out: `STEPS`. A step leads from one version to the next; a key that changed its name has its table, its old
and its new name in it. Version 0 is a file that does not say its format: its keys are those of version 1.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

OldKey = tuple[str, str]  # table, key


@dataclass(frozen=True, slots=True)
class Step:
    """From the version before to this one; `keys` are the new names of keys."""

    version: int
    keys: Mapping[OldKey, str] = field(default_factory=dict)


STEPS = (Step(1),)


def present_names(version: int, steps: Sequence[Step] = STEPS) -> Mapping[OldKey, str]:
    """The present names of the keys of a version, where they have another one."""
    found: dict[OldKey, str] = {}
    for step in steps:
        if step.version > version:
            later = {old: step.keys.get((old[0], name), name) for old, name in found.items()}
            found = {**step.keys, **later}
    return found
