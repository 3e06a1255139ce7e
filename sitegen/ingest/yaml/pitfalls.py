"""Pitfalls of YAML: texts that it reads without an error and not as written, because of a sign, a comma or a comment.

In: the parser's result and its place. Out: findings, each with the mend that keeps the text.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.findings.mend import Mend
from sitegen.ingest.yaml.line_checks import (
    CUT,
    TEXT_KEYS,
    block_mend,
    mend_of,
    quoted,
    values_on,
)
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.structure_checks import colon_fault

_PLANTS = re.compile(r"[Pp]\d+(?:-[Pp]\d+)?")
# `9,5 g`, which a comma in braces cuts; `9, 5 g` is no number.
_DECIMAL_COMMA = re.compile(
    r"(?P<whole>(?:(?:about|ca\.?|~|up to|at least) ?)?\d+),(?P<part>(?P<digits>\d+)(?: ?[^\d,].*)?)"
)


def quoted_mend(line: str, start: Source) -> str | Mend:
    """The mend for a value that begins in a line with a sign of YAML; empty where it is not that of a key."""
    text = next((text for text in values_on(line) if text.column == start.column - 1), None)
    mend = mend_of(text) if text else ""
    return mend.at(start._replace(column=1)) if isinstance(mend, Mend) else mend


def report_comma(
    source: Source,
    pieces: Sequence[str],
    key: str,
    value: Scalar | None,
    whole: Scalar | None,
    findings: Findings,
) -> None:
    """A finding for a text that commas inside braces cut into keys.

    `value` is what is left of it, and `whole` the text as it stands in the line, where it stands in one.
    """
    first = pieces[0]
    if tight := colon_fault(first):
        mend = (
            tight.mend.at(source)
            if isinstance(tight.mend, Mend) and source.width == len(first)
            else str(tight.mend)
        )
        place = source.part(tight.column, tight.width)
        findings.add("yaml-twist", place, tight.message, mend=mend, found=first)
        return
    if not key:
        message = f"`{first}` stands in braces without a value"
        mend = f"write a list, `[{', '.join(pieces)}]`, or a value after `{first}: `"
    else:
        message = f"the comma before `{first}` begins a new key here"
        mend = f"write a value after `{first}: `" if value is None else _comma_mend(key, value, whole, pieces)
    findings.add("yaml-twist", source, message, mend=mend, found=first)


def _comma_mend(key: str, value: Scalar, whole: Scalar | None, pieces: Sequence[str]) -> str | Mend:
    text, first = whole.text if whole else ", ".join([value.text, *pieces]), pieces[0]
    if whole is not None and (number := _DECIMAL_COMMA.fullmatch(text)):
        point = f"{number['whole']}.{number['part']}"
        if len(number["digits"]) != 3 or (number["whole"].endswith("0") and len(number["whole"]) == 1):
            return whole.turned_into(point, key=key)
        return f"write `{key}: {point}` or `{key}: {number['whole']}{number['part']}`"
    if whole is not None and all(_PLANTS.fullmatch(name) for name in (value.text, *pieces)):
        return whole.turned_into(f"[{', '.join([value.text, *pieces])}]", key=key)
    if key in TEXT_KEYS or " " in first:
        return whole.turned_into(quoted(text), key=key) if whole else f"write `{key}: {quoted(text)}`"
    return f"write a value after `{first}: `, or `{key}: {quoted(text)}` for one text"


def report_braces(key: str, whole: str, source: Source, findings: Findings) -> None:
    """A finding for a text that begins with a brace or a bracket, as a mapping or a list does in YAML."""
    kind = "a list" if whole.startswith("[") else "keys and values"
    message = f"in `{key}`, `{whole[0]}` begins {kind}, and `{key}` is a text"
    mend = Scalar(whole, source).turned_into(quoted(whole), key=key)
    findings.add("yaml-twist", source, message, mend=mend, found=whole)


def report_cut(key: str, value: str, after: str, source: Source, findings: Findings) -> str:
    """A finding for a text whose end YAML took for a comment, because of ` #`; returns the text as written.

    `after` is the rest of the value's last line, and `source` the place where it begins.
    """
    cut = CUT.match(after)
    if cut is None:
        return value
    offset = cut.end() - 1
    whole = f"{value}{after.rstrip()}".strip()
    mend = block_mend(key) if "\n" in value or len(whole) >= 60 else f"write `{key}: {quoted(whole)}`"
    place = source.part(offset, len(after.rstrip()) - offset)
    message = f"in `{key}`, what follows ` #` is a comment and would be lost"
    findings.add(
        "yaml-twist", place, message, mend=f"{mend}, or two spaces before a comment", found=after.strip()
    )
    return whole
