"""What does not fit a table of the format: keys that it has not, keys that are missing or left empty.

In: the table, the key as written. Out: findings.
"""

from __future__ import annotations

from sitegen.core.fields import Field, Table
from sitegen.core.finding import Findings, Source
from sitegen.core.text import closest, did_you_mean
from sitegen.ingest.nodes import Scalar

__all__ = ["left_empty", "missing_key", "unknown_key"]


def left_empty(key: Scalar, field: Field, findings: Findings) -> None:
    """A visit's key without a value: what was seen or done would be lost without a word."""
    findings.add(
        "missing-key",
        key.source,
        f"`{key.text}` is left empty",
        mend=f"write `{key.text}: {field.example}`, or remove it",
        expected=field.about,
    )


def missing_key(field: Field, source: Source, findings: Findings) -> None:
    """A key that must be there."""
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
    if len(table.keys) > 12 and not closest(word, table.keys):
        return "remove it, or keep it as a `note`" if table.has("note") else "remove it"
    return did_you_mean(word, table.keys)
