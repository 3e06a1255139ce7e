"""Lines that are no `key: value` as they stand, and lines that begin in the wrong column.

In: the lines of a text and the number of one. Out: a `LineFault` with its place and its mend, or None. The parser has
already refused the text: what is looked for here is what an author most likely meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sitegen.core.format import TABLES
from sitegen.core.text import plural
from sitegen.ingest.line_texts import block_mend

__all__ = ["LineFault", "colon_fault", "continued_text", "indent_fault", "item_fault"]

_KEYS = frozenset(field.key for table in TABLES.values() for field in table.fields)
_TIGHT = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w-]*):(?P<value>[^\s:/].*)")
_NO_COLON = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[a-z_]+)(?:\s*[=;]\s*|\s+-?\s*)(?P<value>[^\s:].*)")
_KEY_LINE = re.compile(r"(?P<lead> *)(?P<dash>- +)?(?P<key>[\w-]+):(?=\s|$)\s*(?P<value>.*)")
# An item of the log without its `- `, or with another sign.
_ITEM = re.compile(r"(?P<lead> *)(?P<sign>[-–—*•+]?)(?P<space> *)(?P<key>day|date): *(?P<value>\S.*)")
_LOOK_BACK = 40  # lines; an entry is shorter


class LineFault(NamedTuple):
    """What is wrong with one line: where (columns from 0), what is said, what to do."""

    column: int
    width: int
    message: str
    mend: str
    found: str


def colon_fault(line: str) -> LineFault | None:
    """`harvest:2 oz` and `harvest 2 oz`."""
    if tight := _TIGHT.fullmatch(line):
        key, value = tight["key"], tight["value"].strip()
        said = f"there is no space after the colon of `{key}`"
        return LineFault(tight.end("key"), 1, said, f"write `{key}: {value}`", f"{key}:{value}"[:60])
    loose = _NO_COLON.fullmatch(line)
    if loose is None or loose["key"] not in _KEYS or ": " in line:
        return None
    key, value = loose["key"], loose["value"].strip()
    said = f"there is no colon after `{key}`"
    return LineFault(loose.start("key"), len(key), said, f"write `{key}: {value}`", line.strip()[:60])


def item_fault(line: str) -> LineFault | None:
    """`day: 20`, `-day: 20` and `* day: 20` where an entry begins."""
    item = _ITEM.fullmatch(line)
    if item is None or (item["sign"] == "-" and item["space"]):
        return None
    key = item["key"]
    said = {
        "": f"an entry begins with `- `, and this `{key}` has none",
        "-": f"there is no space between `-` and `{key}`",
    }.get(item["sign"], f"an entry begins with `- `, not with `{item['sign']}`")
    start = item.start("sign") if item["sign"] else item.start("key")
    mend = f"write `- {key}: {item['value'].strip()}`"
    return LineFault(start, len(item["sign"]) or len(key), said, mend, line.strip()[:60])


def continued_text(lines: Sequence[str], number: int) -> LineFault | None:
    """A text that goes on in a second line, which holds `: `."""
    above = _KEY_LINE.fullmatch(lines[number - 1]) if number else None
    line = lines[number]
    at = line.find(": ")
    if above is None or not above["value"] or at < 0 or _KEY_LINE.fullmatch(line):
        return None
    if _begin(line) < above.start("key"):
        return None
    said = f"the text of `{above['key']}` goes on here, and its `: ` begins a mapping"
    return LineFault(at, 1, said, block_mend(above["key"]), line.strip()[:60])


def indent_fault(lines: Sequence[str], number: int) -> LineFault | None:
    """A key, or an item of a list, that stands near a column where such begin and not in it."""
    line = _KEY_LINE.fullmatch(lines[number])
    if line is None:
        return None
    part = "dash" if line["dash"] else "key"
    above = list(_columns_above(lines, number, part))
    own = line.start(part)
    if not above or any(column == own for column, _ in above[:1]):
        return None
    column, key = min(above, key=lambda each: abs(each[0] - own))
    if column == own:
        return None
    name, below = (f"`{line['key']}`", f"`{key}`") if part == "key" else ("`- `", "the `- ` above")
    spaces = plural(column, "space") if column else "no spaces"
    return LineFault(
        own,
        len(line[part].rstrip()),
        f"{name} does not line up with {below}",
        f"write {spaces} before {name}, so that it stands under {below}",
        line["key"],
    )


def _columns_above(lines: Sequence[str], number: int, part: str) -> Iterator[tuple[int, str]]:
    """Where keys or items begin in the lines above, the nearest line first."""
    for line in reversed(lines[max(0, number - _LOOK_BACK) : number]):
        match = _KEY_LINE.fullmatch(line)
        if match and match[part]:
            yield match.start(part), match["key"]


def _begin(line: str) -> int:
    return len(line) - len(line.lstrip())
