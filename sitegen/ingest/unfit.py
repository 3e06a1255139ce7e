"""What does not fit a table of the format: keys that it has not, keys that are missing or left empty.

In: the table, the key as written. Out: findings.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.core.examples import in_units
from sitegen.core.fields import Field, Table
from sitegen.core.finding import Findings, Source
from sitegen.core.format import TABLES
from sitegen.core.text import closest, did_you_mean
from sitegen.ingest.nodes import Scalar

__all__ = ["left_empty", "meant", "missing_key", "unknown_key"]

_WHEN = re.compile(
    r"(?P<day>\d{1,3}(?:-\d{1,3})?)|\d{4}-\d{2}-\d{2}"
)  # a day or a date as the key of an entry


def left_empty(key: Scalar, field: Field, findings: Findings) -> None:
    """A visit's key without a value: what was seen or done would be lost without a word."""
    findings.add(
        "missing-key",
        key.source,
        f"`{key.text}` is left empty",
        mend=f"write `{key.text}: {in_units(field.example, findings.units)}`, or remove it",
        expected=field.about,
    )


def missing_key(field: Field, source: Source, findings: Findings) -> None:
    """A key that must be there."""
    example = in_units(field.example, findings.units) or "…"
    findings.add(
        "missing-key",
        source.part(0, 1),
        f"`{field.key}` is missing: {field.about}",
        mend=f"write it, such as `{field.key}: {example}`",
        expected=field.key,
    )


def meant(key: str, strange: Sequence[str]) -> bool:
    """Whether one of the keys that a table does not have is this one misspelt: one finding is enough then."""
    return any(closest(word, (key,)) for word in strange)


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


def unknown_key(key: Scalar, table: Table, findings: Findings) -> None:
    """A key that the table does not have."""
    findings.add(
        "unknown-key",
        key.source,
        f"`{key.text}` is not a key of {_SAID.get(table.name, f'`{table.name}`')}",
        mend=_key_mend(key.text, table),
        found=key.text,
        expected=", ".join(table.keys),
    )


def _key_mend(word: str, table: Table) -> str:
    if table.name == "entry" and (when := _WHEN.fullmatch(word)):
        return f"write `{'day' if when['day'] else 'date'}: {word}`"
    near = closest(word, table.keys)
    if near and near.lower() == word.lower():
        return f"write `{near}`"
    if place := _belongs(word, table):
        return place
    if len(table.keys) > 12 and not near:
        return "remove it, or keep it as a `note`" if table.has("note") else "remove it"
    return did_you_mean(word, table.keys)


def _belongs(word: str, table: Table) -> str:
    """Where a key belongs that stands in the wrong mapping; empty where no other has it."""
    if table.name == "experiment" and TABLES["entry"].has(word):
        return "write it in an entry of `log`, with 4 spaces before it"
    under = [f.key for f in table.fields if f.table and TABLES[f.table].has(word)]
    if len(under) == 1:
        return f"write it under `{under[0]}`, with 2 spaces more before it"
    if under:
        return f"write it inside what it is about, such as `{under[0]}: {{{word}: …}}`"
    if table.name == "entry" and TABLES["experiment"].has(word):
        return "write it above `log`, without spaces before it"
    return ""
