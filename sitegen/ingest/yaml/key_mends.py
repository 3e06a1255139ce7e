"""Keys that are none of their mapping's: misspelt, said in another word, or in the wrong place.

In: a key with its value, the mapping and its table. Out: one finding. A word that is a key elsewhere is no slip of the
pen, and a key that stands already is not meant again.
"""

from __future__ import annotations

import re

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Edit, Mend, replacement
from sitegen.core.format import TABLES
from sitegen.core.format.fields import Table
from sitegen.core.format.other_words import key_for
from sitegen.core.format.spelling import plural_of
from sitegen.core.language.text import closest, did_you_mean
from sitegen.ingest.yaml.keys import KNOWN_KEYS
from sitegen.ingest.yaml.nodes import Mapping, Node, Scalar

# A day or a date as the key of an entry.
_WHEN = re.compile(r"(?P<day>\d{1,3}(?:-\d{1,3})?)|\d{4}-\d{2}-\d{2}")
_WITH_VALUE = re.compile(r"(?P<key>[A-Za-z_]+)\s*[\s=]\s*(?P<value>[^\s=].*)")
_MANY = 12  # keys of a table whose names are not all told
# The name of a table in findings, where it is not the key above it.
_TABLE_NAMES = {
    **{name: f"{name}.yaml" for name in ("journal", "gear", "season", "experiment")},
    **{name: f"a {name}" for name in ("system", "lamp", "product", "crop", "variety", "tub", "correction")},
    "episode": "an episode",
    "viewer_question": "a viewer's question",
    "entry": "a log entry",
    "pick": "a pick",
    "measured": "a reading",
    "deed": "a deed",
    "routine": "`from_now`",
}


def report_unknown_key(key: Scalar, value: Node, mapping: Mapping, table: Table, findings: Findings) -> None:
    """A finding for a key that is none of its table."""
    message = f"`{key.text}` is not a key of {_TABLE_NAMES.get(table.name, f'`{table.name}`')}"
    mend = _with_colon(key, value, table) or _unwrapped(key, value, mapping, table)
    key.report(
        findings, "unknown-key", message, mend or _key_mend(key, value, mapping, table), ", ".join(table.keys)
    )


def _with_colon(key: Scalar, value: Node, table: Table) -> Mend | None:
    """The mend for `day 66:`, a key with its value before the colon."""
    said = _WITH_VALUE.fullmatch(key.text)
    name = table.meant(said["key"]) if said else ""
    empty = isinstance(value, Scalar) and value.absent and not value.text
    place = key.source._replace(width=key.source.width + 1)
    behind = place.column + place.width == value.source.column and place.line == value.source.line
    if not said or not name or not empty or not behind or not key.plain:
        return None
    text = f"{name}: {said['value']}"
    return replacement(place, f"{key.text}:", text, safe=said["value"][0].isdigit())


def _unwrapped(key: Scalar, value: Node, mapping: Mapping, table: Table) -> Mend | None:
    """The mend for `light: {light: {hours: 14 h}}`, a mapping inside one of its own name."""
    if key.text != table.name or len(mapping.pairs) > 1 or not isinstance(value, Mapping):
        return None
    outer, inner, before = mapping.source, value.source, f"{{{key.text}: "
    opens, closes = inner.column - outer.column, outer.column + outer.width - inner.column - inner.width
    beside = outer.line == inner.line and opens == len(before) and closes == 1
    if not beside or not all(table.meant(pair.key.text) for pair in value):
        return None
    file, line, end = outer.file, outer.line, inner.column + inner.width
    edits = (Edit(file, line, outer.column, opens, "", before), Edit(file, line, end, 1, "", "}"))
    return Mend(edits, words=f"remove `{before}` and one `}}`")


def _key_mend(key: Scalar, value: Node, mapping: Mapping, table: Table) -> str | Mend:
    word = key.text
    if table.name == "entry" and (when := _WHEN.fullmatch(word)):
        return f"write `{'day' if when['day'] else 'date'}: {word}`, and what was done under it"
    stands = {table.meant(pair.key.text) for pair in mapping}
    free = [name for name in table.keys if name not in stands]
    near = closest(word, free)
    if near and (near.lower() == word.lower() or _is_plural(word, near, value, table)):
        return key.written(near)
    if move := _move_mend(word, table):
        return move
    if (other := key_for(word, table)) and other in free:
        return key.written(other, safe=False)
    return _spelled(key, near, free, table)


def _spelled(key: Scalar, near: str, free: list[str], table: Table) -> str | Mend:
    """The mend for a slip of the pen; a word that is a key elsewhere is none."""
    known = key.text in KNOWN_KEYS and not _same_number(key.text, near)
    if len(table.keys) > _MANY and (known or not near):
        return "remove it, or keep it as a `note`" if table.has("note") else "remove it"
    return did_you_mean("", free if len(free) > 1 else table.keys) if known else key.meant(free)


def _same_number(word: str, near: str) -> bool:
    """Whether a word is another only in its number: `photos`."""
    return bool(near) and (plural_of(word) == near or plural_of(near) == word)


def _is_plural(word: str, near: str, value: Node, table: Table) -> bool:
    """Whether a list or a mapping stands under a key in the wrong number."""
    return not isinstance(value, Scalar) and bool(table.field(near).table) and _same_number(word, near)


def _move_mend(word: str, table: Table) -> str:
    """The mend for a key of another mapping; empty where no other mapping has it."""
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
